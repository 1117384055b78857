"""Ties counted over the masonry of each panel between movement joints."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import inf
from typing import NamedTuple

from elevgen.building.model import Leaf, Profile
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.fittings.model import TiePanel
from elevgen.fittings.tie_bays import Cavity

PANEL = 4e6
"""In a stretch between movement joints with less masonry than this (mm2, ten ties' worth) one tie more or less would decide."""


class Part(NamedTuple):
    """A stretch of the wall with its masonry (mm2); `judged`: large enough to be held to the density by itself."""

    span: Span
    area: float
    judged: bool


def parts(cavity: Cavity) -> tuple[Part, ...]:
    """The panels between the movement joints of either leaf, from the start; the whole wall where it has none."""
    cuts = sorted({joint.at for joint in cavity.joints if cavity.span.contains(joint.at)})
    return tuple(_parts(cavity, [cavity.span.start, *cuts, cavity.span.end])) if cuts else whole(cavity)


def whole(cavity: Cavity) -> tuple[Part, ...]:
    """All of the wall as one part; none where its leaves have no masonry in common."""
    return tuple(part._replace(judged=True) for part in _parts(cavity, [cavity.span.start, cavity.span.end]))


def panels(ties_at: Iterable[float], over: Iterable[Part]) -> tuple[TiePanel, ...]:
    """The parts with their ties, by where those stand."""
    places = sorted(ties_at)
    return tuple(TiePanel(part.span, part.area, _within(places, part.span), part.judged) for part in over)


def thinnest(places: Sequence[float], over: Iterable[Part]) -> float:
    """The least ties to the square metre of any part that is judged, to the one decimal the figure is published with.

    `places` in order. Infinite where none is judged.
    """
    return min((round(_within(places, part.span) / part.area * 1e6, 1) for part in over if part.judged), default=inf)


def _within(places: Sequence[float], span: Span) -> int:
    return bisect_right(places, span.end) - bisect_left(places, span.start)


def _parts(cavity: Cavity, cuts: Sequence[float]) -> Iterator[Part]:
    for span in (Span(a, b) for a, b in pairwise(cuts) if b - a > TOLERANCE):
        area = min(_net_area(leaf, span) for leaf in (cavity.outer, cavity.inner))
        if area > TOLERANCE:
            yield Part(span, area, area >= PANEL)


def _net_area(leaf: Leaf, over: Span) -> float:
    voids = sum(common.length * void.height for void in leaf.voids if (common := void.along.common(over)))
    return _under(leaf.top, over) - _under(leaf.base, over) - voids


def _under(profile: Profile, over: Span) -> float:
    return sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(profile.clipped(over)))
