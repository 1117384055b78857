"""Heads and sills: the level stretches of the outline of a group of openings."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.building.model import OpeningGroup, Wall
from elevgen.building.openings import behind, heads, voids_of
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
