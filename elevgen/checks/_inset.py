"""An inner leaf that begins off the bond of the outer one, so that what suits the one is cut in the other."""

from __future__ import annotations

from elevgen.building.model import Leaf
from elevgen.result import Design


def inset_words(design: Design, leaf: Leaf) -> str | None:
    """Where an inner leaf of the outer one's units begins, in words, where no perpend takes that up; None for any other leaf."""
    first, *others = design.building.wall(leaf.wall).leaves
    inset = _off_the_bond(design.building.leaf(first), leaf) if leaf.id in others else None
    if inset is None:
        return None
    far = design.figures.measure(inset)
    return f"the inner leaf begins {far} in from the outer one's corner, no whole number of half units"


def _off_the_bond(outer: Leaf, inner: Leaf) -> float | None:
    units = {(unit.length, unit.joint) for leaf in (outer, inner) for unit in (zone.unit for zone in leaf.zones)}
    inset = abs(inner.span.start - outer.span.start)
    if len(units) > 1 or inner.start_end.kind != "corner":
        return None
    half, joint = inner.zones[0].unit.module / 2, inner.zones[0].unit.joint
    return inset if abs(inset - round(inset / half) * half) > joint else None
