"""Masonry between openings that is too small to build is named."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from elevgen.building.model import Opening, OpeningGroup, Strip, Wall
from elevgen.checks._finding import Place, at_opening, at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import Rect, Span, at_least, subtract
from elevgen.core.measures import millimetres
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding

CODE = "opening-strip"
TITLE = "Piers and bands between openings"
RATIONALE = (
    "A pier narrower than one unit or a band lower than its courses cannot be bonded, carries nothing and cracks first. "
    "The openings beside it act as one, and what fills the strip is not masonry."
)
PIER, BAND = "opening.pier.min", "opening.strip.min"


def check(design: Design) -> Iterator[Finding]:
    """Each strip that the groups leave out, and each pair of openings nearer than the least pier or band."""
    pier, band = rule(design, PIER), rule(design, BAND)
    for wall in design.building.walls:
        if not wall.openings:
            continue
        if pier is None or band is None:
            yield uncovered(design, at_wall(wall), PIER, BAND)
            continue
        named = [_strip(wall, group, strip, pier, band) for group in wall.groups for strip in group.strips]
        missed = [
            _pair(wall, a, b, pier, band) for a, b in combinations(wall.openings, 2) if _unbuildable(wall, a, b, pier, band)
        ]
        yield from named
        yield from missed
        if not named and not missed:
            yield found("pass", at_wall(wall), "piers and bands between openings can all be built")


def _strip(wall: Wall, group: OpeningGroup, strip: Strip, pier: Sourced, band: Sourced) -> Finding:
    upright = strip.kind in ("pier", "sill")
    limit, measured = (pier, strip.rect.width) if upright else (band, strip.rect.height)
    size = f"{millimetres(strip.rect.width)} x {millimetres(strip.rect.height)} mm"
    names = " and ".join(strip.between or group.openings)
    what = {"pier": "pier", "band": "band", "head": "masonry over a lower head", "sill": "masonry under a higher sill"}[
        strip.kind
    ]
    text = f"{what} of {size} at {names} cannot be built in masonry; the openings are taken as one"
    if at_least(measured, limit.number):
        return found("fail", _place(wall, strip), text)
    return found("fail", _place(wall, strip), text, measured=measured, least=limit.number, source=limit)


def _place(wall: Wall, strip: Strip) -> Place:
    """The place of a strip: the openings it lies between."""
    between = [opening for opening in wall.openings if opening.id in strip.between]
    return at_opening(wall, *between) if between else at_wall(wall).part(f"at {millimetres(strip.rect.left)}")


def _unbuildable(wall: Wall, a: Opening, b: Opening, pier: Sourced, band: Sourced) -> bool:
    """True when the masonry between two neighbours is too small and no group has taken it out."""
    gap = _between(a.rect, b.rect)
    if gap is None:
        return False
    upright = a.rect.levels.overlaps(b.rect.levels)
    measured, limit = (gap.width, pier) if upright else (gap.height, band)
    if at_least(measured, limit.number):
        return False
    strips = [strip.rect for group in wall.groups for strip in group.strips]
    others = [o.rect for o in wall.openings if o is not a and o is not b]
    return not _filled(gap, [*strips, *others])


def _between(a: Rect, b: Rect) -> Rect | None:
    """The rectangle between two openings that stand side by side or over one another."""
    levels, along = a.levels.common(b.levels), a.along.common(b.along)
    if levels:
        return Rect(min(a.right, b.right), levels.start, max(a.left, b.left), levels.end)
    if along:
        return Rect(along.start, min(a.top, b.top), along.end, max(a.bottom, b.bottom))
    return None


def _filled(gap: Rect, holes: list[Rect]) -> bool:
    """True when the holes leave nothing of the gap, seen in its middle both ways."""
    up = [h.levels for h in holes if h.along.contains(gap.along.middle)]
    across = [h.along for h in holes if h.levels.contains(gap.levels.middle)]
    return not subtract(Span(gap.bottom, gap.top), up) or not subtract(Span(gap.left, gap.right), across)


def _pair(wall: Wall, a: Opening, b: Opening, pier: Sourced, band: Sourced) -> Finding:
    gap = _between(a.rect, b.rect)
    assert gap is not None
    limit, measured = (pier, gap.width) if a.rect.levels.overlaps(b.rect.levels) else (band, gap.height)
    text = f"{millimetres(measured)} mm of masonry between {a.id} and {b.id} cannot be built"
    return found("fail", at_opening(wall, a, b), text, measured=measured, least=limit.number, source=limit)
