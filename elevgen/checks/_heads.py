"""Heads and sills of openings: where masonry meets them, and which beds lie over and under them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf, Opening
from elevgen.checks._beds import beds_between
from elevgen.checks._masonry import stretches
from elevgen.core.geometry import Span, at_least
from elevgen.coursing.model import Course
from elevgen.fittings.model import Lintel

ANY = 1.0
"""Height (mm) of masonry between an edge and a bed that counts where the rule set has no least height of a cut unit."""
SLIVER = 1.0
"""A band this high (mm) against a head or a sill tells whether there is masonry."""


class Edge(NamedTuple):
    """The head or the sill of an opening in one leaf; `along` are the parts with masonry at it."""

    opening: Opening
    head: bool
    level: float
    along: tuple[Span, ...]


def edges(leaf: Leaf, opening: Opening) -> tuple[Edge, Edge]:
    """Head and sill of an opening."""
    rect = opening.rect
    near = rect.along.grown(SLIVER)
    over = stretches(leaf, Span(rect.top, rect.top + SLIVER), near=near)
    under = stretches(leaf, Span(rect.bottom - SLIVER, rect.bottom), near=near)
    return (
        Edge(opening, True, rect.top, _within(over, rect.along)),
        Edge(opening, False, rect.bottom, _within(under, rect.along)),
    )


def _within(solid: Sequence[Span], along: Span) -> tuple[Span, ...]:
    return tuple(common for span in solid if (common := span.common(along)))


def over_lintels(edge: Edge, lintels: Iterable[Lintel]) -> Edge:
    """A head with a lintel of its leaf in the place of units over it begins at the lintel's top."""
    if not edge.head:
        return edge
    tops = [b.top for x in lintels if edge.opening.id in x.openings and (b := x.body) and any(map(b.along.overlaps, edge.along))]
    return edge._replace(level=max([edge.level, *tops]))


def beds_at(courses: Sequence[Course], edge: Edge, least: float, count: int) -> list[Span]:
    """The first beds over a head or under a sill, nearest first, no more than `count`.

    The bed the lintel or the sill lies in is none of them: a unit of at least `least` stands between edge and bed.
    """
    beds = beds_between(courses)
    if edge.head:
        return [bed for bed in beds if at_least(bed.start - edge.level, least)][:count]
    return [bed for bed in reversed(beds) if at_least(edge.level - bed.end, least)][:count]
