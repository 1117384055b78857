"""Trays over a lower roof or building that meets the outer face: straight over a level line, stepped down a sloping one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Profile
from elevgen.core.geometry import TOLERANCE, Point, Span, at_least, subtract
from elevgen.coursing.faces import masonry
from elevgen.fittings.model import Tray, TrayKind
from elevgen.fittings.tray_walls import SPACING, Place, TrayWall, made
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

ABOVE, LEAST_LENGTH, LAP = "tray.abutment.above", "tray.step.length", "tray.step.lap"

Points = tuple[Point, ...]


class Tread(NamedTuple):
    """A stretch of the line covered at one level; `sloping`: it is one step of several."""

    along: Span
    level: float
    sloping: bool


def abutment_trays(where: TrayWall, reader: RuleReader) -> tuple[Tray, ...]:
    """The trays over every line in which something meets the outer leaf, each in a bed, from the wall's start.

    Each lies at least so high above the line (practice), steps down where the line has dropped by a course, or by more where a
    step would be shorter than the shortest tray, and goes under the next one up. What runs off the lowest leaves by its weeps.
    """
    above = figure(reader, ABOVE)
    if above is None:
        return ()
    least, lap, spacing = (figure(reader, key) or 0.0 for key in (LEAST_LENGTH, LAP, SPACING))
    trays = []
    for number, line in enumerate(where.wall.abutments, 1):
        treads = [tread for piece in _unbroken(where, line) for tread in _treads(where, line, piece, above, least)]
        own = [tread for tread in treads if not _listed(where, tread)]
        for n, (place, weeps) in enumerate(_places(where, own, lap, spacing), 1):
            keys = (ABOVE, LEAST_LENGTH, LAP) if place.kind == "step" else (ABOVE,)
            trays.append(made(where, place, f"{where.outer.id}/AT{number}-{n}", weeps, keys, reader))
    return tuple(trays)


def _unbroken(where: TrayWall, line: Profile) -> Iterator[Points]:
    """The line between movement joints, as far as the leaf goes."""
    over = Span(line.points[0][0], line.points[-1][0]).common(where.outer.span)
    if over is not None:
        gaps = [j.gap for j in where.joints if j.levels.contains(line.level_left_of(j.at))]
        yield from (line.clipped(piece) for piece in subtract(over, gaps))


def _treads(where: TrayWall, whole: Profile, points: Points, above: float, least: float) -> list[Tread]:
    """Over a part of a line, from the wall's start, in beds with masonry on both sides; none too short where that can be."""
    line = Profile(points)
    levels = [bed.levels.end for bed in where.outer_beds]
    steps = [
        step
        for (a, at_a), (b, at_b) in pairwise(line.points)
        if b - a > TOLERANCE
        for step in sorted(_steps((a, at_a + above), (b, at_b + above), levels, least))
    ]
    ends = Span(line.points[0][0], line.points[-1][0])
    longer = _longer_at_ends(_joined(steps), least, whole)
    parts = (piece for tread in longer for piece in (*_built(where, tread, ends), *_left(where, tread, ends)))
    built = sorted(parts, key=lambda tread: tread.along)
    lowered = [_lowered(tread, line, ends, above, levels) for tread in built]
    return _without_short(where, [piece for tread in lowered for piece in _built(where, tread, ends)], least, ends)


def _joined(treads: Sequence[Tread]) -> list[Tread]:
    """Treads of one level that touch made one."""
    joined: list[Tread] = []
    for tread in treads:
        last = joined[-1] if joined else None
        if last and abs(last.level - tread.level) <= TOLERANCE and _touch(last, tread):
            joined[-1] = Tread(Span(last.along.start, tread.along.end), last.level, last.sloping and tread.sloping)
        else:
            joined.append(tread)
    return joined


def _touch(one: Tread, two: Tread) -> bool:
    return two.along.start <= one.along.end + TOLERANCE


def _longer_at_ends(treads: list[Tread], least: float, line: Profile) -> list[Tread]:
    """The first and the last step of a slope go on past the ends of its line where they would be too short."""
    lacks = [max(least - tread.along.length, 0.0) if tread.sloping else 0.0 for tread in treads]
    at_start = bool(treads) and abs(treads[0].along.start - line.points[0][0]) <= TOLERANCE
    at_end = bool(treads) and abs(treads[-1].along.end - line.points[-1][0]) <= TOLERANCE
    share = 0.5 if len(treads) == 1 and at_start and at_end else 1.0
    if at_start:
        treads[0] = treads[0]._replace(along=Span(treads[0].along.start - share * lacks[0], treads[0].along.end))
    if at_end:
        treads[-1] = treads[-1]._replace(along=Span(treads[-1].along.start, treads[-1].along.end + share * lacks[-1]))
    return treads


def _without_short(where: TrayWall, treads: Sequence[Tread], least: float, ends: Span) -> list[Tread]:
    """A step left too short is made one with the neighbour nearest in level, at the higher level of the two; shortest first.

    Only where there is masonry at that level all along.
    """
    left = _joined(treads)
    while pairs := [
        (k, near)
        for k, tread in enumerate(left)
        if tread.sloping and not at_least(tread.along.length, least)
        for near in _beside(left, k)
        if _is_built(where, _merged(tread, left[near]), ends)
    ]:
        k, near = min(pairs, key=lambda pair: _first_to_go(left, *pair))
        one, two = sorted((k, near))
        left[one : two + 1] = [_merged(left[one], left[two])]
    return _joined(left)


def _first_to_go(treads: Sequence[Tread], k: int, near: int) -> tuple[float, ...]:
    """The order in which a short tread and a neighbour are made one."""
    short, other = treads[k], treads[near]
    return (round(short.along.length, 2), short.level, k, *_apart(other, short), round(other.along.length, 2))


def _merged(one: Tread, two: Tread) -> Tread:
    along = Span(min(one.along.start, two.along.start), max(one.along.end, two.along.end))
    return Tread(along, max(one.level, two.level), True)


def _is_built(where: TrayWall, tread: Tread, ends: Span) -> bool:
    """Whether there is masonry at its level all along a tread, as far as it lies over the line."""
    over = tread.along.common(ends)
    return over is None or not subtract(over, (piece.along for piece in _built(where, tread, ends)))


def _apart(one: Tread, other: Tread) -> tuple[float, float]:
    """How far apart two treads are in level; of two as far apart the higher comes first."""
    return round(abs(one.level - other.level), 2), -round(one.level, 2)


def _beside(treads: Sequence[Tread], k: int) -> list[int]:
    """The treads that touch one."""
    before = [k - 1] if k and _touch(treads[k - 1], treads[k]) else []
    return before + ([k + 1] if k + 1 < len(treads) and _touch(treads[k], treads[k + 1]) else [])


def _lowered(tread: Tread, line: Profile, ends: Span, above: float, levels: Sequence[float]) -> Tread:
    """The tread in the lowest bed that will do: a part of a step may do with a lower one than the whole."""
    over = tread.along.common(ends)
    if over is None:
        return tread
    lowest = line.highest(over) + above
    return tread._replace(level=next(level for level in levels if level >= lowest - TOLERANCE))


def _steps(a: Point, b: Point, levels: Sequence[float], least: float) -> Iterator[Tread]:
    """The treads over one straight piece, given by the levels no tray may lie under; lower ones first."""
    (low_at, low), (high_at, high) = sorted((a, b), key=lambda point: point[1])
    if high - low <= TOLERANCE:
        level = next((level for level in levels if level >= high - TOLERANCE), None)
        if level is not None:
            yield Tread(Span(a[0], b[0]), level, False)
        return
    run = (high_at - low_at) / (high - low)
    reached = low
    under: float | None = None
    for level in levels:
        near = under is not None and not at_least((level - under) * abs(run), least)
        if level < low - TOLERANCE or (near and level < min(high, levels[-1]) - TOLERANCE):
            continue
        ends = sorted(low_at + run * (at - low) for at in (reached, min(level, high)))
        if ends[1] - ends[0] > TOLERANCE:
            yield Tread(Span(*ends), level, True)
        reached, under = level, level
        if level >= high - TOLERANCE:
            return


def _built(where: TrayWall, tread: Tread, ends: Span) -> Iterator[Tread]:
    """What of a tread over the line lies in a bed with masonry on both sides, movement joints left out."""
    band = next(bed.levels for bed in where.outer_beds if bed.levels.end == tread.level)
    for solid in masonry(where.outer, band, where.gaps(tread.level)):
        if (along := solid.common(tread.along)) is not None and along.overlaps(ends):
            yield tread._replace(along=along)


def _left(where: TrayWall, tread: Tread, ends: Span) -> Iterator[Tread]:
    """What of a tread over the line has no masonry at its level, as under a verge: a lower bed may do for it."""
    over = tread.along.common(ends)
    for rest in subtract(over, (piece.along for piece in _built(where, tread, ends))) if over else ():
        yield tread._replace(along=rest)


def _listed(where: TrayWall, tread: Tread) -> bool:
    course = max((zone.unit.gauge for zone in where.outer.zones), default=0.0)
    return any(
        tread.level - TOLERANCE <= tray.level <= tread.level + course + TOLERANCE
        and tray.span.contains(tread.along.start)
        and tray.span.contains(tread.along.end)
        for tray in where.wall.trays.parts
    )


def _places(where: TrayWall, treads: Sequence[Tread], lap: float, spacing: float) -> Iterator[tuple[Place, int]]:
    """Each tread as a tray with the weeps it has at least: it runs off to a lower neighbour, and goes under a higher one."""
    for k, tread in enumerate(treads):
        beside = [treads[n] for n in _beside(treads, k)]
        higher = [side for side in beside if side.level > tread.level]
        lower = len(beside) - len(higher)
        along = Span(
            tread.along.start - (lap if any(side.along.end < tread.along.end for side in higher) else 0.0),
            tread.along.end + (lap if any(side.along.start > tread.along.start for side in higher) else 0.0),
        )
        kind: TrayKind = "step" if beside or tread.sloping else "abutment"
        long = along.length > spacing + TOLERANCE
        yield Place(tread.level, _on_masonry(where, tread, along), 2 - lower, kind), 1 if not lower or long else 0


def _on_masonry(where: TrayWall, tread: Tread, along: Span) -> Span:
    """The tray as far as masonry goes in its bed, from its own tread on."""
    band = next(bed.levels for bed in where.outer_beds if bed.levels.end == tread.level)
    solid = masonry(where.outer, band, where.gaps(tread.level))
    return next((common for s in solid if s.contains(tread.along.middle) and (common := s.common(along))), tread.along)
