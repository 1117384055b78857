"""Lengths of reinforcement that are one round corners, seen along their run: legs in leaves, bends between them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.core.geometry import Span
from elevgen.fittings.corners import ENDS, End, from_end
from elevgen.fittings.model import ReinforcedFor


class Link(NamedTuple):
    """The length that goes on round a corner: its number, the end it begins at, and what the bend takes."""

    to: int
    end: End
    round: float


class Run(NamedTuple):
    """A length of reinforcement in one leaf, not yet cut. `bed` None: listed at a level where there is none."""

    id: str
    leaf: Leaf
    bed: int | None
    course: int
    level: float
    span: Span
    serves: tuple[str, ...]
    why: tuple[ReinforcedFor, ...]
    ends_at: tuple[str, ...]
    width_most: float | None
    given: bool = False
    links: tuple[tuple[End, Link], ...] = ()

    def link(self, end: End) -> Link | None:
        return dict(self.links).get(end)


class Leg(NamedTuple):
    """What of a chain lies in one leaf: of which length, where, and from where along the chain; `forward`: from its start."""

    of: int
    span: Span
    forward: bool
    at: float

    @property
    def along(self) -> Span:
        return Span(self.at, self.at + self.span.length)

    def on_chain(self, at: float) -> float:
        """A place along the wall, along the chain."""
        return self.at + (at - self.span.start if self.forward else self.span.end - at)

    def on_wall(self, part: Span) -> Span:
        """A part of the chain, along the wall."""
        a, b = part.start - self.at, part.end - self.at
        return Span(self.span.start + a, self.span.start + b) if self.forward else Span(self.span.end - b, self.span.end - a)


class Chain(NamedTuple):
    """Lengths that are one, round corners. Its bends lie between its legs."""

    legs: tuple[Leg, ...]

    @property
    def length(self) -> float:
        return self.legs[-1].along.end

    @property
    def closing(self) -> Leg | None:
        """Where the last piece of a ring lies over the first."""
        return self.legs[-1] if len(self.legs) > 1 and self.legs[-1].of == self.legs[0].of else None

    @property
    def bends(self) -> tuple[Span, ...]:
        return tuple(Span(a.along.end, b.at) for a, b in pairwise(self.legs))


def chains(runs: Sequence[Run], lap: float) -> list[Chain]:
    """Lengths joined round corners. A ring is opened at a corner, where its last piece laps over its first.

    Rings in one wall are opened each at the next corner, so that those laps do not come over one another.
    """
    left = set(range(len(runs)))
    heads = ((n, end) for n, run in enumerate(runs) for end in ENDS if run.link(end) is None)
    found = [_chain(runs, n, end, lap, left) for n, end in heads if n in left]
    rings: dict[str, int] = {}
    for n, run in enumerate(runs):
        if n in left:
            rings[run.leaf.id] = rings.get(run.leaf.id, -1) + 1
            found.append(_chain(runs, *_corners_on(runs, n, rings[run.leaf.id]), lap, left))
    return found


def _corners_on(runs: Sequence[Run], first: int, corners: int) -> tuple[int, End]:
    """The length so many corners on from a first one in a ring, and the end it is come to by."""
    n, end = first, ENDS[0]
    for _ in range(corners):
        link = runs[n].link("finish" if end == "start" else "start")
        if link is not None:
            n, end = link.to, link.end
    return n, end


def _chain(runs: Sequence[Run], first: int, head: End, lap: float, left: set[int]) -> Chain:
    legs: list[Leg] = []
    n, end, at = first, head, 0.0
    while n in left:
        left.remove(n)
        forward = end == "start"
        legs.append(Leg(n, runs[n].span, forward, at))
        link = runs[n].link("finish" if forward else "start")
        at += runs[n].span.length
        if link is None:
            return Chain(tuple(legs))
        n, end, at = link.to, link.end, at + link.round
    leg = from_end(runs[first].span, head, min(lap, runs[first].span.length))
    return Chain((*legs, Leg(first, leg, head == "start", at))) if lap else Chain(tuple(legs))
