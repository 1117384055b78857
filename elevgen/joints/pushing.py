"""How few joints a chain or a ring can do with wherever they stand: each is pushed on as far as the rules let it.

Whatever a joint's place asks of those after it is asked less when the joint stands further on, so nothing is lost when
every joint goes to the last free place its forerunner, its corner, its panel and its own face leave it. Only the number of
joints on each face is left to try. Round a ring all joints can be pushed until something other than a joint holds one
up, so that each of those places is tried as the first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.line import excess
from elevgen.joints.stretch import Stretch, stretch

Way = Sequence[Stretch]


_SLACK = 0.2
"""Corner rules missed by so much more (mm) are missed alike: costs are rounded to 0.1 mm at each corner."""


class Reached(NamedTuple):
    """The last joint so far and those before it."""

    at: float
    before: Reached | None

    def joints(self) -> tuple[float, ...]:
        return (*(self.before.joints() if self.before else ()), self.at)


Reaches = dict[tuple[int, int], Reached]
"""By stretch and by how far corner rules are missed."""


def fewest_on_chain(way: Way, most: int, missed: int, asked: Sequence[Span] = ()) -> list[tuple[float, ...]]:
    """The fewest joints that do, once pushed to the right and once to the left; nothing where more than `most` are needed.

    `missed`: how far corner rules may be missed, as cost. `asked`: stretches of the way in each of which one stands.
    """
    found = []
    right = pushed(way, most, missed, asked)
    if right is not None:
        mirrored = [Span(-span.end, -span.start) for span in asked]
        left = pushed([s.mirrored() for s in reversed(way)], len(right), missed, mirrored)
        found = [right, *([tuple(-x for x in reversed(left))] if left is not None else [])]
    return found


def fewest_round_ring(ring: Way, most: int, missed: int, asked: Sequence[Span] = ()) -> list[tuple[float, ...]]:
    """The fewest joints that do round a ring, every way of pushing them from a place that holds one up."""
    found: list[tuple[float, ...]] = []
    length = ring[-1].right
    laps = [span.shifted(lap * length) for lap in (-1, 0, 1) for span in asked]
    for opened, begin in _opened(ring, laps):
        beyond = [s for s in laps if s.start > begin + TOLERANCE and s.end < begin + length - TOLERANCE]
        for joints in fewest_on_chain(opened, most - 1, missed, beyond):
            found.append(tuple(sorted(x % length for x in (begin, *joints))))
            most = min(most, len(found[-1]))
    return [joints for joints in dict.fromkeys(found) if len(joints) == most]


def _opened(ring: Way, asked: Sequence[Span]) -> Iterator[tuple[Way, float]]:
    """The ring laid out from each place that may hold a joint up, back to the same joint."""
    length = ring[-1].right
    again = [s.shifted(length) for s in ring]
    for n, s in enumerate(ring):
        held = (at for span in asked for at in (s.place_by(span.end), s.place_from(span.start)) if at is not None)
        for at in sorted({*s.anchors(), *held}):
            begin = stretch(s.segment, s.free, at, s.right)
            end = stretch(again[n].segment, again[n].free, again[n].left, at + length)
            yield [begin, *ring[n + 1 :], *again[:n], end], at


def pushed(way: Way, most: int, missed: int, asked: Sequence[Span] = ()) -> tuple[float, ...] | None:
    """The fewest joints that do, each as far to the right as may be; None where `most` will not do."""
    slack = missed + excess(_SLACK)
    reached: Reaches = {(-1, 0): Reached(way[0].left, None)}
    for _ in range(most + 1):
        onward: Reaches = {}
        for (number, so_far), last in reached.items():
            ahead = [span for span in asked if last.before is None or span.start > last.at + TOLERANCE]
            if step(way, slack, number, so_far, last, onward, ahead):
                return last.joints()[1:]
        reached = onward
    return None


def step(way: Way, slack: int, number: int, so_far: int, last: Reached, onward: Reaches, ahead: Sequence[Span] = ()) -> bool:
    """Adds every furthest next joint; True where none is needed. `ahead`: stretches in which one is still asked for."""
    limit = min((span.end for span in ahead), default=inf)
    if number >= 0:
        here = way[number]
        limit = min(limit, here.allowed(last.at))
        _offer(onward, number, so_far, here.furthest(last.at, limit), last)
        if not here.may_leave(last.at):
            return False
    for n in range(number + 1, len(way)):
        there = way[n]
        limit = min(limit, there.allowed(last.at))
        if there.left > limit + TOLERANCE:
            return False
        if there.free and so_far + there.cut <= slack:
            _offer(onward, n, so_far + there.cut, there.furthest(there.left, min(limit, there.first)), last)
        if there.empty is None or so_far + there.empty > slack:
            return False
        so_far += there.empty
    return not ahead and way[-1].right <= limit + TOLERANCE


def _offer(onward: Reaches, number: int, missed: int, at: float | None, last: Reached) -> None:
    if at is not None and ((number, missed) not in onward or onward[number, missed].at < at):
        onward[number, missed] = Reached(at, last)
