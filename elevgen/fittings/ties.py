"""Wall ties: the staggered field grid, and the extra ones at reveals, movement joints, free ends and verges."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from elevgen.building.model import Leaf, LeafEnd, Wall
from elevgen.core.geometry import TOLERANCE, Span, at_most, merge, subtract
from elevgen.fittings.beds import Bed, gaps_at, standing, touches
from elevgen.fittings.figures import banded, covered, figure
from elevgen.fittings.model import Tie, TieKind, WallTies
from elevgen.fittings.tie_rows import Row, close_up, largest_gap, spread, tie_rows
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader

CLEAR = 20.0
"""No tie stands nearer than this to a reveal, a movement joint or the end of a leaf."""

APART = 100.0
"""No two ties in one bed stand nearer than this."""

_KEYS = (
    "tie.spacing.horizontal",
    "tie.spacing.vertical",
    "tie.edge.distance",
    "tie.edge.vertical",
    "tie.verge.horizontal",
    "tie.verge.vertical",
    "tie.beds.tolerance",
    "tie.length",
)

Kinds = dict[float, TieKind]
"""The ties of one row: their kind by where they stand."""


class Bay(NamedTuple):
    """A stretch of a row with masonry in both leaves; `before` and `after` say which edge needs a tie, and of what kind.

    `back_before` and `back_after` are how far behind that edge another one stands that the same tie must serve.
    """

    span: Span
    before: TieKind | None
    after: TieKind | None
    back_before: float = 0.0
    back_after: float = 0.0


class Hole(NamedTuple):
    """Openings and joint gaps of either leaf with no room for a tie between them, as one: their edges and kinds."""

    span: Span
    parts: tuple[tuple[Span, TieKind], ...]

    def left_edge(self, reach: float) -> tuple[TieKind, float]:
        """Kind of the edge ties to its left serve, and how far behind it the last edge within `reach` stands."""
        served = [
            (span.start, kind) for span, kind in self.parts if at_most(span.start - self.span.start, max(reach - CLEAR, 0.0))
        ]
        return _strongest(kind for _, kind in served), max(at for at, _ in served) - self.span.start

    def right_edge(self, reach: float) -> tuple[TieKind, float]:
        """The same of its right edge."""
        served = [(span.end, kind) for span, kind in self.parts if at_most(self.span.end - span.end, max(reach - CLEAR, 0.0))]
        return _strongest(kind for _, kind in served), self.span.end - min(at for at, _ in served)


class Cavity(NamedTuple):
    """The two leaves of a wall and their beds, with all movement joints of either; ties stand over `span`, between `levels`."""

    outer: Leaf
    inner: Leaf
    outer_beds: tuple[Bed, ...]
    inner_beds: tuple[Bed, ...]
    joints: tuple[MovementJoint, ...]

    @property
    def span(self) -> Span:
        return Span(max(self.outer.span.start, self.inner.span.start), min(self.outer.span.end, self.inner.span.end))

    @property
    def levels(self) -> Span:
        """From the higher of the two lowest beds to the lower of the two tops."""
        lowest = [leaf_beds[0].under for leaf_beds in (self.outer_beds, self.inner_beds) if leaf_beds]
        return Span(
            max((course.level - course.bed / 2 for course in lowest), default=self.outer.base.lowest(self.outer.span)),
            min(leaf.top.highest(leaf.span) for leaf in (self.outer, self.inner)),
        )


def cavity_ties(wall: Wall, cavity: Cavity, reader: RuleReader) -> WallTies | None:
    """Every tie between the two leaves of a wall, by level and then along it; None where the rule set has no spacing.

    Spacing in the field and at edges and verges: NHBC 6.1.18 Table 10. A tie lies in a bed of both leaves; where
    none meet within the spacing, in the outer leaf's, and `beds_meet` says so.
    """
    across, up = figure(reader, "tie.spacing.horizontal"), figure(reader, "tie.spacing.vertical")
    if across is None or up is None:
        return None
    rows = tie_rows(cavity.outer_beds, cavity.inner_beds, figure(reader, "tie.beds.tolerance") or 0.0)
    field = spread(rows, cavity.levels, up)
    close, reach = figure(reader, "tie.edge.vertical"), figure(reader, "tie.edge.distance")
    edge = field if close is None or reach is None else close_up(field, rows, cavity.levels, close)
    odd, even = columns(cavity.span, across)
    grid = {row.level: even if number % 2 else odd for number, row in enumerate(field)}
    placed = {row.level: _row(tuple(_bays(cavity, row, reach or 0.0)), grid.get(row.level, ()), reach) for row in edge}
    _verges(cavity, rows, placed, across, reader)
    return WallTies(
        wall=wall.id,
        ties=tuple(Tie(at, level, kinds[at]) for level, kinds in sorted(placed.items()) for at in sorted(kinds)),
        length=None if wall.cavity is None else banded(reader, "tie.length", wall.cavity),
        beds_meet=all(row.shared for row in edge) and at_most(largest_gap(field, cavity.levels), up),
        basis=covered(reader, *_KEYS),
    )


def columns(span: Span, spacing: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Where the ties of every other row stand, and those of the rows between, half a spacing on.

    An odd number of half spacings fills the span, so that the grid is the same from either end.
    """
    count = _half_spacings(span, spacing)
    half = span.length / count
    at = tuple(span.start + (k + 0.5) * half for k in range(count))
    return (at[::2], at[1::2]) if count > 1 else (at, at)


def _half_spacings(span: Span, spacing: float) -> int:
    count = max(ceil((span.length - TOLERANCE) / (spacing / 2)), 1)
    return count + 1 - count % 2


def _bays(cavity: Cavity, row: Row, reach: float) -> Iterator[Bay]:
    """The stretches of a row where both leaves have masonry under and over their bed."""
    before, after = _free_edges(cavity)
    starts: dict[float, tuple[TieKind, float]] = {cavity.span.start: ("reveal", 0.0)} if before else {}
    ends: dict[float, tuple[TieKind, float]] = {cavity.span.end: ("reveal", 0.0)} if after else {}
    holes = _holes(cavity, row)
    for hole in holes:
        ends[hole.span.start] = hole.left_edge(reach)
        starts[hole.span.end] = hole.right_edge(reach)
    for outer in standing(cavity.outer, row.outer):
        for inner in standing(cavity.inner, row.inner):
            both = outer.common(inner)
            for left in subtract(both, [hole.span for hole in holes]) if both else ():
                kind_before, back_before = starts.get(left.start, (None, 0.0))
                kind_after, back_after = ends.get(left.end, (None, 0.0))
                yield Bay(left, kind_before, kind_after, back_before, back_after)


def _holes(cavity: Cavity, row: Row) -> tuple[Hole, ...]:
    """Openings and joint gaps along a row; those too near one another for a tie between them made one."""
    parts: list[tuple[Span, TieKind]] = [(gap, "joint") for gap in gaps_at(cavity.joints, row.outer)]
    for leaf, levels in ((cavity.outer, row.outer), (cavity.inner, row.inner)):
        parts += [(void.along, "reveal") for void in leaf.voids if touches(void, levels)]
    together = merge((span for span, _ in parts), gap=2 * CLEAR)
    return tuple(Hole(whole, tuple(part for part in sorted(parts) if whole.contains(part[0].middle))) for whole in together)


def _free_edges(cavity: Cavity) -> tuple[bool, bool]:
    """Whether either leaf simply ends, tied or bonded to nothing, at its start and at its end (PD 6697, unbonded edges)."""

    def free(end: LeafEnd) -> bool:
        return end.kind == "stopped" or end.connection in ("jointed", "free")

    return (
        free(cavity.outer.start_end) or free(cavity.inner.start_end),
        free(cavity.outer.finish_end) or free(cavity.inner.finish_end),
    )


def _row(bays: Sequence[Bay], columns: Sequence[float], reach: float | None) -> Kinds:
    """One row: the field ties that stand in masonry, and one within `reach` of every edge that needs it."""
    kinds: Kinds = {}
    for bay in bays:
        room = bay.span.grown(-CLEAR)
        if room.length < 0:
            continue
        pier = reach is not None and bay.before and bay.after and at_most(bay.span.length, 2 * reach - _back(bay))
        inside = [at for at in columns if room.contains(at) and not pier]
        kinds.update((at, "field") for at in inside)
        if reach is not None:
            kinds.update(_edge_ties(bay, inside, reach))
    return kinds


def _back(bay: Bay) -> float:
    return bay.back_before + bay.back_after


def _edge_ties(bay: Bay, inside: Sequence[float], reach: float) -> Iterator[tuple[float, TieKind]]:
    """The ties at a bay's edges: a field tie near enough counts as one, else one is added clear of the field ties."""
    span = bay.span
    to_start, to_end = reach - bay.back_before, reach - bay.back_after
    if bay.before and bay.after and not inside:
        if at_most(span.length, to_start + to_end) and at_most(span.length / 2, min(to_start, to_end)):
            yield span.middle, _strongest((bay.before, bay.after))
            return
        apart = max((span.length - APART) / 2, CLEAR)
        yield span.start + min(to_start, apart), bay.before
        yield span.end - min(to_end, apart), bay.after
        return
    first = inside[0] if inside and at_most(inside[0] - span.start, to_start) else None
    last = inside[-1] if inside and at_most(span.end - inside[-1], to_end) else None
    if bay.before and bay.after and first is not None and first == last:
        yield first, _strongest((bay.before, bay.after))
        return
    if bay.before:
        off = min(to_start, span.length / 2)
        clear = inside[0] - span.start - APART if inside else off
        yield first if first is not None else span.start + max(CLEAR, min(off, clear)), bay.before
    if bay.after:
        off = min(to_end, span.length / 2)
        clear = span.end - inside[-1] - APART if inside else off
        yield last if last is not None else span.end - max(CLEAR, min(off, clear)), bay.after


def _strongest(kinds: Iterable[TieKind]) -> TieKind:
    """Of the kinds one tie serves, the one it is called by."""
    several = set(kinds)
    return "joint" if "joint" in several else min(several)


def _verges(cavity: Cavity, rows: Sequence[Row], placed: dict[float, Kinds], across: float, reader: RuleReader) -> None:
    """Add ties under sloping tops: along them at the verge spacing, each in the highest row that has masonry round it."""
    along, deep = figure(reader, "tie.verge.horizontal"), figure(reader, "tie.verge.vertical")
    if along is None or deep is None:
        return
    bays: dict[float, tuple[Bay, ...]] = {}
    for at, top in _verge_columns(cavity, across, along, deep):
        near = [row for row in rows if row.level < top and at_most(top - row.level, deep)]
        if _marked(placed, near, at):
            continue
        for row in sorted(near, key=lambda row: (row.shared, row.level), reverse=True):
            if row.level not in bays:
                bays[row.level] = tuple(_bays(cavity, row, 0.0))
            if any(bay.span.grown(-CLEAR).contains(at) for bay in bays[row.level]):
                placed.setdefault(row.level, {})[at] = "verge"
                break


def _verge_columns(cavity: Cavity, across: float, along: float, deep: float) -> Iterator[tuple[float, float]]:
    """Where ties stand along sloping tops, and the level of the top there: on the field grid, divided as the slope asks."""
    span = cavity.span
    half = span.length / _half_spacings(span, across)
    for (start, low), (end, high) in pairwise(cavity.outer.top.clipped(span)):
        if end - start <= TOLERANCE or abs(high - low) <= TOLERANCE:
            continue
        step = min(along, deep * (end - start) / abs(high - low))
        parts = 2 * ceil((half - TOLERANCE) / step / 2)
        first, last = ceil((start - span.start) / half * parts), int((end - span.start) / half * parts)
        for k in range(first, last + 1):
            at = span.start + k * half / parts
            yield at, min(leaf.top.level_right_of(at) for leaf in (cavity.outer, cavity.inner))


def _marked(placed: Mapping[float, Kinds], near: Sequence[Row], at: float) -> bool:
    """True, and the tie marked, where one already stands in this column near enough to the verge."""
    for row in reversed(near):
        kinds = placed.get(row.level, {})
        there = next((known for known in sorted(kinds) if abs(known - at) < APART - TOLERANCE), None)
        if there is not None:
            kinds[there] = "verge" if kinds[there] == "field" else kinds[there]
            return True
    return False
