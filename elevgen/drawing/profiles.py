"""Tops and bases that step or slope: where they turn, and the levels they turn at."""

from __future__ import annotations

from itertools import pairwise

from elevgen.building.model import Profile
from elevgen.core.geometry import TOLERANCE, Point, Span
from elevgen.drawing.board import Board
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.labels import Label, Spot
from elevgen.drawing.scene import Align, Role, VAlign

LABEL_SIZE = 2.0
_ASIDE, _DEEPER = 1.6, (4.0, 6.5)
"""From the line to its level; and at a point between slopes, where that is too near; paper mm."""


def profile_levels(profile: Profile, span: Span) -> tuple[float, ...]:
    """The levels a profile has at its ends and where it turns."""
    points = profile.clipped(span)
    return tuple(y for _, y in (points[0], *profile.turns(span), points[-1]))


def level_labels(board: Board, facts: LeafFacts) -> tuple[Label, ...]:
    """The level of every flat stretch, apex and foot of a top or base that is not of one level."""
    span = facts.leaf.span
    labels: list[Label] = []
    for profile, inside in ((facts.leaf.top, -1.0), (facts.leaf.base, 1.0)):
        points = (profile.clipped(span)[0], *profile.turns(span), profile.clipped(span)[-1])
        flats = [(a, b) for a, b in pairwise(points) if abs(a[1] - b[1]) <= TOLERANCE and b[0] - a[0] > TOLERANCE]
        if len({round(y, 2) for _, y in points}) == 1:
            continue
        told = {end for flat in flats for end in flat}
        stretches = [*flats, *((p, p) for p in dict.fromkeys(points) if p not in told)]
        labels += [_label(board, facts, a, b, inside) for a, b in stretches]
    return tuple(labels)


def _label(board: Board, facts: LeafFacts, a: Point, b: Point, inside: float) -> Label:
    """Along a flat stretch from `a` to `b`, or at one point; rather inside the wall than outside."""
    y, off, in_from = a[1], board.mm(_ASIDE), board.mm(1.5)
    xs: tuple[tuple[float, Align], ...]
    xs = (((a[0] + b[0]) / 2, "centre"), (a[0] + in_from, "left"), (b[0] - in_from, "right"))
    spots = []
    for way in (inside, -inside):
        valign: VAlign = "base" if way > 0 else "top"
        spots += [Spot((x, y + way * off), align, valign) for x, align in xs]
        if a == b:
            spots += [Spot((a[0], y + way * board.mm(deeper)), "centre", valign) for deeper in _DEEPER]
    return Label(facts.figures.level(y), Role.LEVEL, tuple(spots), ((a[0] + b[0]) / 2, y), 1, LABEL_SIZE, source=facts.leaf.id)
