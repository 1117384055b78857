"""Cutting of units by the piece: straight ones by size, those under a slope together. Work: the units are measured whole."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Unit
from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.model import CutPiece, SlopeCut
from elevgen.result import Design
from elevgen.takeoff.items import Measured, grouped, size
from elevgen.takeoff.masonry import unit_codes
from elevgen.takeoff.model import Part


def cut_items(design: Design) -> Iterator[Measured]:
    """Every size that every leaf is cut for, in leaf order, the longest first; then its pieces cut to a slope."""
    units = {unit.name: unit for unit in design.building.units}
    codes = unit_codes(design.building)
    pieces = grouped(design.coursing.cutting.pieces, lambda piece: piece.leaf)
    slopes = grouped(design.coursing.cutting.slopes, lambda slope: slope.leaf)
    for leaf in design.building.leaves:
        by_size = grouped(pieces.get(leaf.id, ()), lambda piece: (piece.unit, *_sizes(piece, units[piece.unit])))
        for (name, code, words), alike in sorted(by_size.items(), key=lambda g: (g[0][0], -g[1][0].length, g[0][1])):
            yield _item(leaf.id, f"{codes[name]}/{code}", f"Cutting {name} to {words}", alike)
        for name, under in sorted(grouped(slopes.get(leaf.id, ()), lambda slope: slope.unit).items()):
            yield _item(leaf.id, f"{codes[name]}/SLOPE", f"Cutting {name} to a slope", under)


def _item(where: str, code: str, item: str, alike: tuple[CutPiece | SlopeCut, ...]) -> Measured:
    return Measured(
        code=f"UNIT-CUT-NR/{code}",
        item=item,
        unit="nr",
        net=sum(piece.number for piece in alike),
        where=where,
        derivation="pieces as on the sheet Units and cuts; the units they come out of are measured with the units",
        waste=None,
        parts=tuple(Part(None, piece.lift, piece.number) for piece in alike),
    )


def _sizes(piece: CutPiece, unit: Unit) -> tuple[str, str]:
    """A piece in a code and in words: its length, its height where it is cut in height, and a slip off a unit's side as such."""
    code, words = size(piece.length), f"{size(piece.length)} mm"
    if piece.height < unit.height - TOLERANCE:
        code, words = size(piece.length, piece.height), f"{size(piece.length)} by {size(piece.height)} mm high"
    if abs(piece.box.length - piece.length) > TOLERANCE:
        code, words = f"{code}/SLIP{size(piece.box.length)}", f"{words}, a slip {size(piece.box.length)} mm long"
    return code, words
