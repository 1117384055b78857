"""Where the centre line of a leaf or of a cavity begins and ends: what some rule sets measure along."""

from __future__ import annotations

from elevgen.building.model import Building, Leaf, LeafEnd, Wall
from elevgen.core.geometry import TOLERANCE, Span, along, crossing, direction


def centre_span(building: Building, leaf: Leaf) -> Span:
    """The leaf's centre line, as positions along the wall line (mm).

    At a bonded corner it ends where it meets the other leaf's: short of the outer face by half the thickness at a square
    corner, beyond the inner face by as much. Against a face it ends at that face; elsewhere where the leaf's own face does.
    """
    return Span(_end(building, leaf, leaf.start_end, leaf.span.start), _end(building, leaf, leaf.finish_end, leaf.span.end))


def cavity_span(building: Building, wall: Wall, shared: Span) -> Span:
    """The centre line of a wall's cavity (mm): to that of the cavity it meets at a bonded corner, else as far as both leaves."""
    outer, _ = building.leaves_of(wall.id)
    return Span(
        _cavity_end(building, wall, outer.start_end, shared.start), _cavity_end(building, wall, outer.finish_end, shared.end)
    )


def _end(building: Building, leaf: Leaf, end: LeafEnd, at: float) -> float:
    if end.other is None:
        return at
    wall, other = building.wall(leaf.wall), building.leaf(end.other)
    met, middle = building.wall(other.wall), leaf.offset + leaf.thickness / 2
    found = None
    if _turns(end):
        found = _hits(wall, middle, met, other.offset + other.thickness / 2)
    elif end.kind == "abutting":
        faces = (other.offset, other.offset + other.thickness)
        found = next((_hits(wall, middle, met, face) for face in faces if _same(_hits(wall, leaf.offset, met, face), at)), None)
    return at if found is None else found


def _cavity_end(building: Building, wall: Wall, end: LeafEnd, at: float) -> float:
    if end.other is None or not _turns(end):
        return at
    met = building.wall(building.leaf(end.other).wall)
    if met.cavity is None:
        return at
    found = _hits(wall, _middle(building, wall), met, _middle(building, met))
    return at if found is None else found


def _middle(building: Building, wall: Wall) -> float:
    """How far the middle of a cavity stands to the left of the wall line."""
    outer, inner = building.leaves_of(wall.id)
    return (outer.offset + outer.thickness + inner.offset) / 2


def _turns(end: LeafEnd) -> bool:
    return end.kind == "corner" and end.near != end.far


def _hits(wall: Wall, left: float, met: Wall, met_left: float) -> float | None:
    """Where a line beside one wall's line crosses a line beside another's, along the first; None where they are parallel."""
    d, e = direction(wall.start, wall.end), direction(met.start, met.end)
    return crossing(along(wall.start, d, 0.0, left), d, along(met.start, e, 0.0, met_left), e)


def _same(a: float | None, b: float) -> bool:
    return a is not None and abs(a - b) <= TOLERANCE
