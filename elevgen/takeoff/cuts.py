"""Cutting of units by the piece: straight ones by size, those under a slope together. Work: the units are measured whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from elevgen.building.model import Unit
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.model import CutPiece, SlopeCut
from elevgen.result import Design
from elevgen.takeoff.items import Measured, grouped, size, spoken
from elevgen.takeoff.masonry import unit_codes
from elevgen.takeoff.model import Part

BANDS = {"mm": 25.0, "in": 25.4}
"""Cut lengths no bill would list one by one are taken together up to a multiple of this, mm, by the unit they are shown in;
whole and half units keep theirs."""


def cut_items(design: Design) -> Iterator[Measured]:
    """Every size that every leaf is cut for, in leaf order, the shortest first; then its pieces cut to a slope."""
    units = {unit.name: unit for unit in design.building.units}
    codes = unit_codes(design.building)
    pieces = grouped(design.coursing.cutting.pieces, lambda piece: piece.leaf)
    slopes = grouped(design.coursing.cutting.slopes, lambda slope: slope.leaf)
    for leaf in design.building.leaves:
        by_size = grouped(pieces.get(leaf.id, ()), lambda piece: (piece.unit, *_sizes(design.figures, piece, units[piece.unit])))
        for (name, code, words), alike in sorted(by_size.items(), key=lambda g: (g[0][0], g[1][0].length, g[0][1])):
            yield _item(
                leaf.id, f"{codes[name]}/{code}", f"Cutting {spoken(name)} to {words}", alike, _lengths(design.figures, alike)
            )
        for name, under in sorted(grouped(slopes.get(leaf.id, ()), lambda slope: slope.unit).items()):
            shapes = "shapes as on the sheet Units and cuts"
            yield _item(leaf.id, f"{codes[name]}/SLOPE", f"Cutting {spoken(name)} to a slope", under, shapes)


def _item(where: str, code: str, item: str, alike: Sequence[CutPiece | SlopeCut], derivation: str) -> Measured:
    """Pieces and not units: what they come out of is measured with the units."""
    return Measured(
        code=f"UNIT-CUT-NR/{code}",
        item=item,
        unit="nr",
        net=sum(piece.number for piece in alike),
        where=where,
        derivation=derivation,
        waste=None,
        parts=tuple(Part(None, piece.lift, piece.number) for piece in alike),
    )


def _sizes(figures: Figures, piece: CutPiece, unit: Unit) -> tuple[str, str]:
    """A piece in a code and in words: its length, its height where it is cut in height, and whether it is a slip off a side."""
    measure, band = figures.measure, BANDS[figures.unit("mm").name]
    kept = (unit.length, (unit.length - unit.joint) / 2)
    if any(_same(piece.length, length) for length in kept):
        code, words = size(piece.length), measure(piece.length)
    else:
        up_to = band * ceil((piece.length - TOLERANCE) / band)
        above = f"lengths over {figures.length(up_to - band)}"
        short = any(_same(up_to, length) for length in kept)
        code, words = size(up_to), f"{above} up to {measure(up_to)}"
        if short:
            code, words = f"UNDER{size(up_to)}", f"{above}, under {measure(up_to)}"
    if piece.height < unit.height - TOLERANCE:
        code, words = f"{code}x{size(piece.height)}", f"{words}, {measure(piece.height)} high"
    if abs(piece.box.length - piece.length) > TOLERANCE:
        code, words = f"{code}/SLIP{size(piece.box.length)}", f"{words}, slips {measure(piece.box.length)} long"
    return code, words


def _same(one: float, other: float) -> bool:
    return abs(one - other) < 0.1


def _lengths(figures: Figures, alike: Sequence[CutPiece]) -> str:
    """`7 of 327.5, 1 of 326.3 mm`."""
    by_length = grouped(sorted(alike, key=lambda piece: piece.length), lambda piece: figures.length(piece.length))
    said = [f"{sum(piece.number for piece in same)} of {length}" for length, same in by_length.items()]
    last = figures.measure(max(piece.length for piece in alike))
    return ", ".join((*said[:-1], f"{said[-1].rsplit(' of ', 1)[0]} of {last}"))
