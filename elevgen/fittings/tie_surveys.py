"""Ties the spec lists: what stands in the wall, kept where it is, and called by what it is near."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from elevgen.building.model import Wall
from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.coursing.faces import touches
from elevgen.fittings.model import Tie, TieKind
from elevgen.fittings.tie_bays import Cavity, strongest
from elevgen.fittings.tie_rows import Row
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure


def surveyed(wall: Wall, cavity: Cavity, rows: Sequence[Row], reader: RuleReader) -> tuple[list[Tie], Collection[float]]:
    """The listed ties by level and then along the wall, and the levels of those that lie in a bed of both leaves.

    A tie within `tie.edge.distance` of a movement joint or a reveal at its level is called by it, any other one of the field.
    """
    reach = figure(reader, "tie.edge.distance") or 0.0
    off = (figure(reader, "tie.beds.tolerance") or 0.0) / 2
    in_both = [Span(row.level - off, row.level + off) for row in rows if row.shared]
    ties = [Tie(tie.at, tie.level, _kind(cavity, tie.at, tie.level, reach), given=True) for tie in wall.ties.parts]
    shared = {tie.level for tie in ties if any(bed.contains(tie.level) for bed in in_both)}
    return sorted(ties, key=lambda tie: (tie.level, tie.at)), shared


def _kind(cavity: Cavity, at: float, level: float, reach: float) -> TieKind:
    near = set(_near(cavity, at, level, reach))
    return strongest(near) if near else "field"


def _near(cavity: Cavity, at: float, level: float, reach: float) -> Iterable[TieKind]:
    here = Span(level, level).grown(TOLERANCE)
    for joint in cavity.joints:
        if joint.levels.contains(level) and _beside(joint.gap, at, reach):
            yield "joint"
    for leaf in (cavity.outer, cavity.inner):
        if any(touches(void, here) and _beside(void.along, at, reach) for void in leaf.voids):
            yield "reveal"


def _beside(span: Span, at: float, reach: float) -> bool:
    return at_most(max(span.start - at, at - span.end), reach)
