"""How a stretch of course ends: at a reveal or stopped end, at a corner, under a rake, against its own neighbour."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.bonds import Bond
from elevgen.building.model import Leaf, LeafEnd, Unit
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.coursing.cells import Cell
from elevgen.coursing.rows import Margin
from elevgen.coursing.setout import End

_NOTHING = Margin()


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


def finishes_of(
    leaf: Leaf, turns: Turns, unit: Unit, bond: Bond, lap: float, course: int, cells: tuple[Cell, ...], cell: Cell
) -> tuple[Finish, Finish]:
    """The two ends of a cell in course 0, 1, 2... of a leaf. Margins there is no room for are left out."""
    turn = course + turns.first
    plain = Finish(End(bond.end_pieces(unit.length, unit.joint)), _NOTHING)
    sides = []
    for side in (0, 1):
        if _raking(cell, side):
            sides.append(Finish(End((), raking=True), _NOTHING))
        elif _yields(cell, side, cells):
            sides.append(Finish(plain.end, Margin(unit.joint)))
        elif at := _leaf_end(leaf, cell, side):
            edge = leaf.span.end if side else leaf.span.start
            sides.append(_at_leaf_end(at, edge, turns.across(side, cell.level), unit, lap, plain, turn))
        else:
            sides.append(plain)
    left, right = sides
    if cell.right - cell.left - left.margin.length - right.margin.length < unit.joint:
        return Finish(left.end, _NOTHING), Finish(right.end, _NOTHING)
    return left, right


def first_perpends(leaf: Leaf, turns: Turns, unit: Unit, bond: Bond, side: int) -> tuple[float, ...]:
    """How far from an end of a leaf the first perpend's centre line stands in courses 0, 2, 4...: each place it may have."""
    plain = Finish(End(bond.end_pieces(unit.length, unit.joint)), _NOTHING)
    at, edge = (leaf.finish_end, leaf.span.end) if side else (leaf.start_end, leaf.span.start)
    if at.kind == "corner":
        plain = _at_leaf_end(at, edge, turns.finish if side else turns.start, unit, 0.0, plain, turns.first)
    if plain.margin.joint:
        return (plain.margin.length - unit.joint / 2,)
    return tuple(piece + unit.joint / 2 for piece in plain.end.pieces)


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


def _at_leaf_end(at: LeafEnd, edge: float, across: Across | None, unit: Unit, lap: float, plain: Finish, turn: int) -> Finish:
    """At a corner courses alternately run through and stop; where the leaves are not bonded the first owns every course.

    In line one leaf's unit straddles the line by half in every other course; between, the other's begins at the line.
    """
    depth, convex = abs(at.far - at.near), abs(at.far - edge) <= TOLERANCE
    if depth <= TOLERANCE:
        if across is None:
            return plain
        depth, convex = min(plain.end.pieces), not across.straddles
    hidden = 0.0 if convex else min(depth, unit.length - min(plain.end.pieces))
    through = End((unit.length - hidden,), hidden)
    margin = Margin(unit.joint, depth if convex else 0.0)
    if at.connection not in ("bonded", None):
        return Finish(through, _NOTHING) if at.through_on_even else Finish(plain.end, margin)
    if at.through_on_even == (turn % 2 == 0):
        return Finish(through, _NOTHING)
    return Finish(End(_lapping(plain.end.pieces, margin.length, through.pieces[0], lap)), margin)


def _lapping(pieces: tuple[float, ...], margin: float, through: float, lap: float) -> tuple[float, ...]:
    """The pieces beside a margin whose perpend laps the through piece over and under it; the best one if none does."""
    kept = tuple(x for x in pieces if at_least(abs(margin + x - through), lap))
    return kept or (max(pieces, key=lambda x: abs(margin + x - through)),)
