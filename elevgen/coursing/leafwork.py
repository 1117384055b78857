"""One leaf being laid: course after course, each stretch set out on the perpends of the course below."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby
from typing import NamedTuple

from elevgen.bonds import Bond, Motif, load_bond
from elevgen.building.model import Leaf, LeafEnd, Unit
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_least
from elevgen.coursing.allowances import Allowances
from elevgen.coursing.cells import Cell, face_of
from elevgen.coursing.clearings import clearings_of
from elevgen.coursing.ends import Across, Finish, Turns, brick_of, finishes_of, motif_of
from elevgen.coursing.gauge import Band
from elevgen.coursing.lintel_beds import kept_clear
from elevgen.coursing.model import Course, LeafCoursing, LintelSeat, Misfit, Pattern, Piece, Placement, RakePiece, UnitCount
from elevgen.coursing.plan import Memory, plan
from elevgen.coursing.rows import Laying, Row, Rows, assemble
from elevgen.coursing.slots import Slot, Slots
from elevgen.coursing.stretch import Clear, Layout
from elevgen.joints.model import MovementJoint


@dataclass(slots=True)
class Yard:
    """What all leaves share while they are laid: rows solved so far, and patterns in the order of first use."""

    leaves: dict[object, LeafCoursing] = field(default_factory=dict)
    rows: Rows = field(default_factory=Rows)
    memory: Memory = field(default_factory=Memory)
    patterns: dict[tuple[str, int, float], Pattern] = field(default_factory=dict)

    def pattern(self, row: Row, unit: Unit, height: float) -> Pattern:
        """The pattern of a row of these units at this height; a height below the unit's is a split course."""
        key = (unit.name, row.serial, round(height, 3))
        if key not in self.patterns:
            split = height < unit.height - TOLERANCE
            name = f"P{len(self.patterns) + 1}"
            parts = row.pieces, row.perpends, row.hidden, row.unseen
            self.patterns[key] = Pattern(name, unit.name, row.length, height, split, *parts)
        return self.patterns[key]


def lay_leaf(
    leaf: Leaf,
    joints: Sequence[MovementJoint],
    bands: Sequence[Band],
    misfits: tuple[Misfit, ...],
    turns: Turns,
    seats: Sequence[LintelSeat],
    allowances: Allowances,
    yard: Yard,
) -> LeafCoursing:
    """A leaf laid in its bond; one that is like another as far as masonry goes is not laid anew."""
    ends = [(at.kind, at.near, at.far, at.connection, at.through_on_even, at.lean) for at in (leaf.start_end, leaf.finish_end)]
    gaps = tuple(Rect(j.gap.start, j.levels.start, j.gap.end, j.levels.end) for j in joints)
    key = (
        leaf.span,
        leaf.bond,
        leaf.build,
        leaf.zones,
        leaf.base,
        leaf.top,
        leaf.voids,
        gaps,
        *ends,
        turns,
        tuple(bands),
        tuple((seat.level, seat.clear, seat.along, seat.body) for seat in seats),
    )
    if key not in yard.leaves:
        bond = load_bond(leaf.bond)
        work = LeafWork(leaf, bond, gaps, turns, _lintels(seats, bands, allowances), allowances, yard)
        clear = clearings_of(leaf, bands, seats, allowances, whole_at_bearing=not bond.HEADERS) if bond.LAPS else {}
        for number, band in enumerate(bands):
            work.lay_course(band, clear.get(number, ()))
        yard.leaves[key] = work.finished()
    return replace(yard.leaves[key], leaf=leaf.id, misfits=misfits)


class _LaidLintel(NamedTuple):
    """A lintel that takes the place of units: what it takes itself, and what it keeps clear of them."""

    body: Rect
    kept_clear: Rect


def _lintels(seats: Sequence[LintelSeat], bands: Sequence[Band], allowances: Allowances) -> tuple[_LaidLintel, ...]:
    clear = [(seat.body, kept_clear(seat, bands, allowances.bed_tolerance)) for seat in seats]
    return tuple(_LaidLintel(body, around) for body, around in clear if body and around)


class LeafWork:
    """A leaf while it is laid, from the bottom up."""

    def __init__(
        self,
        leaf: Leaf,
        bond: Bond,
        gaps: tuple[Rect, ...],
        turns: Turns,
        lintels: Sequence[_LaidLintel],
        allowances: Allowances,
        yard: Yard,
    ) -> None:
        open_ = (*leaf.voids, *gaps)
        holes = (*open_, *(lintel.kept_clear for lintel in lintels))
        self._turns = turns
        self._leaf, self._bond, self._yard = leaf, bond, yard
        self._split_min = allowances.split_min
        self._limits = {zone.unit.name: allowances.limits(zone.unit, bond.LAPS) for zone in leaf.zones}
        self._face = face_of(leaf.span, leaf.base, leaf.top, holes)
        self._lintels = lintels
        self._round_lintels = face_of(leaf.span, leaf.base, leaf.top, (*open_, *(lintel.body for lintel in lintels)))
        self._slots = Slots(_reads_from_right(leaf, turns, holes), bond.PERIOD)
        self._laid: list[tuple[Unit, tuple[Cell, ...]]] = []
        self._ends: dict[object, list[tuple[Finish, Finish]]] = {}
        self._courses: list[Course] = []
        self._placements: list[Placement] = []
        self._rakes: list[RakePiece] = []
        self._uses: Counter[str] = Counter()
        self._rake_area = 0.0
        self._mortar = 0.0

    def lay_course(self, band: Band, clear: Sequence[Clear]) -> None:
        """One course: its bed, and what stretches of units it has; `clear` are places along the wall without perpends."""
        cells, bed_area = self._face.cells(band)
        self._mortar += bed_area + self._mortar_round_lintels(band, sum(cell.area for cell in cells) + bed_area)
        if band.top - band.level <= TOLERANCE:
            return
        number = len(self._courses) + 1
        units = tuple(c for c in cells if self._worth_cutting(c, band))
        self._mortar += sum(c.area for c in cells if c not in units)
        motif = motif_of(self._leaf, self._turns, band.unit, self._bond, number - 1)
        self._slots.add(band, units, self._finishes(band, number, units, motif), motif, clear)
        self._laid.append((band.unit, units))
        span = Span(units[0].left, max(c.right for c in units)) if units else self._leaf.span
        self._courses.append(Course(number, band.unit.name, band.level, band.level - band.bottom, band.top - band.level, span))

    def _mortar_round_lintels(self, band: Band, laid: float) -> float:
        """Of a course's face what is neither lintel nor, at `laid`, units and bed: the joints round lintels."""
        if not any(x.kept_clear.bottom < band.top and x.kept_clear.top > band.bottom for x in self._lintels):
            return 0.0
        cells, bed_area = self._round_lintels.cells(band)
        return sum(cell.area for cell in cells) + bed_area - laid

    def _finishes(self, band: Band, number: int, cells: tuple[Cell, ...], motif: Motif) -> list[tuple[Finish, Finish]]:
        """How every stretch of a course ends; as two courses before where they are as high as the course and lie alike."""
        lap = self._limits[band.unit.name].lap
        plain = all(len(c.columns) == 1 and c.level == band.level and c.top == band.top and not c.raking for c in cells)
        across = tuple(self._turns.across(side, band.level) for side in (0, 1))
        key = (band.unit.name, number % 2, motif, across, tuple((c.left, c.right) for c in cells)) if plain else number
        if key not in self._ends:
            self._ends[key] = [
                finishes_of(self._leaf, self._turns, band.unit, motif, lap, number - 1, cells, cell) for cell in cells
            ]
        return self._ends[key]

    def finished(self) -> LeafCoursing:
        """Sets out all courses and lays them: the leaf with its counts and areas."""
        self._lay_all()
        patterns = {p.id: p for p in self._yard.patterns.values() if p.id in self._uses}
        full: Counter[str] = Counter()
        cut: Counter[str] = Counter()
        for rake in self._rakes:
            cut[rake.unit] += rake.deep
        units, perpends = self._rake_area, 0.0
        for name, times in self._uses.items():
            pattern = patterns[name]
            whole, pieces = pattern.counts
            full[pattern.unit] += times * whole
            cut[pattern.unit] += times * pieces
            units += times * pattern.height * sum(p.length for p in pattern.pieces)
            perpends += times * pattern.height * sum(p.width for p in pattern.perpends)
        names = sorted({zone.unit.name for zone in self._leaf.zones})
        return LeafCoursing(
            leaf=self._leaf.id,
            courses=tuple(self._courses),
            placements=tuple(self._placements),
            rakes=tuple(self._rakes),
            counts=tuple(UnitCount(name, full[name], cut[name]) for name in names),
            unit_area=units,
            mortar_area=self._mortar + perpends,
            misfits=(),
        )

    def _lay_all(self) -> None:
        middles = [(void.left + void.right) / 2 for void in self._leaf.voids]
        layouts = plan(self._slots, self._limits, middles, self._yard.memory)
        rows = [self._row(slot, layout) for slot, layout in zip(self._slots.all, layouts, strict=True)]
        for number, ((unit, cells), slots) in enumerate(zip(self._laid, self._slots.courses, strict=True), 1):
            for cell, slot in zip(cells, slots, strict=True):
                if cell.raking:
                    self._lay_raking(unit, number, cell, rows[slot])
                else:
                    self._place(unit, number, cell.level, cell.height, cell.left, rows[slot])

    def _row(self, slot: Slot, layout: Layout) -> Row:
        left, right = slot.finishes
        hidden, margins = (left.end.hidden, right.end.hidden), (left.margin, right.margin)
        brick, deep = brick_of(self._leaf, slot.unit), 2 if self._leaf.build == "one_brick" else 1
        laying = Laying(slot.unit.length, brick.header, deep, self._bond.HEADERS, slot.motif.closers(brick))
        return assemble(self._yard.rows, slot.right - slot.left, layout, laying, hidden, margins)

    def _worth_cutting(self, cell: Cell, band: Band) -> bool:
        """Whether a stretch is high (and, under a slope, long) enough for units; what is not is made up in mortar."""
        least = min(self._split_min, band.unit.height)
        return at_least(cell.height, least) and (not cell.raking or at_least(cell.right - cell.left, least))

    def _place(self, unit: Unit, number: int, level: float, height: float, left: float, row: Row) -> None:
        pattern = self._yard.pattern(row, unit, height)
        self._uses[pattern.id] += 1
        self._placements.append(Placement(number, level, pattern.id, Span(left, left + row.length)))

    def _lay_raking(self, unit: Unit, number: int, cell: Cell, row: Row) -> None:
        """Under a slope: pieces of the full height as patterns, the others cut to the slope with their perpends."""
        taken: list[Span] = []
        for upright, pieces in groupby(row.pieces, key=lambda p: _upright(cell, cell.left + p.at, cell.left + p.at + p.length)):
            group = list(pieces)
            if upright:
                part = self._yard.rows.part(row, row.pieces.index(group[0]), row.pieces.index(group[-1]))
                left = cell.left + group[0].at
                self._place(unit, number, cell.clipped(left, left + 1)[0].low_left, cell.height, left, part)
                taken.append(Span(left, left + part.length))
            else:
                self._cut_to_slope(unit, number, cell, group, row)
        for perpend in row.perpends:
            left = cell.left + perpend.at
            if not any(t.start < left + perpend.width / 2 < t.end for t in taken):
                self._mortar += sum(c.area for c in cell.clipped(left, left + perpend.width))

    def _cut_to_slope(self, unit: Unit, number: int, cell: Cell, pieces: list[Piece], row: Row) -> None:
        for piece in pieces:
            left, right = cell.left + piece.at, cell.left + piece.at + piece.length
            hidden = row.hidden[0] * (piece is row.pieces[0]) + row.hidden[1] * (piece is row.pieces[-1])
            deep = 0 if piece.kind == "return" else piece.deep
            self._rakes.append(RakePiece(number, unit.name, cell.outline(left, right), piece.laid, deep, hidden))
            self._rake_area += sum(c.area for c in cell.clipped(left, right))


def _upright(cell: Cell, left: float, right: float) -> bool:
    return all(c.flat and c.height >= cell.height - TOLERANCE for c in cell.clipped(left, right))


def _reads_from_right(leaf: Leaf, turns: Turns, holes: Iterable[Rect]) -> bool:
    """Whether the leaf is set out from its right end: the same end of a leaf and of its mirror image."""
    start, end = leaf.span.start, leaf.span.end
    found = tuple(holes)

    def from_left(x: float) -> float:
        return round(x - start, 3) + 0.0

    def from_right(x: float) -> float:
        return round(end - x, 3) + 0.0

    def seen(at: LeafEnd, across: Across | None, edge: float) -> tuple[object, ...]:
        run_on = () if across is None else (across.straddles, *sorted(across.levels))
        return at.kind, round(abs(at.near - edge), 3), round(abs(at.far - edge), 3), at.through_on_even, run_on

    ends = (seen(leaf.start_end, turns.start, start), seen(leaf.finish_end, turns.finish, end))
    profiles = [p for profile in (leaf.base, leaf.top) for p in profile.points]
    one = [(from_left(r.left), from_left(r.right), r.bottom, r.top) for r in found] + [(from_left(x), y) for x, y in profiles]
    two = [(from_right(r.right), from_right(r.left), r.bottom, r.top) for r in found] + [(from_right(x), y) for x, y in profiles]
    return (sorted(two), ends[::-1]) < (sorted(one), ends)
