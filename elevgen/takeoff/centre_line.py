"""Where a leaf's own centre line begins and ends: what some rule sets measure walling along."""

from __future__ import annotations

from elevgen.building.model import Building, Leaf, LeafEnd
from elevgen.core.geometry import TOLERANCE, Span, along, crossing, direction


def centre_span(building: Building, leaf: Leaf) -> Span:
    """The leaf's centre line, as positions along the wall line (mm).

    At a bonded corner it ends where it meets the other leaf's: short of the outer face by half the thickness at a square
    corner, beyond the inner face by as much. Against a face it ends at that face; elsewhere where the leaf's own face does.
    """
    return Span(_end(building, leaf, leaf.start_end, leaf.span.start), _end(building, leaf, leaf.finish_end, leaf.span.end))


def _end(building: Building, leaf: Leaf, end: LeafEnd, at: float) -> float:
    if end.other is None:
        return at
    wall, other = building.wall(leaf.wall), building.leaf(end.other)
    met = building.wall(other.wall)
    d, e = direction(wall.start, wall.end), direction(met.start, met.end)

    def hits(left: float, other_left: float) -> float | None:
        return crossing(along(wall.start, d, 0.0, left), d, along(met.start, e, 0.0, other_left), e)

    middle = leaf.offset + leaf.thickness / 2
    found = None
    if end.kind == "corner" and end.near != end.far:
        found = hits(middle, other.offset + other.thickness / 2)
    elif end.kind == "abutting":
        faces = (other.offset, other.offset + other.thickness)
        found = next((hits(middle, face) for face in faces if _same(hits(leaf.offset, face), at)), None)
    return at if found is None else found


def _same(a: float | None, b: float) -> bool:
    return a is not None and abs(a - b) <= TOLERANCE
