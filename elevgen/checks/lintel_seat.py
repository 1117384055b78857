"""The unit at each reveal under a lintel's bearing is a whole one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Unit
from elevgen.checks._finding import at_fitting, found
from elevgen.checks._inset import inset_words
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

    A cut piece that takes all the bearing, up to the joint beyond it, is a note; one that does not a warning: there the lintel
    lies on two pieces. Moving the opening seldom helps: where the bond has whole units under a lintel one course deep it has
    perpends in line with the reveals over it, which `perpend-at-opening` minds.
    """
    units = {unit.name: unit for unit in design.building.units}
    works = laid_work(design)
    for lintel in design.fittings.lintels:
        seats = list(_seats(lintel, works[lintel.leaf], units))
        cut = [seat for seat in seats if not seat.whole]
        if cut:
            severity: Severity = "note" if all(seat.enough for seat in cut) else "warn"
            said = listed([f"a piece of {design.figures.measure(seat.shown)} at the {seat.side} reveal" for seat in cut])
            how = ", with all of its bearing" if severity == "note" else " and on what is next to it"
            text = f"bears on {said}{how}; {_cure(design, lintel, severity)}"
            yield found(severity, at_fitting(lintel), text, measured=min(seat.shown for seat in cut))
        elif seats:
            yield found("pass", at_fitting(lintel), "whole units at the reveals under it")


def _cure(design: Design, lintel: Lintel, severity: Severity) -> str:
    """What brings a whole unit there; that no place of the opening suits both leaves where the inner one is off the bond."""
    inset = inset_words(design, design.building.leaf(lintel.leaf))
    if inset is not None:
        suits = f"{inset}, so no place of the opening suits both leaves"
        return suits if severity == "note" else f"{suits}: let the lintel bear further, or on a padstone"
    if severity == "note":
        return "a whole unit is better where the bond allows one"
    return "set the opening out so that a whole unit comes there"


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
            enough = at_least(piece.along.length + unit.joint, abs(reveal - end))
            yield _Seat(side, piece.along.length, _whole(piece, unit), enough)


def _whole(piece: LaidPiece, unit: Unit) -> bool:
    """A stretcher as long as the unit, or a header that goes through the leaf."""
    through = piece.piece.laid == "header" and piece.piece.kind == "full"
    return through or abs(piece.real - unit.length) <= TOLERANCE
