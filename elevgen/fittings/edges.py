"""Heads and sills: the level stretches of the outline of a group of openings."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from elevgen.building.model import OpeningGroup, Wall
from elevgen.building.openings import heads, voids_of
from elevgen.core.geometry import Rect, Span


class Edge(NamedTuple):
    """A level stretch of the outline of a group of openings: a head or a sill, and the openings behind it."""

    along: Span
    level: float
    openings: tuple[str, ...]


def edges(wall: Wall, group: OpeningGroup) -> tuple[tuple[Edge, ...], tuple[Edge, ...]]:
    """The heads and the sills of a group: every level stretch with masonry over it, and under it."""
    voids = voids_of(group, wall.openings)
    upside_down = [Rect(void.left, -void.top, void.right, -void.bottom) for void in voids]
    return (
        tuple(Edge(span, level, behind(wall, group.openings, span)) for level, span in heads(voids)),
        tuple(Edge(span, -level, behind(wall, group.openings, span)) for level, span in heads(upside_down)),
    )


def behind(wall: Wall, openings: Collection[str], along: Span) -> tuple[str, ...]:
    """Those of the openings that lie along a stretch, from the wall's start; all of them where only a strip does."""
    ordered = [o for o in sorted(wall.openings, key=lambda o: (o.rect, o.id)) if o.id in openings]
    return tuple(o.id for o in ordered if o.rect.along.overlaps(along)) or tuple(o.id for o in ordered)
