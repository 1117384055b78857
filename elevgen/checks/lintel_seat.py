"""The unit at each reveal under a lintel's bearing is a whole one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Leaf, Unit
from elevgen.checks._finding import at_fitting, found
from elevgen.checks._laid import LaidPiece, LaidWork, laid_work
from elevgen.checks._words import listed
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.fittings.model import Lintel
from elevgen.result import Design, Finding, Severity

CODE = "lintel-seat"
TITLE = "Whole units under lintels"
RATIONALE = "A lintel set on a half or a slip at the reveal presses on the piece that is least held: it cracks or tips."


class _Seat(NamedTuple):
    """What lies at one reveal under a lintel: how much of it shows, whether it is whole, whether all the bearing is on it."""

    side: str
    shown: float
    whole: bool
    enough: bool


def check(design: Design) -> Iterator[Finding]:
    """Each lintel: the piece at either reveal in the course it bears on. Common practice, no source.

    A cut piece that takes all the bearing is a note, one that does not a warning.
    """
    units = {unit.name: unit for unit in design.building.units}
    works = laid_work(design)
    for lintel in design.fittings.lintels:
        seats = list(_seats(lintel, works[lintel.leaf], units))
        cut = [seat for seat in seats if not seat.whole]
        if cut:
            severity: Severity = "note" if all(seat.enough for seat in cut) else "warn"
            said = listed([f"a piece of {design.figures.measure(seat.shown)} at the {seat.side} reveal" for seat in cut])
            text = f"bears on {said}; {_cure(design, lintel)}"
            yield found(severity, at_fitting(lintel), text, measured=min(seat.shown for seat in cut))
        elif seats:
            yield found("pass", at_fitting(lintel), "whole units at the reveals under it")


def _cure(design: Design, lintel: Lintel) -> str:
    """Where the opening has to be set out; that no place suits both leaves where the inner one is off the outer one's bond."""
    wall = design.building.wall(lintel.wall)
    leaves = [design.building.leaf(leaf) for leaf in wall.leaves]
    inset = _off_the_bond(*leaves) if lintel.leaf in wall.leaves[1:] else None
    if inset is None:
        return "set the opening out so that a whole unit comes there"
    return (
        f"the inner leaf begins {design.figures.measure(inset)} in from the outer one's corner, no whole number of half units, "
        "so no place of the opening suits both leaves: let the lintel bear further, or on a padstone"
    )


def _off_the_bond(outer: Leaf, inner: Leaf) -> float | None:
    """How far in from a corner an inner leaf of the outer one's units begins (mm), where no perpend takes that up."""
    units = {(unit.length, unit.joint) for leaf in (outer, inner) for unit in (zone.unit for zone in leaf.zones)}
    inset = abs(inner.span.start - outer.span.start)
    if len(units) > 1 or inner.start_end.kind != "corner":
        return None
    half, joint = inner.zones[0].unit.module / 2, inner.zones[0].unit.joint
    return inset if abs(inset - round(inset / half) * half) > joint else None


def _seats(lintel: Lintel, work: LaidWork, units: dict[str, Unit]) -> Iterator[_Seat]:
    under = [c for c in work.coursing.courses if c.level < lintel.level - TOLERANCE]
    if not under:
        return
    unit = units[under[-1].unit]
    pieces = list(work.pieces(under[-1].number))
    for side, reveal, end in (("left", lintel.clear.start, lintel.span.start), ("right", lintel.clear.end, lintel.span.end)):
        if abs(reveal - end) <= TOLERANCE:
            continue
        piece = next((p for p in pieces if abs((p.along.end if side == "left" else p.along.start) - reveal) <= 0.5), None)
        if piece is not None:
            enough = at_least(piece.along.length, abs(reveal - end))
            yield _Seat(side, piece.along.length, _whole(piece, unit), enough)


def _whole(piece: LaidPiece, unit: Unit) -> bool:
    """A stretcher as long as the unit, or a header that goes through the leaf."""
    through = piece.piece.laid == "header" and piece.piece.kind == "full"
    return through or abs(piece.real - unit.length) <= TOLERANCE
