"""Masonry at an opening that is too small to build is named: between openings, at the end of the wall, over and under."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations
from typing import NamedTuple

from elevgen.building.model import Leaf, Opening, OpeningGroup, Strip, Wall
from elevgen.checks import _slivers
from elevgen.checks._finding import at_opening, at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._slivers import Sliver
from elevgen.checks._words import listed
from elevgen.core.figures import Figures
from elevgen.core.geometry import Rect, Span, at_least, subtract
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding, Severity

CODE = "opening-strip"
TITLE = "Piers and bands at openings"
RATIONALE = (
    "A pier narrower than one unit or a band lower than its courses cannot be bonded, carries nothing and cracks first. "
    "Openings on both sides of one act as one, and what fills the strip is not masonry."
)
PIER, BAND, SPLIT = "opening.pier.min", "opening.strip.min", "coursing.split.min"


class _Least(NamedTuple):
    """The narrowest pier, the lowest band, and the least height a unit is cut to."""

    pier: Sourced
    band: Sourced
    split: Sourced


def check(design: Design) -> Iterator[Finding]:
    """Each strip that the groups leave out, each pair of openings and each end of masonry nearer than the least pier or band.

    Beside the end of a wall fail, where another wall holds the pier warn. Over an opening fail where no unit fits at all,
    else warn; under one, where masonry stands on the base, only what no unit fits in is a warning.
    """
    pier, band, split = (rule(design, key) for key in (PIER, BAND, SPLIT))
    for wall in design.building.walls:
        if not wall.openings:
            continue
        if pier is None or band is None or split is None:
            yield uncovered(design, at_wall(wall), PIER, BAND, SPLIT)
            continue
        least = _Least(pier, band, split)
        findings = [
            *(_strip(design.figures, wall, group, strip, least) for group in wall.groups for strip in group.strips),
            *(
                _pair(design.figures, wall, a, b, least)
                for a, b in combinations(wall.openings, 2)
                if _unbuildable(wall, a, b, least)
            ),
            *_ends(design.figures, wall, design.building.leaves_of(wall.id), least),
        ]
        yield from findings
        if not findings:
            yield found("pass", at_wall(wall), "piers and bands at openings can all be built")


def _strip(figures: Figures, wall: Wall, group: OpeningGroup, strip: Strip, least: _Least) -> Finding:
    upright = strip.kind in ("pier", "sill")
    limit, measured = (least.pier, strip.rect.width) if upright else (least.band, strip.rect.height)
    between = [opening for opening in wall.openings if opening.id in strip.between]
    place = at_opening(wall, *between) if between else at_wall(wall).part(f"at {figures.length(strip.rect.left)}")
    text = _strip_words(figures, strip, between, listed(strip.between or group.openings))
    if at_least(measured, limit.number):
        return found("fail", place, text)
    return found("fail", place, text, measured=measured, least=limit.number, source=limit)


def _strip_words(figures: Figures, strip: Strip, between: list[Opening], names: str) -> str:
    size = f"{figures.length(strip.rect.width)} x {figures.measure(strip.rect.height)}"
    as_one = f"{names} are taken as one opening"
    if strip.kind in ("pier", "band"):
        return f"{strip.kind} of {size} between {names} cannot be built in masonry: they are taken as one opening"
    touched = [o.id for o in between if o.rect.along.overlaps(strip.rect.along)]
    others = [o.id for o in between if o.id not in touched]
    here, there = listed(touched) or names, listed(others)
    if strip.kind == "head":
        beside = f" at the side of {there}" if there else ""
        return f"masonry over {here} ({size}) would have nothing to bear on{beside}: none is built, {as_one}"
    beside = f" beside {there}" if there else ""
    return f"masonry under {here}{beside} ({size}) is too narrow to build: none is built, {as_one}"


def _unbuildable(wall: Wall, a: Opening, b: Opening, least: _Least) -> bool:
    """True when the masonry between two neighbours is too small and no group has taken it out."""
    gap = _between(a.rect, b.rect)
    if gap is None:
        return False
    measured, limit = _size(a, b, gap, least)
    if at_least(measured, limit.number):
        return False
    strips = [strip.rect for group in wall.groups for strip in group.strips]
    others = [o.rect for o in wall.openings if o is not a and o is not b]
    return not _filled(gap, [*strips, *others])


def _size(a: Opening, b: Opening, gap: Rect, least: _Least) -> tuple[float, Sourced]:
    return (gap.width, least.pier) if a.rect.levels.overlaps(b.rect.levels) else (gap.height, least.band)


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


def _pair(figures: Figures, wall: Wall, a: Opening, b: Opening, least: _Least) -> Finding:
    gap = _between(a.rect, b.rect)
    assert gap is not None
    measured, limit = _size(a, b, gap, least)
    text = f"{figures.measure(measured)} of masonry between {a.id} and {b.id} cannot be built"
    return found("fail", at_opening(wall, a, b), text, measured=measured, least=limit.number, source=limit)


def _ends(figures: Figures, wall: Wall, leaves: Iterable[Leaf], least: _Least) -> Iterator[Finding]:
    """Slivers at ends, tops and bases: one finding for what is alike in several openings or in both leaves."""
    alike: dict[tuple[object, ...], list[Sliver]] = {}
    for sliver in _all_slivers(wall, leaves, least):
        upright = sliver.side in ("over", "under")
        size = round(sliver.size, 1)
        alike.setdefault((sliver.side, sliver.held, size if upright else sliver.opening.id), []).append(sliver)
    for slivers in alike.values():
        yield _end(figures, wall, slivers, least)


def _all_slivers(wall: Wall, leaves: Iterable[Leaf], least: _Least) -> Iterator[Sliver]:
    for leaf in leaves:
        for opening in wall.openings:
            yield from _slivers.beside(leaf, opening, least.pier.number)
            above, below = _slivers.over(leaf, opening), _slivers.under(leaf, opening)
            if above and not at_least(above.size, least.band.number):
                yield above
            if below and not at_least(below.size, _fits(leaf, opening.rect.bottom - below.size, least)):
                yield below


def _fits(leaf: Leaf, level: float, least: _Least) -> float:
    """The least height a unit and its bed take at a level."""
    zone = next((zone for zone in leaf.zones if zone.levels.end > level), leaf.zones[-1])
    return least.split.number + zone.unit.bed


def _end(figures: Figures, wall: Wall, slivers: list[Sliver], least: _Least) -> Finding:
    worst = min(slivers, key=lambda s: s.size)
    openings = [o for o in wall.openings if any(s.opening is o for s in slivers)]
    leaves = tuple(dict.fromkeys(s.leaf.id for s in slivers))
    in_leaf = f" in the {worst.leaf.side} leaf" if len(wall.leaves) > 1 and len(leaves) == 1 else ""
    place = at_opening(wall, *openings).part({"over": "head", "under": "sill"}.get(worst.side, worst.side))
    place = place._replace(leaves=leaves if len(leaves) < len(wall.leaves) else ())
    severity, text, limit, source = _judged(figures, worst, listed([o.id for o in openings]), least)
    return found(severity, place, text.format(in_leaf=in_leaf), measured=worst.size, least=limit, source=source)


def _judged(figures: Figures, worst: Sliver, names: str, least: _Least) -> tuple[Severity, str, float, Sourced]:
    """How bad a sliver is, in words with a place for the leaf's name; the limit it is held to and where that is from."""
    size, limit = figures.measure(worst.size), least.pier.number
    if worst.side in ("left", "right"):
        far = "the wall it meets" if worst.held else "the end of the masonry"
        text = f"{size} of masonry between {names} and {far}{{in_leaf}}, less than the least pier of {figures.measure(limit)}"
        return "warn" if worst.held else "fail", text, limit, least.pier
    fits = _fits(worst.leaf, worst.opening.rect.top, least)
    if worst.side == "under":
        text = f"{size} of masonry under {names} down to its base{{in_leaf}}: no unit fits"
        return "warn", text, fits, least.split
    limit, over = least.band.number, f"{size} of masonry over {names} up to its top{{in_leaf}}"
    if not at_least(worst.size, fits):
        return "fail", f"{over}: no unit fits", limit, least.band
    return "warn", f"{over}, less than the least band of {figures.measure(limit)}", limit, least.band
