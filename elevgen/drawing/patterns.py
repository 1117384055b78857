"""Course patterns as blocks: drawn once, laid many times."""

from __future__ import annotations

import re
from collections.abc import Mapping

from elevgen.core.figures import Figures
from elevgen.coursing.model import Pattern, Piece
from elevgen.drawing.scene import Block, Fill, Polyline, Primitive, Role
from elevgen.result import Design
from elevgen.spec.fields import Material


def block_name(pattern_id: str) -> str:
    """A pattern's id as a block name that every program takes."""
    return re.sub(r"[^A-Za-z0-9_-]", "_", pattern_id)


def pattern_blocks(design: Design) -> tuple[Block, ...]:
    """A block for every pattern, its origin at the pattern's left end on the underside of the units."""
    materials: Mapping[str, Material] = {unit.name: unit.material for unit in design.building.units}
    written = design.figures
    return tuple(_block(pattern, materials[pattern.unit], written) for pattern in design.coursing.patterns)


def _block(pattern: Pattern, material: Material, written: Figures) -> Block:
    source = pattern.id
    tints: list[Primitive] = [Fill(Role.TINT, _outline(0.0, pattern.length, pattern.height), material, source)]
    outlines: list[Primitive] = []
    for piece in pattern.pieces:
        outline = _outline(piece.at, piece.length, pattern.height)
        kind = "cut" if pattern.split else piece.kind
        if kind != "full":
            tints.append(Fill(Role.TINT, outline, kind, source))
        role = Role.CUT_UNIT if kind == "cut" else Role.UNIT
        outlines.append(Polyline(role, outline, True, source, _title(pattern, piece, written)))
    return Block(block_name(pattern.id), (*tints, *outlines))


def _outline(at: float, length: float, height: float) -> tuple[tuple[float, float], ...]:
    return ((at, 0.0), (at + length, 0.0), (at + length, height), (at, height))


def _title(pattern: Pattern, piece: Piece, written: Figures) -> str:
    return "" if piece.kind == "full" and not pattern.split else f"{piece.kind} {written.length(piece.length)}"
