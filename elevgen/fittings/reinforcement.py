"""Bed-joint reinforcement above and below openings: which beds, how far, in which pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import NamedTuple

from elevgen.building.model import Leaf, Wall
from elevgen.core.geometry import TOLERANCE, Span, at_least, at_most, merge
from elevgen.coursing.faces import gaps_at, masonry
from elevgen.fittings.beds import Bed
from elevgen.fittings.edges import edges
from elevgen.fittings.model import BedReinforcement
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure

_KEYS = tuple(
    f"bed_reinforcement.{name}"
    for name in ("courses_above", "courses_below", "reach", "lap", "stock_length", "merge_gap", "joint_clearance")
)


class _Wanted(NamedTuple):
    span: Span
    openings: tuple[str, ...]


def reinforcement(
    wall: Wall, leaf: Leaf, leaf_beds: Sequence[Bed], joints: Sequence[MovementJoint], reader: RuleReader
) -> tuple[BedReinforcement, ...]:
    """Every length of bed-joint reinforcement of a leaf, bottom up and from the wall's start.

    At openings nothing where the rule set lacks the counts or the reach (NHBC 6.11.5: the first two beds above and below an
    opening; the one the lintel or the sill lies in is not one of them). All along the leaf where it is to be reinforced
    every so far up. A length stops at voids, movement joints and the ends of the face. Lengths in mm.
    """
    above, below = figure(reader, "bed_reinforcement.courses_above"), figure(reader, "bed_reinforcement.courses_below")
    reach = figure(reader, "bed_reinforcement.reach")
    least = figure(reader, "coursing.split.min") or 2 * TOLERANCE
    wanted: dict[int, list[_Wanted]] = {}
    if leaf.reinforced_every is not None:
        wanted.update((bed, [_Wanted(leaf.span, ())]) for bed in _all_the_way_up(leaf_beds, leaf.reinforced_every))
    for group in wall.groups:
        if above is None or below is None or reach is None:
            break
        over, under = edges(wall, group)
        for edge in over:
            for bed in _beds_over(leaf_beds, edge.level, least, int(above)):
                wanted.setdefault(bed, []).append(_Wanted(edge.along, edge.openings))
        for edge in under:
            for bed in _beds_under(leaf_beds, edge.level, least, int(below)):
                wanted.setdefault(bed, []).append(_Wanted(edge.along, edge.openings))
    left_to_right = tuple(o.id for o in sorted(wall.openings, key=lambda o: (o.rect, o.id)))
    return tuple(
        made
        for index in sorted(wanted)
        for made in _in_bed(leaf, leaf_beds[index], wanted[index], reach or 0.0, joints, left_to_right, reader)
    )


def _all_the_way_up(leaf_beds: Sequence[Bed], every: float) -> list[int]:
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


def _in_bed(
    leaf: Leaf,
    bed: Bed,
    wanted: Sequence[_Wanted],
    reach: float,
    joints: Sequence[MovementJoint],
    left_to_right: Sequence[str],
    reader: RuleReader,
) -> Iterator[BedReinforcement]:
    """The lengths of one bed: reached out, stopped at voids, joints and ends, and merged where they nearly meet."""
    clearance = figure(reader, "bed_reinforcement.joint_clearance") or 0.0
    nearly = figure(reader, "bed_reinforcement.merge_gap") or 0.0
    basis = covered(reader, *_KEYS)
    gaps = [gap.grown(clearance) for gap in gaps_at(joints, bed.levels)]
    number = 0
    for stretch in masonry(leaf, bed.levels, gaps):
        served = [(w, w.span.grown(reach).common(stretch)) for w in wanted if w.span.overlaps(stretch)]
        for span in merge((reached for _, reached in served if reached), nearly):
            names = {name for w, reached in served if reached and span.contains(reached.middle) for name in w.openings}
            lap, pieces = _cut(span.length, reader)
            number += 1
            yield BedReinforcement(
                id=f"{leaf.id}/R{bed.under.number}-{number}",
                wall=leaf.wall,
                leaf=leaf.id,
                course=bed.under.number,
                level=bed.levels.start,
                span=span,
                laps=len(pieces) - 1,
                lap=lap,
                pieces=pieces,
                serves=tuple(name for name in left_to_right if name in names),
                basis=basis,
            )


def _cut(length: float, reader: RuleReader) -> tuple[float, tuple[float, ...]]:
    """Lap and pieces of a length; one uncut piece where the rule set has no stock length or lap that can be used."""
    stock, lap = figure(reader, "bed_reinforcement.stock_length"), figure(reader, "bed_reinforcement.lap")
    if stock is None or lap is None or stock <= lap:
        return 0.0, (length,)
    return lap, pieces_of(length, stock, lap)


def pieces_of(length: float, stock: float, lap: float) -> tuple[float, ...]:
    """The fewest pieces of a stock length that cover `length`, each `lap` over the next; they sum to length + laps x lap.

    The last piece is never shorter than two laps: it borrows from the one before it. ValueError where the stock is
    no longer than a lap.
    """
    if at_most(length, stock):
        return (length,)
    if stock <= lap:
        raise ValueError(f"pieces of {stock} mm cannot lap {lap} mm")
    count = ceil((length - lap - TOLERANCE) / (stock - lap))
    last = length + (count - 1) * lap - (count - 1) * stock
    borrowed = min(max(2 * lap - last, 0.0), (stock - last) / 2)
    return (*(stock for _ in range(count - 2)), stock - borrowed, last + borrowed)
