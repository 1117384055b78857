"""Masonry left between an opening and what ends it: the end of the leaf, a wall it meets, its top or its base."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from elevgen.building.model import Leaf, LeafEnd, Opening, Profile
from elevgen.checks._masonry import stretches
from elevgen.core.geometry import TOLERANCE, Span, subtract

Side = Literal["left", "right", "over", "under"]
INSIDE = 1.0
"""Masonry beside an opening is looked at this far (mm) inside its head and its sill, where slopes and steps cut it most."""


class Sliver(NamedTuple):
    """Masonry of `size` mm on one side of an opening; `held` when another wall is bonded or tied to its far end."""

    opening: Opening
    leaf: Leaf
    side: Side
    size: float
    held: bool = False


def beside(leaf: Leaf, opening: Opening, least: float) -> Iterator[Sliver]:
    """The masonry at each reveal, where it ends nearer than `least` and not at another opening."""
    if not _near_an_end(leaf, opening, least):
        return
    narrowest: dict[Side, Sliver] = {}
    for level in (opening.rect.bottom + INSIDE, opening.rect.top - INSIDE):
        for sliver in _at_reveals(leaf, opening, level):
            known = narrowest.setdefault(sliver.side, sliver)
            narrowest[sliver.side] = min(known, sliver, key=lambda s: s.size)
    yield from (sliver for sliver in narrowest.values() if sliver.size < least - TOLERANCE)


def _at_reveals(leaf: Leaf, opening: Opening, level: float) -> Iterator[Sliver]:
    """The masonry at each reveal at one level, from the reveal to where it ends other than at an opening."""
    rect = opening.rect
    for solid in stretches(leaf, Span(level, level)):
        if abs(solid.end - rect.left) <= TOLERANCE and not _at_opening(leaf, solid.start, level):
            hidden, held = _beyond(leaf, solid.start)
            yield Sliver(opening, leaf, "left", solid.length + hidden, held)
        if abs(solid.start - rect.right) <= TOLERANCE and not _at_opening(leaf, solid.end, level):
            hidden, held = _beyond(leaf, solid.end)
            yield Sliver(opening, leaf, "right", solid.length + hidden, held)


def over(leaf: Leaf, opening: Opening) -> Sliver | None:
    """The lowest masonry between an opening's head and the top of the leaf, where there is any and no hole in it."""
    holes = [void.along for void in leaf.voids if void.bottom >= opening.rect.top - TOLERANCE]
    return _upright(leaf, opening, leaf.top, holes, "over")


def under(leaf: Leaf, opening: Opening) -> Sliver | None:
    """The lowest masonry between an opening's sill and the base of the leaf."""
    holes = [void.along for void in leaf.voids if void.top <= opening.rect.bottom + TOLERANCE]
    return _upright(leaf, opening, leaf.base, holes, "under")


def _upright(leaf: Leaf, opening: Opening, edge: Profile, holes: list[Span], side: Side) -> Sliver | None:
    along = opening.rect.along.common(leaf.span)
    parts = subtract(along, holes) if along else ()
    sign, start = (1.0, opening.rect.top) if side == "over" else (-1.0, opening.rect.bottom)
    heights = [sign * (level - start) for part in parts for _, level in edge.clipped(part)]
    size = min((height for height in heights if height > TOLERANCE), default=None)
    return None if size is None else Sliver(opening, leaf, side, size)


def _near_an_end(leaf: Leaf, opening: Opening, least: float) -> bool:
    """Whether masonry can end within `least` of a reveal: at an end of the leaf, a wall through it, a slope or a step."""
    rect, ends = opening.rect, [leaf.span.start, leaf.span.end]
    ends += [at for void in leaf.crossings for at in (void.left, void.right)]
    near = any(abs(reveal - end) < least for end in ends for reveal in (rect.left, rect.right))
    reach = rect.along.grown(least)
    inside = reach.common(leaf.span) or leaf.span
    return near or leaf.top.lowest(inside) < rect.top or leaf.base.highest(inside) > rect.bottom


def _at_opening(leaf: Leaf, at: float, level: float) -> bool:
    """Whether masonry ends here at another opening or strip, not at a wall that runs through."""
    holes = [void for void in leaf.voids if void not in leaf.crossings and void.levels.contains(level)]
    return any(min(abs(void.left - at), abs(void.right - at)) <= TOLERANCE for void in holes)


def _beyond(leaf: Leaf, at: float) -> tuple[float, bool]:
    """What of the leaf goes on, hidden in the wall it meets, past an end of its masonry; and whether that wall holds it."""
    for end, face in ((leaf.start_end, leaf.span.start), (leaf.finish_end, leaf.span.end)):
        if abs(at - face) <= TOLERANCE:
            return _hidden(end, face), end.connection in ("bonded", "tied") and end.kind != "stopped"
    crossed = any(min(abs(void.left - at), abs(void.right - at)) <= TOLERANCE for void in leaf.crossings)
    return 0.0, crossed


def _hidden(end: LeafEnd, face: float) -> float:
    """How far courses run on past the visible face at a re-entrant corner; elsewhere the face shows all there is."""
    if end.kind != "corner" or abs(face - end.near) > TOLERANCE:
        return 0.0
    return abs(end.far - end.near)
