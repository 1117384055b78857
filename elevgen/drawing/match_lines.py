"""Where sheets part a wall too long for one: about equal parts, in plain masonry, through no label, figure, flag or opening."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from elevgen.core.geometry import Span
from elevgen.core.measures import MM_PER_INCH
from elevgen.drawing.board import CUT_CLEAR, TEXT_SIZE, Board
from elevgen.drawing.dims import running_places, setting_out, string_figures, strings
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import Fonts

STEP, ABOUT = 2.0, 0.25
"""From one place tried to the next, paper mm; how far from even parts it is tried, as a share of a part."""
ROUND_INCHES = float(6 * MM_PER_INCH)
"""Half a foot: places in feet and inches are whole numbers of it."""
_FIGURE_CLEAR = 0.6
_ACROSS_OPENING, _ACROSS_FIGURE, _BESIDE, _UNEQUAL = 1e6, 1e4, 40.0, 100.0
"""What it costs to part an opening or a lintel, a figure, to stand less than `_NEAR` from a joint, and for the longest part to be
twice the mean."""
_NEAR = 12.0
"""Plain masonry wished for on either side, paper mm."""


class _Stretches(NamedTuple):
    """Stretches of the wall with a little room round them: where they start and where they end, each in order."""

    starts: list[float]
    ends: list[float]

    def over(self, at: float) -> int:
        """How many there are at a place."""
        return bisect_left(self.starts, at) - bisect_right(self.ends, at)


class _Obstacles(NamedTuple):
    """What a match line should not cross, and in order the places it should not be near."""

    built: _Stretches
    figures: _Stretches
    edges: list[float]


def match_lines(facts: LeafFacts, fonts: Fonts, scale: int, longest: float) -> tuple[float, ...]:
    """Where the face is parted so that no part is longer than `longest` (model mm): as few parts as it takes.

    One part more is made where that many would part an opening or a figure and one more would not.
    """
    fewest = max(2, ceil(facts.face.width / longest - 1e-9))
    obstacles = _obstacles(facts, fonts, scale)
    tried = [_cheapest(facts, obstacles, scale, longest, parts) for parts in (fewest, fewest + 1)]
    found = [t for t in tried if t is not None]
    if not found:
        return tuple(facts.face.left + facts.face.width * n / (fewest + 1) for n in range(1, fewest + 1))
    clean = (t for t in found if t[0] < _ACROSS_FIGURE)
    return next(clean, min(found))[1]


def parts(facts: LeafFacts, cuts: Sequence[float]) -> tuple[Span, ...]:
    """The parts of the face between the match lines."""
    return tuple(Span(a, b) for a, b in pairwise((facts.face.left, *cuts, facts.face.right)))


def _cheapest(
    facts: LeafFacts, obstacles: _Obstacles, scale: int, longest: float, count: int
) -> tuple[float, tuple[float, ...]] | None:
    """The cheapest places for `count` parts and what they cost, by dynamic programming from the left; None where none will do."""
    face, mean = facts.face, facts.face.width / count
    reached: dict[float, tuple[float, tuple[float, ...]]] = {face.left: (0.0, ())}
    for n in range(1, count):
        even = face.left + mean * n
        places = [p for p in _places(facts, scale) if abs(p - even) <= mean * ABOUT]
        costs = {p: _cost(p, obstacles, scale) for p in places}
        following: dict[float, tuple[float, tuple[float, ...]]] = {}
        for place in places:
            before = [
                (cost + costs[place] + _uneven(place - start, mean), (*cuts, place))
                for start, (cost, cuts) in reached.items()
                if 0 < place - start <= longest + 1e-6
            ]
            if before:
                following[place] = min(before)
        reached = following
    last = [
        (cost + _uneven(face.right - start, mean), cuts)
        for start, (cost, cuts) in reached.items()
        if face.right - start <= longest + 1e-6
    ]
    return min(last) if last else None


def _places(facts: LeafFacts, scale: int) -> Iterator[float]:
    """A step apart; where lengths are in feet, at round ones."""
    step = STEP * scale
    if facts.figures.in_feet:
        step = ceil(step / ROUND_INCHES) * ROUND_INCHES
    for n in range(1, int(facts.face.width / step)):
        yield facts.face.left + n * step


def _uneven(length: float, mean: float) -> float:
    return _UNEQUAL * (length / mean - 1.0) ** 2


def _cost(at: float, obstacles: _Obstacles, scale: int) -> float:
    cost = _ACROSS_OPENING * obstacles.built.over(at)
    cost += _ACROSS_FIGURE * obstacles.figures.over(at)
    next_on = bisect_left(obstacles.edges, at)
    beside = obstacles.edges[max(next_on - 1, 0) : next_on + 1]
    nearest = min((abs(at - edge) for edge in beside), default=_NEAR * scale)
    return cost + _BESIDE * max(0.0, 1.0 - nearest / (_NEAR * scale))


def _obstacles(facts: LeafFacts, fonts: Fonts, scale: int) -> _Obstacles:
    built = [g.clear.along for g in facts.groups] + [x.span for x in facts.lintels] + [j.gap for j in facts.joints]
    built += [met.band.along for met in facts.met]
    figures = [*_running(facts, fonts, scale), *_string_figures(facts, fonts, scale)]
    edges = [at for span in built for at in (span.start, span.end)]
    edges += [at for beds in facts.reinforced for at in (beds.span.start, beds.span.end)]
    edges += [feature.at for feature in facts.wall.features]
    clear = CUT_CLEAR * scale
    return _Obstacles(_stretches(built, clear), _stretches(figures, clear), sorted(edges))


def _stretches(spans: Sequence[Span], clear: float) -> _Stretches:
    return _Stretches(sorted(s.start - clear for s in spans), sorted(s.end + clear for s in spans))


def _running(facts: LeafFacts, fonts: Fonts, scale: int) -> Iterator[Span]:
    """The running figures, turned upright, from their ticks to where they are drawn apart."""
    figures = setting_out(facts)
    half = (TEXT_SIZE / 2 + _FIGURE_CLEAR) * scale
    for figure, place in zip(figures, running_places(Board(fonts, scale), [f.at for f in figures]), strict=True):
        yield Span(min(figure.at, place) - half, max(figure.at, place) + half)


def _string_figures(facts: LeafFacts, fonts: Fonts, scale: int) -> Iterator[Span]:
    """The figures of the strings, where they are drawn."""
    board = Board(fonts, scale)
    for _, places in strings(facts):
        yield from (along.grown(_FIGURE_CLEAR * scale) for along in string_figures(board, facts, places))
