"""Leaves round bonded corners, and their beds at a level, found from the ends of leaves and from courses."""

from __future__ import annotations

from typing import Literal, NamedTuple

from elevgen.building.model import Leaf, LeafEnd
from elevgen.checks._beds import leaf_beds
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.result import Design

End = Literal["start", "finish"]
ENDS: tuple[End, End] = ("start", "finish")
SHARED = 5.0
"""Two beds so far (mm) in one level are one for reinforcement."""


class Beyond(NamedTuple):
    """The leaf round a corner, and which of its ends is at it."""

    leaf: Leaf
    end: End


def end_of(leaf: Leaf, end: End) -> LeafEnd:
    """How a leaf ends."""
    return leaf.start_end if end == "start" else leaf.finish_end


def at_end(span: Span, leaf: Leaf, end: End) -> bool:
    """Whether a span comes to that end of a leaf."""
    return abs(span.start - leaf.span.start if end == "start" else span.end - leaf.span.end) <= TOLERANCE


def beyond(design: Design, leaf: Leaf, end: End) -> Beyond | None:
    """What is round a corner that is bonded; None at any other end."""
    here = end_of(leaf, end)
    if here.kind != "corner" or here.connection != "bonded" or here.other is None:
        return None
    other = design.building.leaf(here.other)
    return next((Beyond(other, e) for e in ENDS if end_of(other, e).other == leaf.id and end_of(other, e).kind == "corner"), None)


def bed_in_line(design: Design, leaf: Leaf, bed: Span) -> Span | None:
    """The bed of a leaf that lies in line with a bed of another."""
    shared = [(min(bed.end, b.end) - max(bed.start, b.start), b) for b in leaf_beds(design, leaf)]
    best = max(shared, key=lambda s: s[0], default=None)
    return best[1] if best is not None and best[0] > 0 and best[0] >= min(SHARED, bed.length) - TOLERANCE else None
