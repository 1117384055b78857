"""How a stretch of course ends: at a reveal or stopped end, at a corner, under a rake, against its own neighbour."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.bonds import Bond, Brick, Motif, Pieces
from elevgen.building.model import Leaf, LeafEnd, Unit
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.coursing.cells import Cell
from elevgen.coursing.rows import Margin
from elevgen.coursing.squints import Carried, Squint, carried, first_to_lap
from elevgen.coursing.stretch import End

_NOTHING = Margin()
_OUT_OF_SQUARE = 1.0
"""What a wall may lean through the thickness of the one it meets and still be laid as if it were square (mm)."""


class Finish(NamedTuple):
    """One end of a stretch: which pieces may stand there and what stands beyond them."""

    end: End
    margin: Margin


class Across(NamedTuple):
    """A bonded end whose courses run on into the leaf in line with it: whether this leaf owns the units that straddle the line.

    `levels` are those of the courses that both leaves have, to 0.001 mm; the others stop at the line.
    """

    straddles: bool
    levels: frozenset[float]


class Turns(NamedTuple):
    """The number of a leaf's lowest course, by which courses take turns at corners, and its ends that run on in line."""

    first: int = 0
    start: Across | None = None
    finish: Across | None = None

    def at(self, side: int, across: Across) -> Turns:
        """The same with another end that runs on in line."""
        return self._replace(finish=across) if side else self._replace(start=across)

    def across(self, side: int, level: float) -> Across | None:
        """How a course at this level runs on past an end."""
        found = self.finish if side else self.start
        return found if found and round(level, 3) in found.levels else None


def brick_of(leaf: Leaf, unit: Unit) -> Brick:
    """A unit as the leaf's bond sees it: a leaf as thick as a unit is wide shows halves for headers."""
    half = (unit.length - unit.joint) / 2
    return Brick(unit.length, unit.width if leaf.build == "one_brick" else half, unit.joint, unit.width)


def motif_of(leaf: Leaf, turns: Turns, unit: Unit, bond: Bond, course: int) -> Motif:
    """What course 0, 1, 2... of a leaf is made of."""
    turn = course + turns.first
    corners = (at for at in (leaf.start_end, leaf.finish_end) if at.kind == "corner" and abs(at.far - at.near) > TOLERANCE)
    even = next((at.through_on_even for at in corners), True)
    return bond.course(turn, even == (turn % 2 == 0), brick_of(leaf, unit))


def finishes_of(
    leaf: Leaf, turns: Turns, unit: Unit, motif: Motif, lap: float, course: int, cells: tuple[Cell, ...], cell: Cell
) -> tuple[Finish, Finish]:
    """The two ends of a cell in course 0, 1, 2... of a leaf. Margins there is no room for are left out."""
    turn = course + turns.first
    plain = Finish(End(motif.ends), _NOTHING)
    sides = []
    for side in (0, 1):
        if _raking(cell, side):
            sides.append(Finish(End((), raking=True), _NOTHING))
        elif _yields(cell, side, cells):
            sides.append(Finish(plain.end, Margin(unit.joint)))
        elif at := _leaf_end(leaf, cell, side):
            edge = leaf.span.end if side else leaf.span.start
            corner = _Corner(at, edge, leaf.thickness, unit, motif, leaf.build == "one_brick", lap)
            sides.append(corner.finish(turns.across(side, cell.level), turn))
        else:
            sides.append(plain)
    left, right = sides
    width = cell.right - cell.left
    if width - left.margin.length - right.margin.length >= unit.joint:
        return left, right
    if bool(left.margin.returned) != bool(right.margin.returned) and width >= left.margin.returned + right.margin.returned:
        return _only_returned(left, width), _only_returned(right, width)
    return _bare(left), _bare(right)


def _only_returned(finish: Finish, width: float) -> Finish:
    """The end of a stretch that holds no more than the unit from round the corner: what is left beside it is mortar."""
    returned = finish.margin.returned
    beside = Margin(width - returned, returned, between=finish.margin.between)
    return Finish(End(((),)), beside if returned else _NOTHING)


def _bare(finish: Finish) -> Finish:
    """The same end without what stands beyond it: no perpend there either, to be opened or tightened."""
    return Finish(finish.end._replace(perpend=False), _NOTHING)


def first_perpends(leaf: Leaf, turns: Turns, unit: Unit, bond: Bond, side: int) -> tuple[float, ...]:
    """How far from an end of a leaf the first perpend's centre line stands in courses 0, 2, 4...: each place it may have."""
    motif = motif_of(leaf, turns, unit, bond, 0)
    plain = Finish(End(motif.ends), _NOTHING)
    at, edge = (leaf.finish_end, leaf.span.end) if side else (leaf.start_end, leaf.span.start)
    if at.kind == "corner":
        corner = _Corner(at, edge, leaf.thickness, unit, motif, leaf.build == "one_brick", 0.0)
        plain = corner.finish(turns.finish if side else turns.start, turns.first)
    if plain.margin.joint:
        return (plain.margin.length - unit.joint / 2,)
    return tuple(row[0] + unit.joint / 2 for row in plain.end.rows)


def _raking(cell: Cell, side: int) -> bool:
    return _reach(cell, side)[1] - _reach(cell, side)[0] < cell.height - TOLERANCE


def _reach(cell: Cell, side: int) -> tuple[float, float]:
    """Lowest and highest level of a cell at one side."""
    column = cell.columns[-1 if side else 0]
    return (column.low_right, column.high_right) if side else (column.low_left, column.high_left)


def _yields(cell: Cell, side: int, cells: tuple[Cell, ...]) -> bool:
    """Whether a neighbour in the same course touches this side and the perpend between them is this cell's: the lower one's."""
    low, high = _reach(cell, side)
    edge = cell.right if side else cell.left
    for other in cells:
        if other is cell or abs((other.left if side else other.right) - edge) > TOLERANCE:
            continue
        other_low, other_high = _reach(other, 1 - side)
        if min(high, other_high) - max(low, other_low) > TOLERANCE and (high - low, low) < (other_high - other_low, other_low):
            return True
    return False


def _leaf_end(leaf: Leaf, cell: Cell, side: int) -> LeafEnd | None:
    at = leaf.finish_end if side else leaf.start_end
    edge, reached = (leaf.span.end, cell.right) if side else (leaf.span.start, cell.left)
    return at if at.kind == "corner" and abs(reached - edge) <= TOLERANCE else None


class _Corner(NamedTuple):
    """A corner end of a leaf, which stops at `edge`: courses alternately run through there and stop.

    Where the leaves are not bonded the first owns every course. In line one leaf's unit straddles the line by half in every
    other course; between, the other's begins at the line.
    """

    at: LeafEnd
    edge: float
    thickness: float
    unit: Unit
    motif: Motif
    one_brick: bool
    lap: float

    def finish(self, across: Across | None, turn: int) -> Finish:
        """How course `turn`, counted alike in all leaves bonded together, ends there."""
        depth, convex = abs(self.at.far - self.at.near), abs(self.at.far - self.edge) <= TOLERANCE
        if depth <= TOLERANCE:
            if across is None or max(len(row) for row in self.motif.ends) > 1:
                return Finish(End(self.motif.ends), _NOTHING)
            depth, convex = min(row[0] for row in self.motif.ends), not across.straddles
        if self.at.connection not in ("bonded", None):
            runs_through = self.at.through_on_even
        else:
            runs_through = self.at.through_on_even == (turn % 2 == 0)
        if self.one_brick and abs(self.at.lean) * self.thickness > _OUT_OF_SQUARE:
            squint = self._squint(depth)
            return Finish(*(squint.outer(runs_through) if convex else squint.inner(runs_through, self._least)))
        if self.one_brick and not convex:
            return self._seen_from_inside(depth, runs_through)
        if runs_through:
            return self._through(depth, convex)
        margin = self._round(depth) if convex else Margin(self.unit.joint)
        return Finish(End(self._lapping(margin.length, depth, convex), perpend=True), margin)

    def _round(self, depth: float) -> Margin:
        """What of the wall round the corner shows, and the perpend beside it: the end of its unit, or of two that lie abreast.

        All of a leaf that is thicker than this one.
        """
        joint, end = self.unit.joint, min(depth, self.unit.width) if self.one_brick else depth
        if self.motif.abreast > 1 and depth - end > joint + TOLERANCE:
            return Margin(joint, depth, between=joint)
        return Margin(joint, end)

    def _through(self, depth: float, convex: bool) -> Finish:
        """The course runs through; seen from inside, a part of its first unit is hidden."""
        shared = Margin(shared=self.one_brick and self.motif.abreast == 1)
        if convex:
            return Finish(End(self.motif.through), shared)
        (first, *rest), *_ = self.motif.through
        reach, spare = depth + self.at.beyond(self.thickness), first - min(min(row) for row in self.motif.ends)
        if reach > spare + TOLERANCE and self.at.lean:
            return self._out_of_sight(reach)
        hidden = min(reach, spare)
        return Finish(End(((first - hidden, *rest),), hidden), shared)

    def _out_of_sight(self, reach: float) -> Finish:
        """The course runs through behind a corner deeper than one unit: it begins where the far face reaches furthest.

        It begins with a row whose first piece in sight is long enough to lap the perpend at the corner under and over it.
        """
        rows = (*self.motif.through, *self.motif.ends)
        found = first_to_lap([self._carried(row, reach) for row in rows], reach, self._least)
        return Finish(End(((found.end - reach,),), reach - found.start), Margin(unseen=found.unseen))

    @property
    def _least(self) -> float:
        """How much of a piece that runs through behind a corner is to be seen."""
        return max(self.lap, self.unit.length / 4)

    def _carried(self, row: Pieces, reach: float) -> Carried:
        return carried(row, self.motif.repeat, self.unit.joint, reach)

    def _squint(self, depth: float) -> Squint:
        brick = Brick(self.unit.length, self.unit.width, self.unit.joint, self.unit.width)
        return Squint(brick, self.motif.repeat, self.thickness, depth, self.at)

    def _lapping(self, margin: float, depth: float, convex: bool) -> tuple[Pieces, ...]:
        """The rows beside a margin whose first perpend laps the one over and under it; the best one if none does."""
        (through, *_), *_ = self._through(depth, convex).end.rows

        def apart(row: Pieces) -> float:
            return abs(margin + row[0] - through)

        kept = tuple(row for row in self.motif.returned if at_least(apart(row), self.lap))
        return kept or (max(self.motif.returned, key=apart),)

    def _seen_from_inside(self, depth: float, runs_through: bool) -> Finish:
        """A wall one brick thick shows the same perpends on both faces: what its outer face shows, less what the corner hides."""
        returned = [end.length for end in self._round(depth).ends(0.0)[0]]
        row = self.motif.through[0] if runs_through else (*returned, *self.motif.returned[0])
        found = self._carried(row, depth)
        hidden, joint = max(0.0, depth - found.start), max(0.0, found.start - depth)
        shown = (found.piece - hidden, *found.rest)
        unseen = found.unseen[0 if runs_through else len(returned) :]
        shared = runs_through and self.motif.abreast == 1 and bool(unseen)
        return Finish(End((shown,), hidden, perpend=joint > 0), Margin(joint, shared=shared, unseen=unseen))
