"""No piece is longer than the unit it is to be cut out of."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import Place, at_leaf, found
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import at_most
from elevgen.coursing.model import LeafCoursing, Pattern
from elevgen.result import Design, Finding

CODE = "piece-maximum"
TITLE = "Greatest length of pieces"
RATIONALE = "A piece longer than its unit cannot be made: the course has to be set out with one perpend more."


def check(design: Design) -> Iterator[Finding]:
    """The longest piece of each leaf, what is hidden in a return included, against its unit. One finding a leaf.

    What a unit holds is no rule of a document, so the finding has no limit with a source: its text says the unit's length.
    """
    lengths = {unit.name: unit.length for unit in design.building.units}
    longest = {pattern.id: _longest(pattern) for pattern in design.coursing.patterns}
    limits = {pattern.id: lengths[pattern.unit] for pattern in design.coursing.patterns}
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    for laid in design.coursing.leaves:
        yield _judged(design.figures, at_leaf(leaves[laid.leaf]), laid, longest, limits)


def _longest(pattern: Pattern) -> float:
    return max((pattern.real(i) for i, piece in enumerate(pattern.pieces) if piece.kind != "return"), default=0.0)


def _judged(figures: Figures, place: Place, laid: LeafCoursing, longest: dict[str, float], limits: dict[str, float]) -> Finding:
    over = [p for p in laid.placements if not at_most(longest[p.pattern], limits[p.pattern])]
    if not over:
        return found("pass", place, "no piece is longer than its unit")
    worst = max(over, key=lambda p: longest[p.pattern] - limits[p.pattern])
    length, limit = longest[worst.pattern], limits[worst.pattern]
    where = f"{counted(len(over), 'stretch', 'stretches')} of course, the worst in course {worst.course}"
    text = f"cannot be made: a piece of {figures.measure(length)} out of a unit of {figures.measure(limit)}, in {where}"
    return found("warn", place, text, measured=length)
