"""Which beds of a leaf are to be reinforced, over which stretch, and for what."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf, Wall
from elevgen.core.geometry import TOLERANCE, Span, at_least, at_most
from elevgen.coursing.allowances import Allowances
from elevgen.coursing.model import LeafCoursing, Pattern
from elevgen.fittings.beds import Bed
from elevgen.fittings.edges import edges
from elevgen.fittings.model import ReinforcedFor
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

UNLAPPED = "stack"
"""The bond whose units do not lap."""


WHOLE: tuple[ReinforcedFor, ...] = ("all_over", "stack_bond", "parapet")
"""What beds are reinforced for from end to end of a leaf."""


class Wanted(NamedTuple):
    """A stretch of a bed to be reinforced, and how far past its ends: as far as masonry goes, round bonded corners too."""

    span: Span
    reach: float
    openings: tuple[str, ...]
    why: ReinforcedFor


class AllOver(NamedTuple):
    """A leaf reinforced from foot to top: the greatest distance between its beds, what for, and the rule that asks it."""

    every: float
    why: ReinforcedFor
    rule: str | None


def all_over(wall: Wall, leaf: Leaf, reader: RuleReader) -> AllOver | None:
    """Whether and how near together all beds of a leaf are to be reinforced: the nearest of what its spec, bond and place ask."""
    asked = [] if leaf.reinforced_every is None else [AllOver(leaf.reinforced_every, "all_over", None)]
    ruled: tuple[tuple[bool, ReinforcedFor, str], ...] = (
        (leaf.bond == UNLAPPED, "stack_bond", "bond.stack.bed_spacing"),
        (wall.stands == "parapet", "parapet", "bed_reinforcement.parapet.spacing"),
    )
    for applies, why, key in ruled:
        every = figure(reader, key) if applies else None
        if every is not None:
            asked.append(AllOver(every, why, key))
    return min(asked, key=lambda a: a.every, default=None)


def wanted_beds(
    wall: Wall,
    leaf: Leaf,
    leaf_beds: Sequence[Bed],
    laid: LeafCoursing,
    patterns: Mapping[str, Pattern],
    allowances: Allowances,
    leg: float,
    reader: RuleReader,
) -> dict[int, list[Wanted]]:
    """By bed, from the bottom: everything it is to be reinforced for. `leg`: how far all of a leaf's beds go on round corners.

    At openings nothing where the rule set lacks the counts or the reach (NHBC 6.11.5: the first two beds above and below an
    opening; the one the lintel or the sill lies in is not one of them).
    """
    wanted: dict[int, list[Wanted]] = {}
    over_all = all_over(wall, leaf, reader)
    if over_all is not None:
        for bed in all_the_way_up(leaf_beds, over_all.every):
            wanted.setdefault(bed, []).append(Wanted(leaf.span, leg, (), over_all.why))
    reach = figure(reader, "bed_reinforcement.reach")
    for bed, asked in _at_openings(wall, leaf_beds, reach, reader):
        wanted.setdefault(bed, []).append(asked)
    row = figure(reader, "bed_reinforcement.short_laps")
    if row is not None and leaf.bond != UNLAPPED:
        for bed, span in low_laps(leaf, leaf_beds, laid, patterns, allowances, int(row)):
            wanted.setdefault(bed, []).append(Wanted(span, reach or 0.0, (), "low_lap"))
    return wanted


def _at_openings(wall: Wall, leaf_beds: Sequence[Bed], reach: float | None, reader: RuleReader) -> Iterator[tuple[int, Wanted]]:
    above, below = figure(reader, "bed_reinforcement.courses_above"), figure(reader, "bed_reinforcement.courses_below")
    if above is None or below is None or reach is None:
        return
    least = figure(reader, "coursing.split.min") or 2 * TOLERANCE
    for group in wall.groups:
        over, under = edges(wall, group)
        for edge in over:
            for bed in _beds_over(leaf_beds, edge.level, least, int(above)):
                yield bed, Wanted(edge.along, reach, edge.openings, "opening")
        for edge in under:
            for bed in _beds_under(leaf_beds, edge.level, least, int(below)):
                yield bed, Wanted(edge.along, reach, edge.openings, "opening")


def all_the_way_up(leaf_beds: Sequence[Bed], every: float) -> list[int]:
    """The fewest beds no further apart than that, counted from the bed the leaf stands on; the next one where none is so near."""
    chosen: list[int] = []
    level = leaf_beds[0].under.level - leaf_beds[0].under.bed / 2 if leaf_beds else 0.0
    for i, bed in enumerate(leaf_beds):
        beyond = leaf_beds[i + 1].middle if i + 1 < len(leaf_beds) else bed.over.top
        if not at_most(beyond - level, every):
            chosen.append(i)
            level = bed.middle
    return chosen


def _beds_over(leaf_beds: Sequence[Bed], head: float, least: float, count: int) -> list[int]:
    """The lowest beds over a head with masonry under them, be it a course cut down to no less than `least`."""
    return [i for i, bed in enumerate(leaf_beds) if at_least(bed.under.top - head, least)][:count]


def _beds_under(leaf_beds: Sequence[Bed], sill: float, least: float, count: int) -> list[int]:
    """The highest beds below a sill with masonry over them, be it a course cut down to no less than `least`."""
    return [i for i, bed in enumerate(leaf_beds) if at_least(sill - bed.over.level, least)][::-1][:count]


def low_laps(
    leaf: Leaf,
    leaf_beds: Sequence[Bed],
    laid: LeafCoursing,
    patterns: Mapping[str, Pattern],
    allowances: Allowances,
    row: int,
) -> Iterator[tuple[int, Span]]:
    """Beds between two courses of one unit whose perpends lap too little, and from the first to the last of such a row.

    A row: so many perpends of the upper course or more, with none between them that laps enough.
    """
    units = {zone.unit.name: zone.unit for zone in leaf.zones}
    perpends: dict[tuple[int, str], list[float]] = {}
    for placed in laid.placements:
        pattern = patterns[placed.pattern]
        lines = perpends.setdefault((placed.course, pattern.unit), [])
        lines.extend(placed.span.start + p.at + p.width / 2 for p in pattern.perpends)
    for index, bed in enumerate(leaf_beds):
        if bed.over.unit != bed.under.unit:
            continue
        upper, lower = (sorted(perpends.get((course.number, course.unit), ())) for course in (bed.over, bed.under))
        least = allowances.limits(units[bed.over.unit]).lap
        short: list[float] = []
        for at in (*upper, None):
            if at is not None and not at_least(_nearest(lower, at), least):
                short.append(at)
                continue
            if len(short) >= row:
                yield index, Span(short[0], short[-1])
            short = []


def _nearest(lines: Sequence[float], at: float) -> float:
    """How far the nearest of the lines is."""
    i = bisect_left(lines, at)
    return min((abs(line - at) for line in lines[max(i - 1, 0) : i + 1]), default=float("inf"))
