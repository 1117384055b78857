"""Wall ties crowd the edges of openings and movement joints."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.checks._cavities import Cavity, cavities, column
from elevgen.checks._masonry import place_of
from elevgen.checks._rules import not_checked, rule
from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.core.measures import level, millimetres
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Tie
from elevgen.result import Design, Finding

CODE = "tie-near-joint-and-reveal"
TITLE = "Wall ties beside openings and movement joints"
RATIONALE = "At an edge the leaf is held on one side only, so ties there stand closer and near the edge."
DISTANCE, UP = "tie.edge.distance", "tie.edge.vertical"
BESIDE = 1.0
"""Masonry is looked for this far (mm) beyond an edge."""
ROOM = 50.0
"""A tie is not asked for where no stretch of both leaves within its reach is this wide (mm)."""


class _Edge(NamedTuple):
    """An upright edge: `side` is -1 when the masonry lies to its left, +1 to its right."""

    where: str
    at: float
    side: int
    levels: Span


def check(design: Design) -> Iterator[Finding]:
    """Up each reveal and each side of each joint: ties within the distance, no further apart than the limit, ends included."""
    distance, up = rule(design, DISTANCE), rule(design, UP)
    for cavity in cavities(design):
        if distance is None or up is None:
            yield not_checked(design, CODE, cavity.wall.id, DISTANCE, UP)
            continue
        ties = sorted(cavity.ties, key=lambda t: t.at)
        places = [tie.at for tie in ties]
        for edge in _edges(cavity):
            reach = Span(edge.at - distance.number, edge.at) if edge.side < 0 else Span(edge.at, edge.at + distance.number)
            near = ties[bisect_left(places, reach.start - TOLERANCE) : bisect_right(places, reach.end + TOLERANCE)]
            yield _judged(cavity, edge, reach, near, up)


def _edges(cavity: Cavity) -> Iterator[_Edge]:
    for opening in cavity.wall.openings:
        where = f"{cavity.wall.id}/{opening.id}"
        yield _Edge(f"{where} left reveal", opening.rect.left, -1, opening.rect.levels)
        yield _Edge(f"{where} right reveal", opening.rect.right, 1, opening.rect.levels)
    for joint in cavity.joints:
        yield _Edge(f"{place_of(joint)} left side", joint.gap.start, -1, joint.levels)
        yield _Edge(f"{place_of(joint)} right side", joint.gap.end, 1, joint.levels)


def _judged(cavity: Cavity, edge: _Edge, reach: Span, near: Sequence[Tie], up: Sourced) -> Finding:
    beside = edge.at + edge.side * BESIDE
    in_joint = any(joint.gap.contains(beside) for joint in cavity.joints)
    solid = () if in_joint else column(cavity, beside)
    stretches = [common for span in solid if (common := span.common(edge.levels))]
    if not stretches:
        return Finding("", CODE, "pass", edge.where, "no masonry of both leaves beside it")
    gap, over = max(_gap(span, near) for span in stretches)
    if at_most(gap, up.number):
        text = f"ties {millimetres(gap)} mm apart at most"
        return Finding("", CODE, "pass", edge.where, text, gap, "<=", up.number, "mm", up)
    room = max((c.length for s in cavity.solid(over + gap / 2) if (c := s.common(reach))), default=0.0)
    if room < ROOM:
        text = f"only {millimetres(room)} mm of both leaves beside it: no room for a tie"
        return Finding("", CODE, "note", edge.where, text, room, ">=", ROOM, "mm")
    text = f"{millimetres(gap)} mm without a tie, over {level(over)}"
    return Finding("", CODE, "fail", edge.where, text, gap, "<=", up.number, "mm", up)


def _gap(span: Span, near: Sequence[Tie]) -> tuple[float, float]:
    """The largest gap up a stretch, and the level it begins at."""
    inside = sorted(tie.level for tie in near if span.contains(tie.level))
    return max((high - low, low) for low, high in pairwise([span.start, *inside, span.end]))
