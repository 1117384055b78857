"""Wall ties: the staggered field grid, as dense as the rules ask, and the extra ones at edges and verges."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil, inf
from typing import NamedTuple

from elevgen.building.model import Leaf, Profile, Wall
from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.fittings.model import Tie, WallTies
from elevgen.fittings.tie_bays import Bay, Cavity, bays
from elevgen.fittings.tie_edges import Kinds, row_ties
from elevgen.fittings.tie_rows import Row, beside_wide_gaps, close_up, largest_gap, one_more, spread, tie_rows
from elevgen.fittings.tie_verges import add_verge_ties
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import banded, covered, figure

PANEL = 4e6
"""A stretch between movement joints with less masonry than this (mm2, ten ties' worth) is not counted by itself."""

MOST = 6
"""No more rows and columns than this are added to the field grid to make it dense enough."""

_KEYS = (
    "tie.spacing.horizontal",
    "tie.spacing.vertical",
    "tie.density",
    "tie.edge.distance",
    "tie.edge.vertical",
    "tie.verge.horizontal",
    "tie.verge.vertical",
    "tie.beds.tolerance",
    "tie.length",
)


class _Limits(NamedTuple):
    """What the rule set asks; None where it is silent."""

    across: float
    up: float
    density: float | None
    reach: float | None
    close: float | None
    verge_along: float | None
    verge_deep: float | None


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
    the square metre than `tie.density`, it takes another row or column.
    """
    across, up = figure(reader, "tie.spacing.horizontal"), figure(reader, "tie.spacing.vertical")
    if across is None or up is None:
        return None
    edges = (
        figure(reader, key) for key in ("tie.edge.distance", "tie.edge.vertical", "tie.verge.horizontal", "tie.verge.vertical")
    )
    limits = _Limits(across, up, figure(reader, "tie.density"), *edges)
    rows = tie_rows(cavity.outer_beds, cavity.inner_beds, figure(reader, "tie.beds.tolerance") or 0.0)
    field = spread(rows, cavity.levels, up)
    laid = _Wall(cavity, rows, limits).dense_enough(field)
    return WallTies(
        wall=wall.id,
        ties=tuple(Tie(at, level, kinds[at]) for level, kinds in sorted(laid.placed.items()) for at in sorted(kinds)),
        length=None if wall.cavity is None else banded(reader, "tie.length", wall.cavity),
        beds_meet=all(row.shared for row in laid.rows) and at_most(largest_gap(field, cavity.levels), up),
        basis=covered(reader, *_KEYS),
    )


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
        self.parts = tuple(_parts(cavity))
        self._bays: dict[Row, tuple[Bay, ...]] = {}

    def bays(self, row: Row) -> tuple[Bay, ...]:
        if row not in self._bays:
            self._bays[row] = tuple(bays(self.cavity, row, self.limits.reach or 0.0))
        return self._bays[row]

    def length(self, row: Row) -> float:
        """How much masonry there is along a row."""
        return round(sum(bay.span.length for bay in self.bays(row)), 3)

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
        return max(tried, key=lambda laid: laid.thinnest)

    def laid(self, field: tuple[Row, ...], more_columns: int) -> _Laid:
        """All ties over a field of rows, with more columns than the spacing asks for."""
        span, levels, limits = self.cavity.span, self.cavity.levels, self.limits
        edge, wide = field, frozenset[float]()
        if limits.close is not None and limits.reach is not None:
            edge = close_up(field, self.rows, levels, limits.close)
            wide = beside_wide_gaps(edge, levels, limits.close)
        odd, even = columns(span, limits.across, more_columns)
        grid = {row.level: even if number % 2 else odd for number, row in enumerate(field)}
        placed = {row.level: row_ties(self.bays(row), grid.get(row.level, ()), limits.reach, row.level in wide) for row in edge}
        if limits.verge_along is not None and limits.verge_deep is not None:
            half = span.length / _half_spacings(span, limits.across, more_columns)
            add_verge_ties(self.cavity, self.rows, self.bays, placed, half, limits.verge_along, limits.verge_deep)
        return _Laid(edge, placed, self._thinnest(placed))

    def _thinnest(self, placed: Mapping[float, Kinds]) -> float:
        """The least number of ties to the square metre, to the one decimal the figure is published with."""
        places = sorted(at for kinds in placed.values() for at in kinds)
        numbers = ((bisect_right(places, span.end) - bisect_left(places, span.start), area) for span, area in self.parts)
        return min((round(number / area * 1e6, 1) for number, area in numbers), default=inf)


def _parts(cavity: Cavity) -> Iterator[tuple[Span, float]]:
    """The whole wall and the panels between its movement joints that are large enough, each with its masonry (mm2)."""
    cuts = sorted(joint.at for joint in cavity.joints if cavity.span.contains(joint.at))
    panels = [Span(a, b) for a, b in pairwise([cavity.span.start, *cuts, cavity.span.end])] if cuts else []
    for part, least in ((cavity.span, TOLERANCE), *((panel, PANEL) for panel in panels)):
        area = min(_net_area(leaf, part) for leaf in (cavity.outer, cavity.inner)) if part.length > TOLERANCE else 0.0
        if area >= least:
            yield part, area


def _net_area(leaf: Leaf, over: Span) -> float:
    voids = sum(common.length * void.height for void in leaf.voids if (common := void.along.common(over)))
    return _under(leaf.top, over) - _under(leaf.base, over) - voids


def _under(profile: Profile, over: Span) -> float:
    return sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(profile.clipped(over)))
