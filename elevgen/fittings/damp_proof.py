"""Damp-proof courses: at the foot of every leaf, up the steps of its base, and under the copings of walls that stand free."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, hypot
from typing import NamedTuple

from elevgen.building.given import GivenDampCourse
from elevgen.building.model import Leaf, Profile, Wall
from elevgen.core.geometry import TOLERANCE, Span, at_most, subtract
from elevgen.coursing.faces import higher
from elevgen.fittings.beds import Bed
from elevgen.fittings.model import DampCourse, DampCoursePlace, Laps
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure

DATUM = 0.0
"""Levels count from the top of the damp-proof course."""
LAP, ROLL, BARRED, ABOVE = "dpc.lap", "dpc.roll_length", "dpc.coping.barred", "dpc.above_ground"


class _Strip(NamedTuple):
    """A length of damp-proof course before it is counted: `extra` beyond its span, `steps` laps at the steps it goes up."""

    level: float
    span: Span
    place: DampCoursePlace = "base"
    extra: float = 0.0
    steps: int = 0


def damp_courses(
    wall: Wall, leaf: Leaf, beds: Sequence[Bed], joints: Sequence[MovementJoint], reader: RuleReader
) -> tuple[DampCourse, ...]:
    """The damp-proof courses of a leaf: those the spec lists, then the tool's own unless it says that there are no others.

    At the foot: at the datum along all of the face founded at or below it, thresholds included, and up the steps of a base that
    rises past it. Under the coping: of a parapet or a wall that stands by itself, over both leaves. Lengths mm.
    """
    given = [one for one in wall.damp_courses.parts if one.leaf in (None, leaf.side)]
    listed = [_Strip(one.level, one.span, _place_of(leaf, one)) for one in given]
    names = [f"{leaf.id}/DPC-G{n}" for n in range(1, len(listed) + 1)]
    made = [_made(wall, leaf, s, name, joints, reader, True) for s, name in zip(listed, names, strict=True)]
    if not wall.damp_courses.placing:
        return tuple(made)
    near = max((zone.unit.gauge for zone in leaf.zones), default=0.0)
    for stem, strips in (
        ("DPC", _at_foot(wall, leaf, beds, reader)),
        ("DPC-C", _under_coping(wall, leaf)),
    ):
        own = [rest for strip in strips for rest in _not_served(strip, listed, near)]
        for number, strip in enumerate(own, 1):
            name = f"{leaf.id}/{stem}" if len(own) == 1 else f"{leaf.id}/{stem}{number}"
            made.append(_made(wall, leaf, strip, name, joints, reader))
    return tuple(made)


def _place_of(leaf: Leaf, given: GivenDampCourse) -> DampCoursePlace:
    return "coping" if given.level >= leaf.top.lowest(given.span) - TOLERANCE else "base"


def _not_served(strip: _Strip, listed: Sequence[_Strip], near: float) -> Iterator[_Strip]:
    """What of a strip no listed one at its level, or within a course of it, lies under."""
    there = [one.span for one in listed if abs(one.level - strip.level) < near]
    for span in subtract(strip.span, there):
        yield strip if span == strip.span else strip._replace(span=span, extra=0.0, steps=0)


def _at_foot(wall: Wall, leaf: Leaf, beds: Sequence[Bed], reader: RuleReader) -> list[_Strip]:
    """From the wall's start: at the datum; where the base steps up past it, in the first bed high enough over base and ground."""
    at_datum = [_Strip(DATUM, span) for span in _built_at(leaf, DATUM)]
    above = figure(reader, ABOVE) or 0.0
    up = [
        _Strip(level, span)
        for piece, base in _pieces(leaf.base, leaf.span)
        if base > DATUM + TOLERANCE and (at_datum or _in_the_ground(wall, piece, base))
        if (level := _bed_over(beds, _foot(wall, piece, base) + above)) is not None
        for built in _built_at(leaf, level)
        if (span := built.common(piece)) is not None
    ]
    return _stepped(_level_joined(sorted((*at_datum, *up), key=lambda strip: strip.span)))


def _built_at(leaf: Leaf, level: float) -> tuple[Span, ...]:
    """Where the leaf stands on both sides of a level; an opening that only begins at it has the sheet under its threshold."""
    through = [void.along for void in leaf.voids if void.bottom < level - TOLERANCE and void.top > level + TOLERANCE]
    without = [*higher(leaf.base, leaf.span, level), *through]
    return tuple(left for risen in higher(leaf.top, leaf.span, level) for left in subtract(risen, without))


def _in_the_ground(wall: Wall, piece: Span, base: float) -> bool:
    return wall.ground is not None and at_most(base, wall.ground.highest(piece))


def _foot(wall: Wall, piece: Span, base: float) -> float:
    return base if wall.ground is None else max(base, wall.ground.highest(piece))


def _bed_over(beds: Sequence[Bed], level: float) -> float | None:
    return next((bed.levels.start for bed in beds if bed.levels.start >= level - TOLERANCE), None)


def _pieces(profile: Profile, over: Span) -> Iterator[tuple[Span, float]]:
    """The stretches between a profile's points, each with its highest level."""
    for (a, at_a), (b, at_b) in pairwise(profile.clipped(over)):
        if b - a > TOLERANCE:
            yield Span(a, b), max(at_a, at_b)


def _level_joined(strips: Sequence[_Strip]) -> list[_Strip]:
    """Strips of one level that touch made one."""
    joined: list[_Strip] = []
    for strip in strips:
        last = joined[-1] if joined else None
        if last and abs(last.level - strip.level) <= TOLERANCE and strip.span.start <= last.span.end + TOLERANCE:
            joined[-1] = last._replace(span=Span(last.span.start, strip.span.end))
        else:
            joined.append(strip)
    return joined


def _stepped(strips: Sequence[_Strip]) -> list[_Strip]:
    """The upper of two strips that touch goes down the step between them and is lapped with the lower."""
    found = list(strips)
    for k, (one, two) in enumerate(pairwise(strips)):
        if two.span.start <= one.span.end + TOLERANCE:
            upper = k if one.level > two.level else k + 1
            step = abs(one.level - two.level)
            found[upper] = found[upper]._replace(extra=found[upper].extra + step, steps=found[upper].steps + 1)
    return found


def _under_coping(wall: Wall, leaf: Leaf) -> list[_Strip]:
    """Along the top of a wall that has a coping, level or sloping; the outer leaf's goes over the inner one too."""
    if wall.stands == "building" or leaf.id != wall.leaves[0]:
        return []
    strips = []
    open_top = [void.along for void in leaf.voids if void.top >= leaf.top.lowest(void.along) - TOLERANCE]
    for (a, at_a), (b, at_b) in pairwise(leaf.top.clipped(leaf.span)):
        for span in subtract(Span(a, b), open_top) if b - a > TOLERANCE else ():
            rise = abs(at_b - at_a) * span.length / (b - a)
            strips.append(_Strip(min(at_a, at_b), span, "coping", hypot(span.length, rise) - span.length))
    return _stepped(_level_joined(strips)) if all(strip.extra == 0.0 for strip in strips) else strips


def _made(
    wall: Wall, leaf: Leaf, strip: _Strip, name: str, joints: Sequence[MovementJoint], reader: RuleReader, given: bool = False
) -> DampCourse:
    coping = strip.place == "coping"
    lap = figure(reader, LAP)
    passed = tuple(j.id for j in joints if _within(j.gap, strip.span) and j.levels.contains(strip.level))
    lapped = Laps(
        corners=_corner_laps(leaf, strip.span),
        joints=len(passed),
        rolls=_roll_laps(strip.span.length + strip.extra, figure(reader, ROLL), lap or 0.0),
        steps=strip.steps,
    )
    barred = reader.find(BARRED) if coping else None
    return DampCourse(
        id=name,
        wall=leaf.wall,
        leaf=leaf.id,
        level=strip.level,
        span=strip.span,
        width=wall.thickness if coping else leaf.thickness,
        laps=sum(lapped),
        lap=lap,
        basis=covered(reader, LAP, ROLL, *((BARRED,) if coping else ())),
        given=given,
        place=strip.place,
        extra=strip.extra,
        lapped=lapped,
        folded=passed,
        barred=barred.words if barred else (),
    )


def _within(gap: Span, span: Span) -> bool:
    """True when something is left on both sides: a joint that fills the end of a leaf is not passed."""
    return gap.start > span.start + TOLERANCE and gap.end < span.end - TOLERANCE


def _corner_laps(leaf: Leaf, stretch: Span) -> int:
    """One lap for each corner, counted on the leaf whose id comes first; one where the leaf is built into another's side."""
    ends = ((leaf.start_end, leaf.span.start), (leaf.finish_end, leaf.span.end))
    return sum(
        1
        for end, at in ends
        if stretch.contains(at)
        if (end.kind == "corner" and leaf.id < (end.other or ""))
        or (end.kind == "abutting" and end.connection in ("bonded", "tied"))
    )


def _roll_laps(length: float, roll: float | None, lap: float) -> int:
    """How often a length is lapped because a roll ends; 0 where the rule set does not say how long rolls are."""
    if roll is None or at_most(length, roll) or roll <= lap:
        return 0
    return ceil((length - lap - TOLERANCE) / (roll - lap)) - 1
