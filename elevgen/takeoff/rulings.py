"""What openings take of a face by the measurement rules: gross, every deduction with the rule that allowed or refused it, net.

A limit is applied to each void by itself, never to the sum of several.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import fsum
from typing import NamedTuple

from elevgen.building.model import Leaf, Strip, Wall
from elevgen.building.outline import clipped, leaf_outline, polygon_area
from elevgen.core.figures import METRIC, Figures
from elevgen.core.geometry import TOLERANCE, Point, Rect, Span, box_round
from elevgen.core.measures import SQUARE_METRE
from elevgen.rules.measurement import MeasurementRules, half_up
from elevgen.takeoff.items import grouped
from elevgen.takeoff.model import Deduction

_DUST = 1e-6
"""Areas closer than a square millimetre (m2) are the same area."""
_SLIVER = 1.0
"""What arithmetic leaves of an opening beside a face (mm2)."""
_STRIPS = {"pier": "strip between", "band": "strip between", "head": "strip over", "sill": "strip under"}


class FaceMeasured(NamedTuple):
    """A face by the measurement rules, m2: `gross` over all openings, what each takes, and what is left."""

    gross: float
    deductions: tuple[Deduction, ...]

    @property
    def net(self) -> float:
        return fsum((self.gross, *(-d.amount for d in self.deductions if d.allowed)))

    def times(self, factor: float) -> FaceMeasured:
        """The same in another unit: by its thickness in m, a volume in m3."""
        return FaceMeasured(self.gross * factor, tuple(d._replace(amount=d.amount * factor) for d in self.deductions))


def face_measured(
    leaf: Leaf, wall: Wall, bands: Sequence[Span], rules: MeasurementRules, figures: Figures = METRIC
) -> FaceMeasured:
    """What of a leaf's face lies in some bands of levels. Where other walls run through it is no part of it.

    An opening that reaches beyond the bands is judged whole, and deducted from them by what of it they hold.
    """
    outline, step = leaf_outline(leaf), rules.dimension_step
    faces = [clipped(outline, Rect(leaf.span.start, band.start, leaf.span.end, band.end)) for band in bands]
    crossed = fsum(measured_area(clipped(face, void), step) for face in faces for void in leaf.crossings)
    deductions = []
    for of, rects in voids_named(wall):
        amount = fsum(measured_area(clipped(face, rect), step) for face in faces for rect in rects)
        if amount > _SLIVER:
            whole = fsum(measured_area(clipped(outline, rect), step) for rect in rects) / SQUARE_METRE
            edge = any(at_edge(leaf, rect) for rect in rects)
            deductions.append(Deduction(of, amount / SQUARE_METRE, *ruling(rules, whole, edge, figures)))
    gross = fsum((*(measured_area(face, step) for face in faces), -crossed)) / SQUARE_METRE
    return FaceMeasured(gross, tuple(_of_what_is_left(gross, deductions)))


def _of_what_is_left(gross: float, deductions: Iterable[Deduction]) -> Iterator[Deduction]:
    """No void takes more than those before it leave: rounded one by one, together they may come to more than the face."""
    left = gross
    for deduction in deductions:
        taken = min(deduction.amount, left) if deduction.allowed else deduction.amount
        left -= taken if deduction.allowed else 0.0
        yield deduction._replace(amount=taken)


def ruling(rules: MeasurementRules, area: float, edge: bool, figures: Figures = METRIC) -> tuple[bool, str]:
    """Whether a void of this area (m2), at the edge of what is measured or inside it, is deducted; and by which rule."""
    limit = rules.opening_limit
    if not limit:
        known = rules.value("opening_min_area_m2") is not None
        return True, "every opening is deducted" if known else "deducted: the rule set has no limit"
    if area > limit + _DUST:
        return True, f"{figures.few(area, 'm2')} is over {figures.few(limit, 'm2')}: deducted"
    if edge and rules.at_edge_always:
        return True, "at the edge of the wall: deducted whatever its size"
    if edge and rules.at_edge_always is None:
        return True, "at the edge of the wall, for which the rule set says nothing: deducted"
    return False, f"{figures.few(area, 'm2')} is not over {figures.few(limit, 'm2')}: not deducted"


def voids_named(wall: Wall) -> Iterator[tuple[str, tuple[Rect, ...]]]:
    """Every opening of a wall by its id, then every strip of openings that is too small to build, by what it lies at."""
    for opening in wall.openings:
        yield opening.id, (opening.rect,)
    for group in wall.groups:
        for name, strips in grouped(group.strips, _strip_words).items():
            yield name, tuple(strip.rect for strip in strips)


def at_edge(leaf: Leaf, void: Rect) -> bool:
    """Whether a void reaches an end of the leaf, its base or its top."""
    along = void.along.common(leaf.span)
    if along is None:
        return True
    beside = void.left <= leaf.span.start + TOLERANCE or void.right >= leaf.span.end - TOLERANCE
    below = void.bottom <= leaf.base.highest(along) + TOLERANCE
    return beside or below or void.top >= leaf.top.lowest(along) - TOLERANCE


def measured_area(polygon: Sequence[Point], step: float | None) -> float:
    """Area of a polygon (mm2), each of its dimensions from its lowest left corner to the nearest multiple of a step (mm)."""
    if step is None or not polygon:
        return polygon_area(polygon)
    corner = box_round(polygon)
    return polygon_area([(half_up(x - corner.left, step), half_up(y - corner.bottom, step)) for x, y in polygon])


def _strip_words(strip: Strip) -> str:
    """`strip between W1 and W2`; `over` and `under` for what goes up or down to the edge of its neighbour."""
    *first, last = strip.between
    return f"{_STRIPS[strip.kind]} " + (f"{', '.join(first)} and {last}" if first else last)
