"""Where a quantity lies: shared out by panel between movement joints and by scaffold lift.

Panels part at the centre lines of movement joints, lifts at the levels the cutting is reckoned by, so that shares add up to the
whole. What stands upright is split where it passes from one lift into the next; what lies level, where it passes a joint.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import accumulate, pairwise
from math import fsum, inf
from typing import NamedTuple, TypeVar

from elevgen.building.model import Leaf
from elevgen.building.outline import clipped, leaf_outline, polygon_area
from elevgen.core.geometry import TOLERANCE, Point, Rect, Span, box_round
from elevgen.result import Design
from elevgen.takeoff.model import Part

K = TypeVar("K")

EVERYWHERE = Span(-inf, inf)

Panels = tuple[tuple[str | None, Span], ...]
Lifts = tuple[tuple[int | None, Span], ...]


class Cell(NamedTuple):
    """One panel in one lift: the stretch of the leaf and the band of levels it takes, open-ended at the edges of the leaf."""

    panel: str | None
    lift: int | None
    along: Span
    levels: Span


class Grid(NamedTuple):
    """The panels of one leaf and the lifts of the building, without gaps: together they cover everything there is."""

    panels: Panels
    lifts: Lifts

    def panel_at(self, at: float) -> str | None:
        """The panel a place along the leaf is in; at a movement joint that on its right."""
        return self.panels[_index(self.panels, at)][0]

    def lift_at(self, level: float) -> int | None:
        """The lift a level is in; at the boundary the upper one, as for courses."""
        return self.lifts[_index(self.lifts, level)][0]

    def cells(self, levels: Span = EVERYWHERE) -> Iterator[Cell]:
        """Every panel in every lift, inside a band of levels."""
        for lift, band in self.lifts:
            if shared := band.common(levels):
                yield from (Cell(panel, lift, along, shared) for panel, along in self.panels)

    def spot(self, at: float, level: float, net: float, needed: float | None = None) -> Part:
        """What lies in one place."""
        return Part(self.panel_at(at), self.lift_at(level), net, needed)

    def level_stretch(self, span: Span, level: float, net: float, needed: float | None = None) -> Iterator[Part]:
        """What lies level along a stretch of the leaf: a share to each panel by the length in it."""
        for panel, share in _split(self.panels, span):
            yield Part(panel, self.lift_at(level), net * share, None if needed is None else needed * share)

    def upright(self, levels: Span, net: float) -> Iterator[Part]:
        """What stands upright in no panel: a share to each lift by the height in it."""
        for lift, share in _split(self.lifts, levels):
            yield Part(None, lift, net * share)

    def upright_at(self, at: float, levels: Span, net: float) -> Iterator[Part]:
        """What stands upright at one place along the leaf."""
        for lift, share in _split(self.lifts, levels):
            yield Part(self.panel_at(at), lift, net * share)


def grids(design: Design) -> dict[str, Grid]:
    """The grid of every leaf."""
    lifts = lifts_of(design)
    found: dict[str, list[tuple[str | None, Span]]] = {leaf.id: [] for leaf in design.building.leaves}
    for panel in design.plan.panels:
        if panel.leaf in found:
            found[panel.leaf].append((panel.id, panel.span))
    return {leaf: Grid(_without_gaps(panels), lifts) for leaf, panels in found.items()}


def lifts_of(design: Design) -> Lifts:
    """The scaffold lifts, the lowest open below, the highest above."""
    return _without_gaps([(lift.number, lift.levels) for lift in design.coursing.cutting.lifts])


def _without_gaps(named: Sequence[tuple[K, Span]]) -> tuple[tuple[K | None, Span], ...]:
    """Stretches that meet half way between one and the next; the first and the last go on for ever."""
    if not named:
        return ((None, EVERYWHERE),)
    rising = sorted(named, key=lambda pair: pair[1])
    bounds = [-inf, *((a.end + b.start) / 2 for (_, a), (_, b) in pairwise(rising)), inf]
    return tuple((name, Span(start, end)) for (name, _), start, end in zip(rising, bounds, bounds[1:], strict=False))


def _index(stretches: Sequence[tuple[object, Span]], at: float) -> int:
    return max(0, bisect_right([span.start for _, span in stretches], at + TOLERANCE) - 1)


def _split(stretches: Sequence[tuple[K, Span]], over: Span) -> Iterator[tuple[K, float]]:
    """The share of a length that lies in each stretch; what has no length lies where its start is."""
    if over.length <= TOLERANCE:
        yield stretches[_index(stretches, over.start)][0], 1.0
        return
    for name, span in stretches:
        shared = min(span.end, over.end) - max(span.start, over.start)
        if shared > 0:
            yield name, shared / over.length


class Face:
    """The masonry of a leaf's face, its voids taken out, asked for window after window; mm2."""

    def __init__(self, leaf: Leaf) -> None:
        outline = leaf_outline(leaf)
        self._solid = _Shape(outline)
        self._voids = [shape for void in leaf.voids if (shape := _Shape(clipped(outline, void))).area > 0]

    def within(self, along: Span = EVERYWHERE, levels: Span = EVERYWHERE) -> float:
        """Face inside a stretch of the leaf and a band of levels."""
        window = Rect(along.start, levels.start, along.end, levels.end)
        return self._solid.within(window) - sum(void.within(window) for void in self._voids)

    def of(self, rect: Rect, along: Span, levels: Span) -> float:
        """What of a rectangle that is clear of voids lies on the face, inside a window."""
        left, right = max(rect.left, along.start), min(rect.right, along.end)
        bottom, top = max(rect.bottom, levels.start), min(rect.top, levels.end)
        return self._solid.within(Rect(left, bottom, right, top)) if left < right and bottom < top else 0.0


class _Shape:
    """A polygon, cut by plain reckoning where it is an upright rectangle."""

    def __init__(self, outline: tuple[Point, ...]) -> None:
        self._outline = outline
        self.area = polygon_area(outline)
        self._box = box_round(outline or ((0.0, 0.0),))
        self._square = self.area >= self._box.area * (1 - 1e-12)

    def within(self, window: Rect) -> float:
        box = self._box
        wide = min(window.right, box.right) - max(window.left, box.left)
        high = min(window.top, box.top) - max(window.bottom, box.bottom)
        if wide <= 0 or high <= 0:
            return 0.0
        if self._square:
            return wide * high
        if wide >= box.width and high >= box.height:
            return self.area
        return polygon_area(clipped(self._outline, window))


def gathered(parts: Iterable[Part]) -> tuple[Part, ...]:
    """Parts of one panel and one lift made one, by lift from the lowest, then by panel in the order met."""
    order: dict[str | None, int] = {}
    sums: dict[tuple[str | None, int | None], list[Part]] = {}
    for part in parts:
        order.setdefault(part.panel, len(order))
        sums.setdefault((part.panel, part.lift), []).append(part)
    keys = sorted(sums, key=lambda key: (key[1] is None, key[1] or 0, order[key[0]]))
    return tuple(_added(sums[key]) for key in keys)


def _added(alike: Sequence[Part]) -> Part:
    needed = [part.needed for part in alike if part.needed is not None]
    return alike[0]._replace(net=fsum(part.net for part in alike), needed=fsum(needed) if needed else None)


def shared_out(shares: Mapping[tuple[str | None, int | None], float], whole: float) -> tuple[Part, ...]:
    """A quantity shared out by weights, which are in proportion to it; where all weigh nothing the first has it all."""
    total = fsum(shares.values())
    if total <= 0:
        return tuple(Part(*key, whole if n == 0 else 0.0) for n, key in enumerate(shares))
    return tuple(Part(*key, whole * share / total) for key, share in shares.items())


def settled(parts: Iterable[Part], net: float, needed: float | None, places: int) -> tuple[Part, ...]:
    """Parts rounded so that they add up to the rounded net, and to what is needed (None: nothing is bought).

    Where parts do not say what they need, it is shared out as the net is.
    """
    found = gathered(parts)
    if not found:
        return ()
    nets = _rounded([part.net for part in found], net, places)
    if needed is None:
        rounded: list[float | None] = [None] * len(found)
    else:
        own = [part.net if part.needed is None else part.needed for part in found]
        rounded = [*_rounded(own, needed, places)]
    settled_parts = (p._replace(net=n, needed=need) for p, n, need in zip(found, nets, rounded, strict=True))
    return tuple(part for part in settled_parts if part.net or part.needed)


def _rounded(amounts: Sequence[float], whole: float, places: int) -> list[float]:
    """Amounts scaled to add up to the whole, each the difference of two rounded running sums."""
    total = fsum(amounts)
    running = [round(reached / total * whole if total else 0.0, places) for reached in accumulate(amounts)]
    if total:
        running[-1] = whole
    return [round(after - before, places) + 0.0 for before, after in zip([0.0, *running], running, strict=False)]
