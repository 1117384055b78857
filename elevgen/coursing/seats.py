"""Where the lintels of a building lie: worked out once, before anything is laid, for whoever lays round them or fits them.

Levels and positions in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevgen.building.demand import LintelDemand, lintel_demands
from elevgen.building.model import Building, Leaf
from elevgen.core.geometry import Span
from elevgen.coursing.lintel_spans import Shared, bearings, share
from elevgen.coursing.model import LintelSeat
from elevgen.joints.model import JointPlan, MovementJoint
from elevgen.rules.book import RuleReader


def seats_of(building: Building, plan: JointPlan, reader: RuleReader) -> tuple[LintelSeat, ...]:
    """Every lintel's seat, wall by wall, leaf by leaf, from the leaf's start; none where no rule says how they bear."""
    if not reader.book.has("lintel.bearing.short_span"):
        return ()
    demands: dict[str, list[LintelDemand]] = {}
    for demand in lintel_demands(building, reader):
        demands.setdefault(demand.leaf, []).append(demand)
    return tuple(
        seat
        for wall in building.walls
        for leaf in building.leaves_of(wall.id)
        for seat in sorted(
            _on_leaf(leaf, demands.get(leaf.id, ()), plan.on_leaf(leaf.id), reader), key=lambda s: (s.clear.start, s.level)
        )
    )


def _on_leaf(
    leaf: Leaf, demands: Sequence[LintelDemand], joints: Sequence[MovementJoint], reader: RuleReader
) -> Iterator[LintelSeat]:
    for group in share(leaf, demands, joints, reader):
        start, end = bearings(leaf, group, joints, reader)
        yield LintelSeat(
            wall=leaf.wall,
            leaf=leaf.id,
            openings=_over(group.demands),
            level=group.level,
            clears=group.clears,
            along=Span(group.clear.start - start, group.clear.end + end),
            basis=_basis(group, reader),
        )


def _over(demands: Sequence[LintelDemand]) -> tuple[str, ...]:
    """The openings under a lintel, from the wall's start."""
    return tuple(dict.fromkeys(name for d in sorted(demands, key=lambda d: (d.clear, d.level)) for name in d.behind))


def _basis(group: Shared, reader: RuleReader) -> tuple[str, ...]:
    keys = {key for demand in group.demands for key in demand.basis} | {"lintel.length_step"}
    if len(group.demands) > 1:
        keys.add("opening.pier.min")
    if len(group.clears) < len(group.demands):
        keys.add("lintel.bearing.long")
    return tuple(key for key in sorted(keys) if reader.find(key) is not None)
