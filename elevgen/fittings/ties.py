"""Wall ties: the staggered field grid, as dense as the rules ask, and the extra ones at edges and verges."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from elevgen.building.model import Wall
from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.fittings.model import Tie, WallTies
from elevgen.fittings.tie_bays import KEPT, Bay, Cavity, Room, bays
from elevgen.fittings.tie_edges import Kinds, row_ties
from elevgen.fittings.tie_lengths import tie_length
from elevgen.fittings.tie_lintels import Edges, moved
from elevgen.fittings.tie_panels import panels, parts, thinnest, whole
from elevgen.fittings.tie_reasons import basis, reasons
from elevgen.fittings.tie_rows import Row, beside_wide_gaps, close_up, largest_gap, one_more, spread, tie_rows
from elevgen.fittings.tie_surveys import surveyed
from elevgen.fittings.tie_tops import Under, add_edge_tops, add_top_ties
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

MOST = 6
"""So many rows and columns are added to the field grid in every mix to make it dense enough; beyond, columns to a few fields."""


class _Limits(NamedTuple):
    """What the rule set asks; None where it is silent."""

    across: float
    up: float
    density: float | None
    reach: float | None
    close: float | None
    verge: Under
    top: Under


class _Laid(NamedTuple):
    """The rows used and the ties in each; `thinnest` is the least number to the square metre of wall or panel."""

    rows: tuple[Row, ...]
    placed: dict[float, Kinds]
    thinnest: float

    @property
    def number(self) -> int:
        return sum(map(len, self.placed.values()))


def cavity_ties(wall: Wall, cavity: Cavity, reader: RuleReader) -> WallTies | None:
    """Every tie between the two leaves of a wall, by level and then along it; None where the rule set has no spacing.

    Spacing in the field and at edges and verges: NHBC 6.1.18 Table 10. A tie lies in a bed of both leaves; where
    none meet within the spacing, in the outer leaf's, and `beds_meet` says so. Where beds only meet further apart than
    edges ask for, ties stand in pairs in the beds that do (NHBC TG 6.1/31, 6.1/32). Where the grid leaves fewer ties to
    the square metre than `tie.density`, it takes another row or column. Ties the spec lists are kept, and none added.
    """
    cavity = cavity._replace(keep=_kept(reader))
    rows = tie_rows(cavity.outer_beds, cavity.inner_beds, figure(reader, "tie.beds.tolerance") or 0.0)
    if not wall.ties.placing:
        return _told(wall, cavity, surveyed(wall, cavity, rows, reader), reader, given=True)
    limits = _limits(wall, reader)
    if limits is None:
        return None
    in_hand = _Wall(cavity, rows, limits)
    field = in_hand.field()
    laid = in_hand.dense_enough(field)
    ties = [Tie(at, level, kinds[at]) for level, kinds in sorted(laid.placed.items()) for at in sorted(kinds)]
    told = _told(wall, cavity, (ties, {row.level for row in rows if row.shared}), reader, given=False)
    meet = not told.apart and all(row.shared for row in laid.rows) and at_most(largest_gap(field, cavity.levels), limits.up)
    return replace(told, beds_meet=meet)


def _told(
    wall: Wall, cavity: Cavity, placed: tuple[Sequence[Tie], Collection[float]], reader: RuleReader, *, given: bool
) -> WallTies:
    """The ties with what is known of them; `placed`: the ties, and the levels of those that lie in a bed of both leaves."""
    ties, shared = placed
    apart = tuple(sorted({tie.level for tie in ties} - set(shared)))
    return WallTies(
        wall=wall.id,
        ties=tuple(ties),
        length=tie_length(wall, reader),
        beds_meet=not apart,
        basis=basis(wall, reader),
        panels=panels((tie.at for tie in ties), parts(cavity)),
        required=figure(reader, "tie.density"),
        apart=apart,
        reasons=reasons(wall, cavity, {tie.kind for tie in ties}, reader),
        given=given,
    )


def _level_on_top(cavity: Cavity) -> bool:
    """Whether the wall is highest along a stretch, not at a point."""
    tops = cavity.outer.top.clipped(cavity.span)
    highest = max(level for _, level in tops)
    return any(b - a > TOLERANCE and min(low, high) >= highest - TOLERANCE for (a, low), (b, high) in pairwise(tops))


def _limits(wall: Wall, reader: RuleReader) -> _Limits | None:
    """What the rules ask of a wall; None where they have no spacing."""
    across, up = figure(reader, "tie.spacing.horizontal"), figure(reader, "tie.spacing.vertical")
    if across is None or up is None:
        return None
    free = wall.stands != "building"
    return _Limits(
        across=across,
        up=up,
        density=figure(reader, "tie.density"),
        reach=figure(reader, "tie.edge.distance"),
        close=figure(reader, "tie.edge.vertical"),
        verge=Under(figure(reader, "tie.verge.horizontal"), figure(reader, "tie.verge.vertical")),
        top=Under(
            figure(reader, "tie.free_top.horizontal") if free else across,
            figure(reader, "tie.free_top.distance" if free else "tie.top.vertical"),
        ),
    )


def _kept(reader: RuleReader) -> Room:
    clear, apart = figure(reader, "tie.edge.clear"), figure(reader, "tie.apart")
    return Room(KEPT.clear if clear is None else clear, KEPT.apart if apart is None else apart)


def columns(span: Span, spacing: float, more: int = 0) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Where the ties of every other row stand, and those of the rows between, half a spacing on.

    An odd number of half spacings fills the span, so that the grid is the same from either end; `more` columns than
    the spacing asks for.
    """
    count = _half_spacings(span, spacing, more)
    half = span.length / count
    at = tuple(span.start + (k + 0.5) * half for k in range(count))
    return (at[::2], at[1::2]) if count > 1 else (at, at)


def _half_spacings(span: Span, spacing: float, more: int) -> int:
    count = max(ceil((span.length - TOLERANCE) / (spacing / 2)), 1)
    return count + 1 - count % 2 + 2 * more


class _Wall:
    """The wall in hand while its grid is tried: the bays of a row are worked out once."""

    def __init__(self, cavity: Cavity, rows: Sequence[Row], limits: _Limits) -> None:
        self.cavity, self.rows, self.limits = cavity, rows, limits
        self.parts = (*whole(cavity), *parts(cavity))
        self._bays: dict[Row, tuple[Bay, ...]] = {}

    def bays(self, row: Row) -> tuple[Bay, ...]:
        if row not in self._bays:
            self._bays[row] = tuple(bays(self.cavity, row, self.limits.reach or 0.0))
        return self._bays[row]

    def length(self, row: Row) -> float:
        """How much masonry there is along a row."""
        return round(sum(bay.span.length for bay in self.bays(row)), 3)

    def field(self) -> tuple[Row, ...]:
        """As few rows as the spacing up the wall asks for; under a peak none so short that no column of the grid stands in it."""
        levels, up = self.cavity.levels, self.limits.up
        last = self.limits.top.deep if _level_on_top(self.cavity) else None
        found = chosen = spread(self.rows, levels, up, last)
        grid = columns(self.cavity.span, self.limits.across)
        rows = self.rows
        while chosen and not self._holds(chosen[-1], grid[(len(chosen) - 1) % 2]):
            rows = [row for row in rows if row.level < chosen[-1].level]
            chosen = spread(rows, levels, up, last)
        return chosen if at_most(largest_gap(chosen, levels), max(up, largest_gap(found, levels))) else found

    def _holds(self, row: Row, columns_of_it: Sequence[float]) -> bool:
        whole = bays(self.cavity._replace(bodies=()), row, 0.0)
        rooms = [bay.span.grown(-self.cavity.keep.clear) for bay in whole]
        return any(room.contains(at) for room in rooms for at in columns_of_it)

    def dense_enough(self, field: tuple[Row, ...]) -> _Laid:
        """The field as it is spaced, or with the fewest rows and columns more that make it dense enough; else the densest."""
        fields = [field]
        tried: list[_Laid] = []
        for added in range(MOST + 1):
            if added and (denser := one_more(fields[-1], self.rows, self.cavity.levels, self.length)):
                fields.append(denser)
            trials = [self.laid(chosen, added - more_rows) for more_rows, chosen in enumerate(fields)]
            enough = [laid for laid in trials if self.limits.density is None or laid.thinnest >= self.limits.density]
            if enough:
                return min(enough, key=lambda laid: laid.number)
            tried += trials
        return self._far_denser(fields, max(tried, key=lambda laid: laid.thinnest))

    def _far_denser(self, fields: Sequence[tuple[Row, ...]], densest: _Laid) -> _Laid:
        """Columns added, as long as they stand apart, to the field as spaced, to one with more rows and to that with the most."""
        some = list(dict.fromkeys((fields[0], fields[len(fields) // 2], fields[-1])))
        spaced = _half_spacings(self.cavity.span, self.limits.across, 0)
        room = int(self.cavity.span.length / max(self.cavity.keep.apart, 1.0) - spaced) // 2
        for more in range(MOST + 1, room + 1):
            trials = [self.laid(field, more) for field in some]
            enough = [laid for laid in trials if laid.thinnest >= (self.limits.density or 0.0)]
            if enough:
                return min(enough, key=lambda laid: laid.number)
            densest = max(densest, *trials, key=lambda laid: laid.thinnest)
        return densest

    def laid(self, field: tuple[Row, ...], more_columns: int) -> _Laid:
        """All ties over a field of rows, with more columns than the spacing asks for."""
        levels, limits, keep = self.cavity.levels, self.limits, self.cavity.keep
        edge, wide = field, frozenset[float]()
        if limits.close is not None and limits.reach is not None:
            edge = close_up(field, self.rows, levels, limits.close)
            wide = beside_wide_gaps(edge, levels, limits.close)
        odd, even = columns(self.cavity.span, limits.across, more_columns)
        columns_of: dict[float, tuple[float, ...]] = {row.level: even if n % 2 else odd for n, row in enumerate(field)}
        grid = moved(self.cavity, self.rows, self.bays, columns_of, limits.up) if self.cavity.bodies else columns_of
        placed: dict[float, Kinds] = {level: dict.fromkeys(at, "field") for level, at in grid.items() if level not in columns_of}
        placed |= {
            row.level: row_ties(self.bays(row), grid.get(row.level, ()), limits.reach, row.level in wide, keep) for row in edge
        }
        if self.cavity.bodies and limits.close is not None and limits.reach is not None:
            Edges(self.cavity, self.rows, self.bays, grid, placed, limits.reach).make_up(limits.close)
        add_top_ties(self.cavity, self.rows, self.bays, placed, limits.verge, limits.top, limits.up)
        if limits.close is not None and limits.reach is not None:
            add_edge_tops(self.cavity, self.rows, self.bays, placed, limits.reach, limits.close)
        return _Laid(edge, placed, thinnest(sorted(at for kinds in placed.values() for at in kinds), self.parts))
