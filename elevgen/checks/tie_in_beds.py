"""Every wall tie lies in a bed joint of both leaves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from elevgen.building.model import Leaf
from elevgen.checks._beds import leaf_beds
from elevgen.checks._cavities import Cavity, cavities
from elevgen.checks._finding import at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._tie_beds import lies_in
from elevgen.checks._words import counted, listed
from elevgen.core.figures import Figures
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding

CODE = "tie-in-beds"
TITLE = "Wall ties in the beds of both leaves"
RATIONALE = "A tie cannot be built into the middle of a unit; where the leaves' beds do not meet it is bent or left out."
KEY = "tie.beds.tolerance"
FEW = 6
"""So many levels are told one by one."""


def check(design: Design) -> Iterator[Finding]:
    """Each level with ties against the beds of both leaves, and each tie against masonry there."""
    tolerance = rule(design, KEY)
    for cavity in cavities(design):
        if tolerance is None:
            yield uncovered(design, at_wall(cavity.wall), KEY)
        elif cavity.ties:
            yield _judged(design, cavity, tolerance)


def _judged(design: Design, cavity: Cavity, tolerance: Sourced) -> Finding:
    place = at_wall(cavity.wall)
    beds = {leaf: leaf_beds(design, leaf) for leaf in (cavity.outer, cavity.inner)}
    off: dict[float, tuple[Leaf, ...]] = {}
    number = loose = 0
    for at, row in cavity.rows():
        without = tuple(leaf for leaf, of_leaf in beds.items() if not lies_in(of_leaf, at, tolerance.number))
        if without:
            off[at] = without
            number += len(row)
        solid = cavity.solid(at)
        loose += sum(1 for tie in row if not any(span.contains(tie.at) for span in solid))
    if loose:
        text = f"{counted(loose, 'tie')} in an opening, a joint, a lintel or past the masonry"
        return found("fail", place, text, measured=float(loose), most=0.0, unit="nr")
    if off:
        text = f"{number} of {counted(len(cavity.ties), 'tie')} not in a bed of both leaves: change a level or a unit; "
        text += _where(design.figures, off)
        return found("warn", place, text, measured=float(number), most=0.0, unit="nr", source=tolerance)
    text = f"{counted(len(cavity.ties), 'tie')}, each in a bed of both leaves"
    return found("pass", place, text, measured=0.0, most=0.0, unit="nr", source=tolerance)


def _where(figures: Figures, off: Mapping[float, tuple[Leaf, ...]]) -> str:
    """`no bed of the inner leaf at +0.455, +0.905`: the levels of the rows that lie in no bed of a leaf."""
    by_side: dict[str, list[float]] = {}
    for at, leaves in sorted(off.items()):
        for leaf in leaves:
            by_side.setdefault(leaf.side, []).append(at)
    return ", ".join(f"no bed of the {side} leaf at {_levels(figures, rows)}" for side, rows in sorted(by_side.items()))


def _levels(figures: Figures, rows: Sequence[float]) -> str:
    """All of a few levels; of many the first and the last."""
    if len(rows) <= FEW:
        return listed([figures.level(at) for at in rows])
    return f"{len(rows)} levels from {figures.level(rows[0])} to {figures.level(rows[-1])}"
