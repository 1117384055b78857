"""One leaf being laid: course after course, each stretch set out on the perpends of the course below."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import NamedTuple

from elevgen.bonds import Bond
from elevgen.building.model import Leaf, LeafEnd, Unit
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_least
from elevgen.coursing.allowances import Allowances
from elevgen.coursing.cells import Cell, face_of
from elevgen.coursing.ends import finishes_of
from elevgen.coursing.gauge import Band
from elevgen.coursing.model import Course, LeafCoursing, Misfit, Pattern, Piece, Placement, RakePiece, UnitCount
from elevgen.coursing.rows import Row, Rows, assemble
from elevgen.coursing.setout import Stretch, set_out
from elevgen.joints.model import MovementJoint


@dataclass(slots=True)
class Yard:
    """What all leaves share while they are laid: rows solved so far, and patterns in the order of first use."""

    rows: Rows = field(default_factory=Rows)
    solved: dict[tuple[object, ...], Row] = field(default_factory=dict)
    patterns: dict[tuple[str, int, float], Pattern] = field(default_factory=dict)

    def pattern(self, row: Row, unit: Unit, height: float) -> Pattern:
        """The pattern of a row of these units at this height; a height below the unit's is a split course."""
        key = (unit.name, row.serial, round(height, 3))
        if key not in self.patterns:
            split = height < unit.height - TOLERANCE
            name = f"P{len(self.patterns) + 1}"
            self.patterns[key] = Pattern(name, unit.name, row.length, height, split, row.pieces, row.perpends, row.hidden)
        return self.patterns[key]


class _Laid(NamedTuple):
    """A row of the course before, for the laps of the next."""

    left: float
    right: float
    top: float
    row: Row


class LeafWork:
    """A leaf while it is laid, from the bottom up."""

    def __init__(self, leaf: Leaf, bond: Bond, joints: Sequence[MovementJoint], allowances: Allowances, yard: Yard) -> None:
        gaps = (Rect(j.gap.start, j.levels.start, j.gap.end, j.levels.end) for j in joints)
        holes = (*leaf.voids, *gaps)
        self._leaf, self._bond, self._yard = leaf, bond, yard
        self._split_min = allowances.split_min
        self._limits = {zone.unit.name: allowances.limits(zone.unit) for zone in leaf.zones}
        self._face = face_of(leaf.span, leaf.base, leaf.top, holes)
        self._from_right = _reads_from_right(leaf, holes)
        self._courses: list[Course] = []
        self._placements: list[Placement] = []
        self._rakes: list[RakePiece] = []
        self._uses: Counter[str] = Counter()
        self._set_out: dict[tuple[object, ...], tuple[Row, ...]] = {}
        self._rake_area = 0.0
        self._mortar = 0.0
        self._below: tuple[_Laid, ...] = ()
        self._unit_below = ""

    def lay_course(self, band: Band) -> None:
        """One course: its bed, then every stretch of its units."""
        cells, bed_area = self._face.cells(band)
        self._mortar += bed_area
        if band.top - band.level <= TOLERANCE:
            return
        if band.unit.name != self._unit_below:
            self._below, self._unit_below = (), band.unit.name
        number = len(self._courses) + 1
        units = tuple(c for c in cells if self._worth_cutting(c, band))
        self._mortar += sum(c.area for c in cells if c not in units)
        rows = self._rows(band, number, units)
        for cell, row in zip(units, rows, strict=True):
            if cell.raking:
                self._lay_raking(band.unit, number, cell, row)
            else:
                self._place(band.unit, number, cell.level, cell.height, cell.left, row)
        self._below = tuple(_Laid(cell.left, cell.right, cell.top, row) for cell, row in zip(units, rows, strict=True))
        span = Span(units[0].left, max(c.right for c in units)) if units else self._leaf.span
        self._courses.append(Course(number, band.unit.name, band.level, band.level - band.bottom, band.top - band.level, span))

    def finished(self, misfits: tuple[Misfit, ...]) -> LeafCoursing:
        """The leaf as laid, with its counts and areas."""
        patterns = {p.id: p for p in self._yard.patterns.values() if p.id in self._uses}
        full: Counter[str] = Counter()
        cut: Counter[str] = Counter(r.unit for r in self._rakes)
        units, perpends = self._rake_area, 0.0
        for name, times in self._uses.items():
            pattern = patterns[name]
            whole = 0 if pattern.split else sum(p.kind == "full" for p in pattern.pieces)
            full[pattern.unit] += times * whole
            cut[pattern.unit] += times * (sum(p.kind != "return" for p in pattern.pieces) - whole)
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
            misfits=misfits,
        )

    def _worth_cutting(self, cell: Cell, band: Band) -> bool:
        """Whether a stretch is high (and, under a slope, long) enough for units; what is not is made up in mortar."""
        least = min(self._split_min, band.unit.height)
        return at_least(cell.height, least) and (not cell.raking or at_least(cell.right - cell.left, least))

    def _rows(self, band: Band, number: int, cells: tuple[Cell, ...]) -> tuple[Row, ...]:
        """A row for each cell. Courses repeat: the same cells on the same rows are set out once."""
        over = tuple(tuple(c.over(band.bottom) for c in cell.columns) for cell in cells)
        under = tuple((r.left, r.right, round(r.top - band.bottom, 6), r.row.serial) for r in self._below)
        key = (band.unit.name, number % 2, over, under)
        if key not in self._set_out:
            self._set_out[key] = tuple(self._row(band, number, cells, cell) for cell in cells)
        return self._set_out[key]

    def _row(self, band: Band, number: int, cells: tuple[Cell, ...], cell: Cell) -> Row:
        unit, length, limits = band.unit, cell.right - cell.left, self._limits[band.unit.name]
        left, right = finishes_of(self._leaf, unit, self._bond, limits.lap, number - 1, cells, cell)
        inner = Span(cell.left + left.margin.length, cell.right - right.margin.length)
        under = self._under(band, cell)
        alike = len(under) == 1 and abs(under[0].left - cell.left) <= 1e-6 and abs(under[0].right - cell.right) <= 1e-6
        below = () if alike else _lines(under, inner)
        stands_on = under[0].row.serial if alike else below
        key = (unit.name, unit.length, unit.joint, round(length, 5), left, right, stands_on, self._from_right)
        if key not in self._yard.solved:
            stretch = Stretch(inner.length, left.end, right.end, _lines(under, inner))
            layout = set_out(stretch.mirrored(), limits).mirrored() if self._from_right else set_out(stretch, limits)
            hidden, margins = (left.end.hidden, right.end.hidden), (left.margin, right.margin)
            self._yard.solved[key] = assemble(self._yard.rows, length, layout, unit.length, hidden, margins)
        return self._yard.solved[key]

    def _under(self, band: Band, cell: Cell) -> tuple[_Laid, ...]:
        """The rows of the course before that a cell stands on."""
        if cell.level > band.level + TOLERANCE:
            return ()
        return tuple(
            r for r in self._below if r.left < cell.right and r.right > cell.left and abs(r.top - band.bottom) <= TOLERANCE
        )

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
                self._cut_to_slope(unit, number, cell, group)
        for perpend in row.perpends:
            left = cell.left + perpend.at
            if not any(t.start < left + perpend.width / 2 < t.end for t in taken):
                self._mortar += sum(c.area for c in cell.clipped(left, left + perpend.width))

    def _cut_to_slope(self, unit: Unit, number: int, cell: Cell, pieces: list[Piece]) -> None:
        for piece in pieces:
            left, right = cell.left + piece.at, cell.left + piece.at + piece.length
            self._rakes.append(RakePiece(number, unit.name, cell.outline(left, right)))
            self._rake_area += sum(c.area for c in cell.clipped(left, right))


def _lines(under: tuple[_Laid, ...], inner: Span) -> tuple[float, ...]:
    """Centre lines of the perpends of the rows below, from the left of `inner` and inside it."""
    every = (round(r.left + line - inner.start, 5) for r in under for line in r.row.lines)
    return tuple(x for x in every if 0 < x < inner.length)


def _upright(cell: Cell, left: float, right: float) -> bool:
    return all(c.flat and c.height >= cell.height - TOLERANCE for c in cell.clipped(left, right))


def _reads_from_right(leaf: Leaf, holes: Iterable[Rect]) -> bool:
    """Whether the leaf is set out from its right end: the same end of a leaf and of its mirror image."""
    start, end = leaf.span.start, leaf.span.end
    found = tuple(holes)

    def from_left(x: float) -> float:
        return round(x - start, 3) + 0.0

    def from_right(x: float) -> float:
        return round(end - x, 3) + 0.0

    def seen(at: LeafEnd, edge: float) -> tuple[object, ...]:
        return at.kind, round(abs(at.near - edge), 3), round(abs(at.far - edge), 3), at.through_on_even

    ends = (seen(leaf.start_end, start), seen(leaf.finish_end, end))
    profiles = [p for profile in (leaf.base, leaf.top) for p in profile.points]
    one = [(from_left(r.left), from_left(r.right), r.bottom, r.top) for r in found] + [(from_left(x), y) for x, y in profiles]
    two = [(from_right(r.right), from_right(r.left), r.bottom, r.top) for r in found] + [(from_right(x), y) for x, y in profiles]
    return (sorted(two), ends[::-1]) < (sorted(one), ends)
