"""Where the lintels of a building lie: worked out once, before anything is laid, for whoever lays round them or fits them.

Levels and positions in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevgen.building.demand import LintelDemand, given_in, lintel_demands
from elevgen.building.given import GivenLintel
from elevgen.building.model import Building, Leaf, Wall
from elevgen.core.geometry import Span, at_most, merge
from elevgen.coursing.lintel_spans import Shared, bearings, course_at, share
from elevgen.coursing.model import LintelSeat
from elevgen.joints.model import JointPlan, MovementJoint
from elevgen.rules.book import RuleReader


def seats_of(building: Building, plan: JointPlan, reader: RuleReader) -> tuple[LintelSeat, ...]:
    """Every lintel's seat, wall by wall, leaf by leaf, from the leaf's start.

    Those the spec lists lie where it says. Others are placed over heads that none of those is for, where the wall has any placed
    and a rule says how they bear.
    """
    demands: dict[str, list[LintelDemand]] = {}
    for demand in lintel_demands(building, reader):
        demands.setdefault(demand.leaf, []).append(demand)
    return tuple(
        seat
        for wall in building.walls
        for leaf in building.leaves_of(wall.id)
        for seat in sorted(
            _on_leaf(wall, leaf, demands.get(leaf.id, []), plan.on_leaf(leaf.id), reader),
            key=lambda s: (s.clear.start, s.level, s.along),
        )
    )


def _on_leaf(
    wall: Wall, leaf: Leaf, demands: Sequence[LintelDemand], joints: Sequence[MovementJoint], reader: RuleReader
) -> Iterator[LintelSeat]:
    given = [_listed(number, part, wall, leaf, demands) for number, part in given_in(wall, leaf)]
    yield from given
    if not wall.lintels.placing:
        return
    left = [d for d in demands if not any(_serves(seat, d, leaf) for seat in given)]
    for group in share(leaf, left, joints, reader):
        taken = [seat.along for seat in given if at_most(abs(seat.level - group.level), course_at(leaf, group.level))]
        start, end = bearings(leaf, group, joints, taken, reader)
        yield LintelSeat(
            wall=leaf.wall,
            leaf=leaf.id,
            openings=_over(group.demands),
            level=group.level,
            clears=group.clears,
            along=Span(group.clear.start - start, group.clear.end + end),
            kind=leaf.lintel_kind,
            depth=leaf.lintel_depth,
            basis=_basis(group, reader),
        )


def _listed(number: int, part: GivenLintel, wall: Wall, leaf: Leaf, demands: Sequence[LintelDemand]) -> LintelSeat:
    """A lintel as the spec has it: at the head of its openings, over every hole it spans there."""
    openings = [o for o in sorted(wall.openings, key=lambda o: (o.rect, o.id)) if o.id in part.over]
    named = [d for d in demands if set(d.behind) & set(part.over)]
    level = max((d.level for d in named), default=max(o.rect.top for o in openings))
    spanned = [d for d in demands if d in named or _carries(part.span, level, d, leaf)]
    clears = merge(d.clear for d in spanned) or merge(o.rect.along.common(leaf.span) or o.rect.along for o in openings)
    own = part.depth is None and part.kind in (None, leaf.lintel_kind)
    return LintelSeat(
        wall=leaf.wall,
        leaf=leaf.id,
        openings=tuple(o.id for o in openings),
        level=level,
        clears=clears,
        along=part.span,
        kind=part.kind or leaf.lintel_kind,
        depth=leaf.lintel_depth if own else part.depth,
        given=number,
    )


def _serves(seat: LintelSeat, demand: LintelDemand, leaf: Leaf) -> bool:
    """Whether a lintel the spec lists is the one over a head: it is said to be, or it lies over all of it."""
    return bool(set(seat.openings) & set(demand.behind)) or _carries(seat.along, seat.level, demand, leaf)


def _carries(along: Span, level: float, demand: LintelDemand, leaf: Leaf) -> bool:
    """Whether a lintel lies over all of a head, no more than a course up."""
    near = at_most(demand.level, level) and at_most(level - demand.level, course_at(leaf, demand.level))
    return near and along.contains(demand.clear.start) and along.contains(demand.clear.end)


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
