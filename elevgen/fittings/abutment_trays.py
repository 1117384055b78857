"""Trays over a lower roof or building that meets the outer face: straight over a level line, stepped down a sloping one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Profile
from elevgen.core.geometry import TOLERANCE, Point, Span, at_least
from elevgen.coursing.faces import masonry
from elevgen.fittings.model import Tray, TrayKind
from elevgen.fittings.tray_walls import SPACING, Place, TrayWall, made
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

ABOVE, LEAST_LENGTH, LAP = "tray.abutment.above", "tray.step.length", "tray.step.lap"


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
    trays = []
    for number, line in enumerate(where.wall.abutments, 1):
        flat = [
            piece for tread in _treads(where, line, above, figure(reader, LEAST_LENGTH) or 0.0) for piece in _built(where, tread)
        ]
        served = [tread for tread in flat if not _listed(where, tread)]
        for n, (place, weeps) in enumerate(_places(where, served, figure(reader, LAP) or 0.0, figure(reader, SPACING)), 1):
            keys = (ABOVE, LEAST_LENGTH, LAP) if place.kind == "step" else (ABOVE,)
            trays.append(made(where, place, f"{where.outer.id}/T-A{number}-{n}", weeps, keys, reader))
    return tuple(trays)


def _treads(where: TrayWall, line: Profile, above: float, least: float) -> list[Tread]:
    """From the wall's start, those of one level that touch made one; the ends no shorter than the shortest tray."""
    levels = [bed.levels.end for bed in where.outer_beds]
    found: list[Tread] = []
    for (a, at_a), (b, at_b) in pairwise(line.points):
        if b - a <= TOLERANCE:
            continue
        for tread in sorted(_steps((a, at_a + above), (b, at_b + above), levels, least)):
            last = found[-1] if found else None
            if last and abs(last.level - tread.level) <= TOLERANCE and tread.along.start <= last.along.end + TOLERANCE:
                found[-1] = Tread(Span(last.along.start, tread.along.end), last.level, last.sloping and tread.sloping)
            else:
                found.append(tread)
    if found and found[0].sloping:
        first = found[0].along
        found[0] = found[0]._replace(along=Span(min(first.start, first.end - least), first.end))
    if found and found[-1].sloping:
        last_one = found[-1].along
        found[-1] = found[-1]._replace(along=Span(last_one.start, max(last_one.end, last_one.start + least)))
    return found


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
        if level < low - TOLERANCE or (under is not None and not at_least((level - under) * abs(run), least)):
            continue
        ends = sorted(low_at + run * (at - low) for at in (reached, min(level, high)))
        if ends[1] - ends[0] > TOLERANCE:
            yield Tread(Span(*ends), level, True)
        reached, under = level, level
        if level >= high - TOLERANCE:
            return


def _built(where: TrayWall, tread: Tread) -> Iterator[Tread]:
    """What of a tread lies in a bed with masonry on both sides, movement joints left out."""
    band = next(bed.levels for bed in where.outer_beds if bed.levels.end == tread.level)
    for solid in masonry(where.outer, band, where.gaps(tread.level)):
        if (along := solid.common(tread.along)) is not None:
            yield tread._replace(along=along)


def _listed(where: TrayWall, tread: Tread) -> bool:
    course = max((zone.unit.gauge for zone in where.outer.zones), default=0.0)
    return any(
        tread.level - TOLERANCE <= tray.level <= tread.level + course + TOLERANCE
        and tray.span.contains(tread.along.start)
        and tray.span.contains(tread.along.end)
        for tray in where.wall.trays.parts
    )


def _places(where: TrayWall, treads: Sequence[Tread], lap: float, spacing: float | None) -> Iterator[tuple[Place, int]]:
    """Each tread as a tray with the weeps it has at least: it runs off to a lower neighbour, and goes under a higher one."""
    for k, tread in enumerate(treads):
        before = treads[k - 1] if k and treads[k - 1].along.end >= tread.along.start - TOLERANCE else None
        after = treads[k + 1] if k + 1 < len(treads) and treads[k + 1].along.start <= tread.along.end + TOLERANCE else None
        beside = [side for side in (before, after) if side is not None]
        lower = sum(1 for side in beside if side.level < tread.level)
        along = Span(
            tread.along.start - (lap if before and before.level > tread.level else 0.0),
            tread.along.end + (lap if after and after.level > tread.level else 0.0),
        )
        kind: TrayKind = "step" if beside or tread.sloping else "abutment"
        long = spacing is not None and along.length > spacing + TOLERANCE
        yield Place(tread.level, _on_masonry(where, tread, along), 2 - lower, kind), 1 if not lower or long else 0


def _on_masonry(where: TrayWall, tread: Tread, along: Span) -> Span:
    """The tray as far as masonry goes in its bed, from its own tread on."""
    band = next(bed.levels for bed in where.outer_beds if bed.levels.end == tread.level)
    solid = masonry(where.outer, band, where.gaps(tread.level))
    return next((common for s in solid if s.contains(tread.along.middle) and (common := s.common(along))), tread.along)
