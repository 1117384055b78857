"""The edges of openings in a leaf: where its masonry stops at a jamb, a sill or a head."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Literal, NamedTuple

from elevgen.building.model import Leaf, OpeningGroup, Profile, Wall
from elevgen.core.geometry import TOLERANCE, Rect, Span, subtract

Kind = Literal["jamb", "sill", "head"]


class Edge(NamedTuple):
    """An edge of an opening with masonry beyond it: a jamb `at` a place along, over levels; a sill or head `at` a level."""

    opening: str
    kind: Kind
    at: float
    span: Span


def edges_of(leaf: Leaf, wall: Wall) -> Iterator[Edge]:
    """Jambs, sills and heads of every opening of a leaf, in the wall's order.

    Strips too small to build are part of the hole. No jamb is where masonry has ended before: over the top, under the base, at
    another opening, at the end of the leaf. No sill is under a door (its threshold is none), nor where the base is no lower.
    """
    doors = {opening.id for opening in wall.openings if opening.kind == "door"}
    for group in wall.groups:
        for name, rect in _rects(group, wall):
            yield from _jambs(leaf, name, rect)
            if name not in doors:
                yield from _level(leaf, name, "sill", rect)
            yield from _level(leaf, name, "head", rect)


def _rects(group: OpeningGroup, wall: Wall) -> Iterator[tuple[str, Rect]]:
    rects = {opening.id: opening.rect for opening in wall.openings}
    yield from ((name, rects[name]) for name in group.openings)
    yield from ((strip.between[0] if strip.between else group.id, strip.rect) for strip in group.strips)


def _jambs(leaf: Leaf, name: str, rect: Rect) -> Iterator[Edge]:
    for at, left in ((rect.left, True), (rect.right, False)):
        beyond = at - 2 * TOLERANCE if left else at + 2 * TOLERANCE
        if not leaf.span.start < beyond < leaf.span.end:
            continue
        base, top = (p.level_left_of(at) if left else p.level_right_of(at) for p in (leaf.base, leaf.top))
        masonry = Span(max(rect.bottom, base), min(rect.top, top))
        if masonry.length > TOLERANCE:
            holes = [void.levels for void in leaf.voids if void.left < beyond < void.right]
            yield from (Edge(name, "jamb", at, span) for span in subtract(masonry, holes))


def _level(leaf: Leaf, name: str, kind: Kind, rect: Rect) -> Iterator[Edge]:
    level = rect.bottom if kind == "sill" else rect.top
    beyond = level - 2 * TOLERANCE if kind == "sill" else level + 2 * TOLERANCE
    over = rect.along.common(leaf.span)
    if over is None:
        return
    holes = [void.along for void in leaf.voids if void.bottom < beyond < void.top]
    there = _under(leaf.base, over, beyond) if kind == "sill" else _over(leaf.top, over, beyond)
    for part in there:
        yield from (Edge(name, kind, level, span) for span in subtract(part, holes))


def _under(profile: Profile, over: Span, level: float) -> Iterator[Span]:
    """Where a profile lies under a level."""
    for (x0, y0), (x1, y1) in pairwise(profile.clipped(over)):
        if x1 - x0 <= TOLERANCE or min(y0, y1) >= level:
            continue
        crossed = x1 if y0 == y1 else min(x1, max(x0, x0 + (x1 - x0) * (level - y0) / (y1 - y0)))
        if y0 < level and y1 < level:
            yield Span(x0, x1)
        else:
            yield Span(x0, crossed) if y0 < level else Span(crossed, x1)


def _over(profile: Profile, over: Span, level: float) -> Iterator[Span]:
    """Where a profile lies over a level."""
    yield from _under(Profile(tuple((at, -y) for at, y in profile.points)), over, -level)
