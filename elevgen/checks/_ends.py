"""Where the masonry of a leaf ends and nothing goes on: at stopped ends, beside gates, and against what it only touches."""

from __future__ import annotations

from elevgen.building.model import Leaf, LeafEnd
from elevgen.checks._corners import ENDS, Beyond, End, end_of
from elevgen.result import Design


def where_it_ends(leaf: Leaf) -> tuple[float, ...]:
    """The places along a leaf at which it ends and is bonded or tied to nothing."""
    ends = ((leaf.start_end, leaf.span.start), (leaf.finish_end, leaf.span.end))
    through = [crossing.along for crossing in leaf.crossings]
    gates = [gate for gate in leaf.breaks if gate not in through]
    return (*(at for end, at in ends if not _goes_on(end)), *(at for gate in gates for at in (gate.start, gate.end)))


def _goes_on(end: LeafEnd) -> bool:
    return end.other is not None and end.connection in ("bonded", "tied")


def round_corner(design: Design, leaf: Leaf, end: End) -> Beyond | None:
    """The leaf round a corner that is bonded or tied, and which of its ends is at it."""
    here = end_of(leaf, end)
    if here.kind != "corner" or not _goes_on(here):
        return None
    other = design.building.leaf(str(here.other))
    return next((Beyond(other, e) for e in ENDS if end_of(other, e).other == leaf.id and end_of(other, e).kind == "corner"), None)


def corner_at(leaf: Leaf, end: End) -> float:
    """Where that end of a leaf is."""
    return leaf.span.start if end == "start" else leaf.span.end
