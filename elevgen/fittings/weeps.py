"""Weep holes over a tray: open perpends of the course on it, as few as serve and as even as they come."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.coursing.model import LeafCoursing, Pattern


class Weeps(NamedTuple):
    """Weep holes along a wall: all of them, and those that have to be cut because no perpend stands near enough."""

    at: tuple[float, ...]
    cut: tuple[float, ...] = ()


def perpends_on(laid: LeafCoursing, patterns: Mapping[str, Pattern], level: float, along: Span) -> tuple[float, ...]:
    """The middles of the perpends, whole between the two ends, of the course that lies on a level."""
    over = [p for p in laid.placements if p.level >= level - TOLERANCE and p.span.overlaps(along)]
    course = min((placement.course for placement in over), default=0)
    return tuple(
        sorted(
            placement.span.start + perpend.at + perpend.width / 2
            for placement in over
            if placement.course == course
            for perpend in patterns[placement.pattern].perpends
            if along.contains(placement.span.start + perpend.at)
            and along.contains(placement.span.start + perpend.at + perpend.width)
        )
    )


def weep_holes(perpends: Sequence[float], along: Span, spacing: float, least: int) -> Weeps:
    """One next to each end, no two further apart than `spacing`, no fewer than `least` (mm along the wall).

    They stand in perpends as far as those go. Where two perpends stand further apart, or too few, a hole is cut between.
    """
    if not perpends:
        count = max(least, 1 if at_most(along.length, spacing / 2) else ceil((along.length - TOLERANCE) / spacing) + 1)
        return Weeps(*(_among(along, count),) * 2)
    cut = [at for gap in _gaps(perpends, along, spacing) for at in _between(gap, spacing)]
    places = sorted((*perpends, *cut))
    while len(places) < least:
        cut.append(max(_spans(places, along), key=lambda gap: round(gap.length, 2)).middle)
        places = sorted((*places, cut[-1]))
    chosen = _most_even(places, max(least, len(_reached(places, spacing))))
    return Weeps(chosen, tuple(at for at in sorted(cut) if at in chosen))


def _among(along: Span, count: int) -> tuple[float, ...]:
    """So many places from end to end; one alone in the middle."""
    if count == 1:
        return (along.middle,)
    return tuple(along.start + k * along.length / (count - 1) for k in range(count))


def _gaps(perpends: Sequence[float], along: Span, spacing: float) -> list[Span]:
    """Where no perpend stands for longer than the spacing, the two ends of the tray included."""
    return [gap for gap in _spans(perpends, along) if not at_most(gap.length, spacing)]


def _spans(places: Sequence[float], along: Span) -> list[Span]:
    return [Span(a, b) for a, b in pairwise((along.start, *places, along.end))]


def _between(gap: Span, spacing: float) -> tuple[float, ...]:
    """Places inside a gap that leave none of it longer than the spacing."""
    parts = ceil((gap.length - TOLERANCE) / spacing)
    return tuple(gap.start + k * gap.length / parts for k in range(1, parts))


def _reached(places: Sequence[float], spacing: float) -> tuple[float, ...]:
    """From the first place to the last in as few steps as can be, none longer than the spacing."""
    steps = [places[0]]
    while steps[-1] < places[-1] - TOLERANCE:
        beyond = [at for at in places if at > steps[-1] + TOLERANCE]
        steps.append(max((at for at in beyond if at_most(at - steps[-1], spacing)), default=beyond[0]))
    return tuple(steps)


def _most_even(places: Sequence[float], count: int) -> tuple[float, ...]:
    """So many of the places, the first and the last among them, whose longest step is as short as it can be."""
    steps = sorted({round(b - a, 3) for k, a in enumerate(places) for b in places[k + 1 :]})
    if not steps:
        return tuple(places)
    enough = bisect_left(
        steps, True, key=lambda step: len(_reached(places, step)) <= count and _largest(places, step) <= step + TOLERANCE
    )
    chosen = list(_reached(places, steps[enough]))
    while len(chosen) < count:
        spare = [at for at in places if at not in chosen]
        chosen = sorted((*chosen, max(spare, key=lambda at: round(min(abs(at - other) for other in chosen), 2))))
    return tuple(chosen)


def _largest(places: Sequence[float], step: float) -> float:
    return max(b - a for a, b in pairwise(_reached(places, step)))
