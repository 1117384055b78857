"""No cut piece within the wall is smaller than the least that bonds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from elevgen.building.model import Leaf, Unit
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._inset import inset_words
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.core.sourced import Sourced
from elevgen.coursing.model import LeafCoursing, Pattern
from elevgen.result import Design, Finding

CODE = "piece-minimum"
TITLE = "Least length of cut pieces"
RATIONALE = "A sliver breaks in cutting, does not bond, and brings two perpends almost into line."
KEY = "bond.piece.min_fraction"


def check(design: Design) -> Iterator[Finding]:
    """The shortest cut piece of each leaf against the rule set's part of a unit and its joint, less one joint.

    A piece that ends in a return counts at its full length; a closer beside the piece at an end is what its bond asks for
    (bricklaying textbook, quoted). One finding a leaf.
    """
    least = rule(design, KEY)
    if least is None:
        yield uncovered(design, BUILDING, KEY)
        return
    units = {unit.name: unit for unit in design.building.units}
    unit_of = {p.id: units[p.unit] for p in design.coursing.patterns}
    shortest = {p.id: s for p in design.coursing.patterns if (s := _shortest(p, unit_of[p.id])) is not None}
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    for laid in design.coursing.leaves:
        yield _judged(design, leaves[laid.leaf], laid, shortest, unit_of, least)


def _shortest(pattern: Pattern, unit: Unit) -> float | None:
    """The shortest cut piece of a pattern, what is hidden in a return included; closers second from an end left out."""
    last = len(pattern.pieces) - 1
    begun = pattern.hidden[0] > 0 or any(perpend.at <= TOLERANCE for perpend in pattern.perpends)
    ended = pattern.hidden[1] > 0 or any(perpend.at + perpend.width >= pattern.length - TOLERANCE for perpend in pattern.perpends)
    second = {1, last - 1, *([0] if begun else []), *([last] if ended else [])}
    cut = []
    for i, piece in enumerate(pattern.pieces):
        real = pattern.real(i)
        if piece.kind == "cut" and not (piece.laid == "closer" and i in second and _as_closer(real, unit)):
            cut.append(real)
    return min(cut, default=None)


def _as_closer(length: float, unit: Unit) -> bool:
    """Half a header, by its real or its bond's width, or a third of a unit, each less its part of the perpends."""
    half = (unit.length - unit.joint) / 2
    closers = (unit.width - unit.joint) / 2, (half - unit.joint) / 2, (unit.length - 2 * unit.joint) / 3
    return any(abs(length - closer) <= TOLERANCE for closer in closers)


def _judged(
    design: Design, leaf: Leaf, laid: LeafCoursing, shortest: dict[str, float], unit_of: dict[str, Unit], least: Sourced
) -> Finding:
    figures, place = design.figures, at_leaf(leaf)
    uses = Counter(p.pattern for p in laid.placements)
    short = {
        pattern: (shortest[pattern], limit)
        for pattern in uses
        if pattern in shortest and not at_least(shortest[pattern], limit := _limit(unit_of[pattern], least))
    }
    if not short:
        cut = min((shortest[p] for p in uses if p in shortest), default=None)
        text = "no cut pieces" if cut is None else f"shortest cut piece {figures.measure(cut)}"
        return found("pass", place, text, measured=cut, source=least)
    length, limit = min(short.values())
    first = min((p for p in laid.placements if p.pattern in short), key=lambda p: shortest[p.pattern])
    times = sum(uses[p] for p in short)
    stretches = counted(times, "stretch", "stretches")
    text = f"pieces down to {figures.measure(length)} in {stretches} of course, the first in course {first.course}"
    if inset := inset_words(design, leaf):
        text += f"; {inset}, so openings and joints that suit the outer leaf are cut in it"
    return found("warn", place, text, measured=length, least=limit, source=least)


def _limit(unit: Unit, least: Sourced) -> float:
    """A half is half a unit and its joint, less a joint: 102.5 mm for a 215 mm brick."""
    return least.number * unit.module - unit.joint
