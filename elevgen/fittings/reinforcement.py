"""Bed-joint reinforcement of a building: which lengths lie in which beds, and where they go on round corners."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from elevgen.building.given import GivenReinforcement
from elevgen.building.model import Building, Leaf, Wall
from elevgen.core.geometry import TOLERANCE, Span, merge, subtract
from elevgen.coursing.allowances import read_allowances
from elevgen.coursing.faces import gaps_at, masonry
from elevgen.coursing.model import Coursing, LintelSeat
from elevgen.fittings.beds import Bed
from elevgen.fittings.corners import ENDS, BedsOf, End, bed_at, corners, from_end, touches_end
from elevgen.fittings.model import BedReinforcement, ReinforcedFor, StockCutting
from elevgen.fittings.reinforced_beds import WHOLE, Wanted, wanted_beds
from elevgen.fittings.reinforcement_chains import Link, Run
from elevgen.fittings.reinforcement_pieces import cut_runs
from elevgen.fittings.steel import least_lap, width_most
from elevgen.joints.model import JointPlan
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure

_STEM = "bed_reinforcement"
_CUT = tuple(f"{_STEM}.{name}" for name in ("lap", "stock_length", "stagger", "stagger.height", "cover"))
_PLACED = tuple(f"{_STEM}.{name}" for name in ("courses_above", "courses_below", "reach", "merge_gap", "joint_clearance"))
_RULES: Mapping[ReinforcedFor, tuple[str, ...]] = {
    "stack_bond": ("bond.stack.bed_spacing",),
    "parapet": (f"{_STEM}.parapet.spacing",),
    "low_lap": (f"{_STEM}.short_laps", f"{_STEM}.reach"),
}


class _Reached(NamedTuple):
    """A stretch of a bed that is reinforced, not yet merged with its neighbours."""

    span: Span
    openings: tuple[str, ...]
    why: ReinforcedFor


@dataclass
class _BedOfLeaf:
    """What is found out about one bed of a leaf: its masonry, what is reinforced of it, and where that would go on but cannot."""

    stretches: tuple[Span, ...]
    reached: list[_Reached] = field(default_factory=list)
    stopped: dict[End, str] = field(default_factory=dict)


def bed_reinforcement(
    building: Building, coursing: Coursing, leaf_beds: BedsOf, plan: JointPlan, reader: RuleReader
) -> tuple[tuple[BedReinforcement, ...], tuple[StockCutting, ...]]:
    """Every length of bed-joint reinforcement, leaf by leaf, bottom up and from the wall's start; and how stock is cut for them.

    At openings, in leaves said to be reinforced all over, in stack bond, in parapets, and where courses lap too little. A length
    stops at voids, movement joints and ends, and goes on round bonded corners for what is left of its reach. Lengths the spec
    lists are kept as they are; others are placed beside them only where the wall says so. Lengths in mm.
    """
    if not coursing.leaves:
        return (), ()
    runs = _Placing(building, coursing, leaf_beds, plan, reader).runs()
    return cut_runs(building, runs, [_basis(run, reader) for run in runs], reader)


def _basis(run: Run, reader: RuleReader) -> tuple[str, ...]:
    if run.given:
        return covered(reader, f"{_STEM}.lap", f"{_STEM}.stock_length")
    placed = _PLACED if {"opening", "corner"} & set(run.why) else _PLACED[-2:]
    return tuple(dict.fromkeys(covered(reader, *placed, *(key for why in run.why for key in _RULES.get(why, ())), *_CUT)))


class _Placing:
    """Works out the lengths of a building."""

    def __init__(self, building: Building, coursing: Coursing, beds: BedsOf, plan: JointPlan, reader: RuleReader) -> None:
        self.building, self.beds, self.plan, self.reader = building, beds, plan, reader
        self.walls = {wall.id: wall for wall in building.walls}
        self.corners = corners(building)
        self.clearance = figure(reader, f"{_STEM}.joint_clearance") or 0.0
        self.nearly = figure(reader, f"{_STEM}.merge_gap") or 0.0
        self.leg = least_lap(reader) or 0.0
        self.laid = {laid.leaf: laid for laid in coursing.leaves}
        self.seats: dict[str, list[LintelSeat]] = {leaf.id: [] for leaf in building.leaves}
        for seat in coursing.lintels:
            self.seats[seat.leaf].append(seat)
        self.patterns = {pattern.id: pattern for pattern in coursing.patterns}
        self.allowances = read_allowances(reader)
        self.found: dict[tuple[str, int], _BedOfLeaf] = {}

    def runs(self) -> list[Run]:
        """Every length, as it is linked round corners."""
        for leaf in self.building.leaves:
            wall = self.walls[leaf.wall]
            if wall.reinforcement.placing:
                self._reach(wall, leaf)
        return self._linked([run for leaf in self.building.leaves for run in self._of(leaf)])

    def _bed(self, leaf: Leaf, index: int) -> _BedOfLeaf:
        if (leaf.id, index) not in self.found:
            levels = self.beds[leaf.id][index].levels
            gaps = [gap.grown(self.clearance) for gap in gaps_at(self.plan.on_leaf(leaf.id), levels)]
            gaps += [body.along for x in self.seats[leaf.id] if (body := x.body) and body.bottom < levels.middle < body.top]
            self.found[leaf.id, index] = _BedOfLeaf(masonry(leaf, levels, gaps))
        return self.found[leaf.id, index]

    def _reach(self, wall: Wall, leaf: Leaf) -> None:
        """What one leaf asks for, in its own beds and round its corners."""
        laid, beds = self.laid[leaf.id], self.beds[leaf.id]
        asked = wanted_beds(wall, leaf, beds, laid, self.patterns, self.allowances, self.leg, self.seats[leaf.id], self.reader)
        half = min(zone.unit.length for zone in leaf.zones) / 2
        for index, wanted in asked.items():
            bed = self._bed(leaf, index)
            for stretch in bed.stretches:
                for one in wanted:
                    if one.why in WHOLE and stretch.length < half:
                        continue
                    reached = one.span.grown(one.reach).common(stretch) if one.span.overlaps(stretch) else None
                    if one.span.length <= TOLERANCE and stretch.contains(one.span.start):
                        reached = one.span.grown(one.reach).common(stretch)
                    if reached is not None:
                        bed.reached.append(_Reached(reached, one.openings, one.why))
                        self._round(leaf, index, one, stretch)

    def _round(self, leaf: Leaf, index: int, wanted: Wanted, stretch: Span) -> None:
        """On round the corners the stretch comes to, for what is left of the reach."""
        for end in ENDS:
            left = leaf.span.start - (wanted.span.start - wanted.reach)
            if end == "finish":
                left = wanted.span.end + wanted.reach - leaf.span.end
            if left > TOLERANCE and touches_end(stretch, leaf, end):
                self._go_on(leaf, index, end, left, wanted)

    def _go_on(self, leaf: Leaf, index: int, end: End, left: float, wanted: Wanted) -> None:
        """Into the leaf round a corner, no shorter than a lap, so that the bend is held; and round its next one."""
        corner = self.corners.get((leaf.id, end))
        if corner is None or not self.walls[corner.leaf.wall].reinforcement.placing:
            return
        there = bed_at(self.beds[leaf.id][index].levels, self.beds[corner.leaf.id])
        if there is None:
            self._bed(leaf, index).stopped[end] = corner.leaf.id
            return
        bed = self._bed(corner.leaf, there)
        stretch = next((s for s in bed.stretches if touches_end(s, corner.leaf, corner.end)), None)
        if stretch is None:
            return
        bed.reached.append(_Reached(from_end(stretch, corner.end, min(max(left, self.leg), stretch.length)), (), "corner"))
        other: End = "finish" if corner.end == "start" else "start"
        if left - stretch.length > TOLERANCE and touches_end(stretch, corner.leaf, other):
            self._go_on(corner.leaf, there, other, left - stretch.length, wanted)

    def _of(self, leaf: Leaf) -> Iterator[Run]:
        """The lengths of one leaf: those listed, then the others, bottom up."""
        wall = self.walls[leaf.wall]
        given = [part for part in wall.reinforcement.parts if part.leaf in (None, leaf.side)]
        width = width_most(leaf.thickness, self.reader)
        order = {name: n for n, name in enumerate(o.id for o in sorted(wall.openings, key=lambda o: (o.rect, o.id)))}
        for number, part in enumerate(given, 1):
            yield _listed(wall, leaf, part, number, self.beds[leaf.id], width)
        for index in sorted(i for name, i in self.found if name == leaf.id):
            bed, between = self.found[leaf.id, index], self.beds[leaf.id][index]
            there = [part.span for part in given if between.levels.grown(TOLERANCE).contains(part.level)]
            number = 0
            for stretch in bed.stretches:
                parts = [r for r in bed.reached if r.span.overlaps(stretch)]
                for whole in merge((r.span for r in parts), self.nearly):
                    serves = [r for r in parts if whole.contains(r.span.middle)]
                    for span in _beside(whole, there, self.leg):
                        number += 1
                        yield Run(
                            id=f"{leaf.id}/R{between.under.number}-{number}",
                            leaf=leaf,
                            bed=index,
                            course=between.under.number,
                            level=between.levels.start,
                            span=span,
                            serves=tuple(sorted({name for r in serves for name in r.openings}, key=lambda n: order.get(n, 0))),
                            why=_reasons({r.why for r in serves}),
                            ends_at=tuple(name for end, name in sorted(bed.stopped.items()) if touches_end(span, leaf, end)),
                            width_most=width,
                        )

    def _linked(self, runs: list[Run]) -> list[Run]:
        """Lengths that come to one bonded corner from both sides, in beds at one level, are one."""
        at_end = {
            (run.leaf.id, run.bed, end): n
            for n, run in enumerate(runs)
            for end in ENDS
            if not run.given and touches_end(run.span, run.leaf, end)
        }
        linked = []
        for run in runs:
            links = ((end, self._link(run, end, at_end)) for end in ENDS)
            linked.append(run._replace(links=tuple((end, link) for end, link in links if link is not None)))
        return linked

    def _link(self, run: Run, end: End, at_end: Mapping[tuple[str, int | None, End], int]) -> Link | None:
        corner = self.corners.get((run.leaf.id, end))
        if corner is None or run.bed is None or run.given or not touches_end(run.span, run.leaf, end):
            return None
        there = bed_at(self.beds[run.leaf.id][run.bed].levels, self.beds[corner.leaf.id])
        if there is None or bed_at(self.beds[corner.leaf.id][there].levels, self.beds[run.leaf.id]) != run.bed:
            return None
        other = at_end.get((corner.leaf.id, there, corner.end))
        return None if other is None else Link(other, corner.end, corner.round)


def _reasons(found: set[ReinforcedFor]) -> tuple[ReinforcedFor, ...]:
    """In order; what comes round a corner is told only where there is nothing else."""
    return tuple(sorted(found - {"corner"} or found))


def _beside(span: Span, there: Sequence[Span], lap: float) -> Iterator[Span]:
    """What of a span reinforcement that is there leaves to be done, lapped over it; never past the span itself."""
    for left in subtract(span, there):
        start = left.start - (lap if left.start > span.start + TOLERANCE else 0.0)
        end = left.end + (lap if left.end < span.end - TOLERANCE else 0.0)
        yield Span(max(start, span.start), min(end, span.end))


def _listed(wall: Wall, leaf: Leaf, part: GivenReinforcement, number: int, leaf_beds: Sequence[Bed], width: float | None) -> Run:
    """A length as the spec has it, on the course under its level."""
    at = next((i for i, bed in enumerate(leaf_beds) if bed.levels.grown(TOLERANCE).contains(part.level)), None)
    under = [bed.under.number for bed in leaf_beds if bed.under.level <= part.level]
    return Run(
        id=f"{leaf.id}/R-G{number}",
        leaf=leaf,
        bed=at,
        course=max(under, default=0),
        level=part.level,
        span=part.span,
        serves=tuple(o.id for o in sorted(wall.openings, key=lambda o: (o.rect, o.id)) if o.rect.along.overlaps(part.span)),
        why=("given",),
        ends_at=(),
        width_most=width,
        given=True,
    )
