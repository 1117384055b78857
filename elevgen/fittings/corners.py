"""Corners that reinforcement can be bent round: where a leaf goes on as another, bonded, with a bed of its own at one level."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal, NamedTuple

from elevgen.building.model import Building, Leaf, LeafEnd
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.fittings.beds import Bed

End = Literal["start", "finish"]
ENDS: tuple[End, End] = ("start", "finish")
ROOM = 5.0
"""Height (mm) of bed that two leaves must share for a wire to run on from one to the other."""


class Corner(NamedTuple):
    """The leaf round a corner, which of its ends is there, and what a bend takes besides what is measured on the two faces."""

    leaf: Leaf
    end: End
    round: float


def end_of(leaf: Leaf, end: End) -> LeafEnd:
    """How a leaf ends there."""
    return leaf.start_end if end == "start" else leaf.finish_end


def edge_of(span: Span, end: End) -> float:
    """Where a span ends, or begins."""
    return span.start if end == "start" else span.end


def from_end(span: Span, end: End, length: float) -> Span:
    """The first so much of a span from one of its ends."""
    return Span(span.start, span.start + length) if end == "start" else Span(span.end - length, span.end)


def touches_end(span: Span, leaf: Leaf, end: End) -> bool:
    """Whether a span comes to that end of a leaf."""
    return abs(edge_of(span, end) - edge_of(leaf.span, end)) <= TOLERANCE


def corners(building: Building) -> dict[tuple[str, End], Corner]:
    """By leaf and end, every bonded corner: what leaf is round it.

    A tee is none, for its host runs straight on; nor is a corner of old and new, for nothing is laid in beds that stand already.
    """
    leaves = {leaf.id: leaf for leaf in building.leaves}
    standing = {wall.id: wall.existing for wall in building.walls}
    found: dict[tuple[str, End], Corner] = {}
    for leaf in building.leaves:
        for end in ENDS:
            here = end_of(leaf, end)
            other = leaves.get(here.other or "")
            if here.kind != "corner" or here.connection != "bonded" or other is None:
                continue
            if standing[leaf.wall] != standing[other.wall]:
                continue
            for there in ENDS:
                back = end_of(other, there)
                if back.kind == "corner" and back.connection == "bonded" and back.other == leaf.id:
                    bend = (_inside(leaf, end) + _inside(other, there)) / 2
                    found[leaf.id, end] = Corner(other, there, bend)
    return found


def _inside(leaf: Leaf, end: End) -> float:
    """How much thicker the leaf round the corner is than shows: its thickness where the face ends inside the corner."""
    there, edge = end_of(leaf, end), edge_of(leaf.span, end)
    return abs(there.far - there.near) if abs(edge - there.near) <= TOLERANCE else 0.0


def bed_at(levels: Span, leaf_beds: Sequence[Bed]) -> int | None:
    """The bed of a leaf that lies at the level of another's, so far that a wire runs straight from one to the other."""
    shared = [(min(levels.end, b.levels.end) - max(levels.start, b.levels.start), -i) for i, b in enumerate(leaf_beds)]
    best, index = max(shared, default=(0.0, 0))
    return -index if best >= min(ROOM, levels.length) - TOLERANCE and best > 0 else None


BedsOf = Mapping[str, Sequence[Bed]]
