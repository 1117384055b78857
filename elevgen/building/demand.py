"""Lintel demand: what every opening asks for over its head, before joints and coursing are known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from elevgen.building.given import GivenLintel
from elevgen.building.model import Building, Leaf, OpeningGroup, Wall
from elevgen.building.openings import behind, heads, voids_of
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_most
from elevgen.rules.book import RuleReader


@dataclass(frozen=True, slots=True)
class LintelDemand:
    """A head that needs a lintel in one leaf: `clear` between reveals at `level`, and the bearing asked for at each side (mm).

    `bearing` is None where the rule set has none for that span. `behind` are those of the openings whose head it is. No joint
    may stand in `keep_out` (clear and bearings, or the lintel the spec lists) where it would cut `levels` (the hole, and a course
    over it).
    """

    group: str
    leaf: str
    wall: str
    openings: tuple[str, ...]
    level: float
    clear: Span
    bearing: float | None
    keep_out: Span
    levels: Span
    basis: tuple[str, ...]
    behind: tuple[str, ...] = ()


def lintel_demands(building: Building, reader: RuleReader) -> tuple[LintelDemand, ...]:
    """Every head with masonry over it, wall by wall, leaf by leaf.

    Bearings are the rule set's `lintel.bearing.*`: over long spans, over short ones that carry a cavity tray
    (the outer leaf of a cavity wall), and over other short ones; no less than the leaf's kind of lintel asks for.
    A span the set has no bearing for asks for none, and nothing but the opening itself is kept clear.
    """
    leaves = {leaf.id: leaf for leaf in building.leaves}
    return tuple(
        demand
        for wall in building.walls
        for leaf in (leaves[leaf_id] for leaf_id in wall.leaves)
        for group in wall.groups
        for demand in _of_group(group, wall, leaf, reader)
    )


def given_in(wall: Wall, leaf: Leaf) -> list[tuple[int, GivenLintel]]:
    """The lintels the spec lists that lie in a leaf, each with its number in the wall's list, from 1."""
    return [(n, lintel) for n, lintel in enumerate(wall.lintels.parts, 1) if lintel.leaf in (None, leaf.side)]


def _of_group(group: OpeningGroup, wall: Wall, leaf: Leaf, reader: RuleReader) -> Iterator[LintelDemand]:
    holes = [hole for void in voids_of(group, wall.openings) if (hole := _on_leaf(void, leaf)).width > TOLERANCE]
    for level, clear in heads(holes):
        if leaf.top.highest(clear) <= level + TOLERANCE:
            continue
        bearing, basis = _bearing(clear, leaf, wall, reader)
        names = behind(wall, group.openings, clear)
        yield LintelDemand(
            group=group.id,
            leaf=leaf.id,
            wall=wall.id,
            openings=group.openings,
            level=level,
            clear=clear,
            bearing=bearing,
            keep_out=_keep_out(clear, names, bearing, wall, leaf),
            levels=Span(group.clear.bottom, level + _course_over(level, leaf)),
            basis=basis,
            behind=names,
        )


def _on_leaf(void: Rect, leaf: Leaf) -> Rect:
    return Rect(max(void.left, leaf.span.start), void.bottom, min(void.right, leaf.span.end), void.top)


def _bearing(clear: Span, leaf: Leaf, wall: Wall, reader: RuleReader) -> tuple[float | None, tuple[str, ...]]:
    short_span = reader.find("lintel.bearing.short_span")
    if short_span is None:
        return None, ()
    if not at_most(clear.length, short_span.number):
        key = "lintel.bearing.long"
    elif wall.cavity and leaf.side == "outer":
        key = "lintel.bearing.short.tray"
    else:
        key = "lintel.bearing.short.simple"
    by_span = reader.find(key)
    if by_span is None:
        return None, ()
    bearing, basis = by_span.number, (short_span.key, key)
    by_kind = reader.find(f"lintel.bearing.kind.{leaf.lintel_kind}") if leaf.lintel_kind else None
    if by_kind is None:
        return bearing, basis
    return max(bearing, by_kind.number), (*basis, by_kind.key)


def _keep_out(clear: Span, openings: tuple[str, ...], bearing: float | None, wall: Wall, leaf: Leaf) -> Span:
    """Clear and bearings; where the spec lists the lintels, clear and all of those that lie over it."""
    given = [lintel.span for _, lintel in given_in(wall, leaf) if set(lintel.over) & set(openings)]
    over = [span for span in given if span.overlaps(clear)]
    if not over:
        return clear.grown(bearing or 0.0)
    return Span(min(clear.start, *(span.start for span in over)), max(clear.end, *(span.end for span in over)))


def _course_over(level: float, leaf: Leaf) -> float:
    """The height of the course over a head."""
    zone = next((z for z in leaf.zones if z.levels.end > level + TOLERANCE), leaf.zones[-1])
    return zone.unit.gauge
