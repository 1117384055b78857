"""Lengths cut out of stock of one length, from as little stock as there is a way to: with the bound that proves it.

Pieces so long that no more than one other goes with each are settled at once. How often to use each way of cutting up the rest
is a linear programme over the ways worth using, whose dual proves a bound; its whole part is taken as it is, and the few pieces
then left are searched.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice
from math import floor
from operator import mul, neg
from typing import NamedTuple

from elevgen.coursing.shares import EPS, shares_of

Counts = tuple[int, ...]
"""How many of each length, the longest first."""

MOST_FILLINGS = 500
"""Ways of cutting up one length that a search looks at in one place."""
MOST_STEPS = 20_000
"""Ways that one search may weigh before it gives up."""
MOST_ROUNDS = 200
DEEPEST = 60
"""Lengths of stock that a search may fill one after another."""
GRAIN = 10**9


class Cut(NamedTuple):
    """Pieces out of one length of stock, the longest first, and how many lengths are cut so."""

    pieces: tuple[int, ...]
    number: int


class Packing(NamedTuple):
    """How stock is cut up. Fewer lengths of it than `least` are proven not to do."""

    cuts: tuple[Cut, ...]
    least: int

    @property
    def number(self) -> int:
        return sum(cut.number for cut in self.cuts)


def pack(wanted: Mapping[int, int], stock: int, saw: int, *, quick: bool = False) -> Packing:
    """How to cut so many pieces of each length out of the fewest lengths of stock, `saw` lost between two pieces.

    Whole numbers of any one unit of length. `quick`: longest first into the first length with room, which is safe but not
    always the fewest. Raises ValueError for a piece longer than the stock, or shorter than 1.
    """
    lengths = tuple(sorted((length for length, number in wanted.items() if number > 0), reverse=True))
    if lengths and not (lengths[0] <= stock and lengths[-1] >= 1):
        raise ValueError(f"pieces from {lengths[-1]} to {lengths[0]} out of {stock}")
    problem = _Problem(tuple(length + saw for length in lengths), stock + saw)
    number = tuple(wanted[length] for length in lengths)
    settled, rest = problem.settled(number)
    best, least = problem.longest_first(rest), problem.bound(rest)
    if used(best) > least and not quick:
        best, least = problem.improved(rest, best, least)
    cuts = sorted((_pieces(way, lengths), times) for way, times in _trimmed([*settled, *best], number))
    return Packing(tuple(Cut(pieces, times) for pieces, times in reversed(cuts)), used(settled) + least)


Plan = list[tuple[Counts, int]]
"""Ways of cutting one length up, and how often each is used."""


def used(plan: Plan) -> int:
    """Lengths of stock a plan takes."""
    return sum(times for _, times in plan)


def _pieces(way: Counts, lengths: Sequence[int]) -> tuple[int, ...]:
    return tuple(length for length, count in zip(lengths, way, strict=True) for _ in range(count))


def _less(number: Counts, way: Counts, times: int = 1) -> Counts:
    """What is still wanted, never below none."""
    return tuple([max(0, n - times * count) if count else n for n, count in zip(number, way, strict=True)])


def _trimmed(plan: Plan, number: Counts) -> list[tuple[Counts, int]]:
    """A plan that may give more than is wanted, without what is too much; alike ways taken together."""
    found: dict[Counts, int] = {}
    for way, times in plan:
        exact = min(times, *(n // count for n, count in zip(number, way, strict=True) if count))
        rest = [way] * (times - exact)
        if exact:
            found[way] = found.get(way, 0) + exact
            number = _less(number, way, exact)
        for each in rest:
            cut = tuple(min(n, count) for n, count in zip(number, each, strict=True))
            if any(cut):
                found[cut] = found.get(cut, 0) + 1
                number = _less(number, cut)
    return list(found.items())


class _Start(NamedTuple):
    """Part of a plan, what it leaves to be cut, and that longest first."""

    held: Plan
    rest: Counts
    quick: Plan


class _Problem(NamedTuple):
    """Pieces with a saw cut each, the longest first, and the stock with one saw cut more: then only sums are compared."""

    sizes: Counts
    room: int

    def bound(self, number: Counts) -> int:
        """All pieces end to end."""
        return -(-self._length(number) // self.room)

    def _length(self, way: Counts) -> int:
        total: int = sum(map(mul, self.sizes, way))
        return total

    def longest_first(self, number: Counts) -> Plan:
        plan: Plan = []
        wanted = {i: n for i, n in enumerate(number) if n}
        while wanted:
            room, way = self.room, [0] * len(number)
            for i, n in wanted.items():
                if self.sizes[i] <= room:
                    way[i] = min(n, room // self.sizes[i])
                    room -= way[i] * self.sizes[i]
            taken = [i for i in wanted if way[i]]
            times = min(wanted[i] // way[i] for i in taken)
            plan.append((tuple(way), times))
            for i in taken:
                wanted[i] -= times * way[i]
                if not wanted[i]:
                    del wanted[i]
        return plan

    def settled(self, number: Counts) -> tuple[Plan, Counts]:
        """The longest pieces while no more than one other goes with each: with the longest that does, none is better.

        Whatever goes with a piece in any plan can change places with the longest that could. Also what is then left.
        """
        plan: Plan = []
        while any(number):
            longest = next(i for i, n in enumerate(number) if n)
            shortest = self.sizes[max(i for i, n in enumerate(number) if n)]
            if self.sizes[longest] + 2 * shortest <= self.room:
                break
            alone = tuple(int(i == longest) for i in range(len(number)))
            room, others = self.room - self.sizes[longest], _less(number, alone)
            partner = next((i for i, n in enumerate(others) if n and self.sizes[i] <= room), None)
            way = tuple(one + (i == partner) for i, one in enumerate(alone))
            times = min(n // count for n, count in zip(number, way, strict=True) if count)
            plan.append((way, times))
            number = _less(number, way, times)
        return plan, number

    def fillings(self, number: Counts) -> Iterator[Counts]:
        """Ways to cut up one length out of which no further wanted piece comes, many of the longest first; some others too."""
        wanted = [i for i, n in enumerate(number) if n]
        way = [0] * len(number)

        def fill(place: int, room: int) -> Iterator[Counts]:
            for here in range(place, len(wanted)):
                piece = wanted[here]
                most = min(number[piece], room // self.sizes[piece])
                last = piece == len(number) - 1
                for count in range(most, most - 1 if last and most else 0, -1):
                    way[piece] = count
                    yield from fill(here + 1, room - count * self.sizes[piece])
                way[piece] = 0
                if last and most:
                    return
            yield tuple(way)

        return fill(0, self.room)

    def full_ways(self, number: Counts) -> tuple[list[Counts], bool]:
        """Fillings that leave no room for a piece still wanted, and whether those are all there are."""
        fillings = list(islice(self.fillings(number), MOST_FILLINGS + 1))
        return [way for way in fillings if self._is_full(way, number)], len(fillings) <= MOST_FILLINGS

    def _is_full(self, way: Counts, number: Counts) -> bool:
        fitting = bisect_left(self.sizes, -self.left(way), key=neg)
        return way[fitting:] == number[fitting:]

    def left(self, way: Counts) -> int:
        return self.room - self._length(way)

    def improved(self, number: Counts, best: Plan, least: int) -> tuple[Plan, int]:
        """A plan that reaches the bound or comes as near as can be found, and the greatest bound that can be proven."""
        shares, least = self._shared_out(number, best, least)
        starts = self._starts(number, shares)
        for target in range(least, used(best)):
            found = self._nearly(starts, target)
            if found is not None:
                return found, least
            search = _Search(self)
            found = search.fill(number, target)
            if found is not None:
                return found, least
            if target == least and not search.gave_up:
                least += 1
        return best, least

    def _shared_out(self, number: Counts, plan: Plan, least: int) -> tuple[list[tuple[Counts, float]], int]:
        """Ways and how often each is used where ways may be used in part, and the bound that this proves.

        From the ways of a plan on: whatever way is worth more than one length, at what the pieces are worth so far, is let in.
        """
        ways = list(dict.fromkeys(way for way, _ in plan))
        for _ in range(MOST_ROUNDS):
            worth, often = shares_of(ways, number)
            grains = [max(0, floor(value * GRAIN)) for value in worth]
            dearest = self._dearest(grains, number)
            if dearest is None:
                break
            value = sum(g * count for g, count in zip(grains, dearest, strict=True))
            least = max(least, -(-sum(g * n for g, n in zip(grains, number, strict=True)) // value))
            if dearest in ways or value <= GRAIN + len(number):
                break
            ways.append(dearest)
        return list(zip(ways, often, strict=True)), least

    def _dearest(self, worth: Sequence[int], number: Counts) -> Counts | None:
        """The filling worth most: no guess, or the bound would not hold. None where that takes too long to find out."""
        order = sorted((i for i, n in enumerate(number) if n and worth[i]), key=lambda i: -worth[i] / self.sizes[i])
        best, way, most, steps = (0,) * len(number), [0] * len(number), -1, 0

        def fill(place: int, room: int, value: int) -> None:
            nonlocal best, most, steps
            steps += 1
            if value > most:
                best, most = tuple(way), value
            if place == len(order) or steps > MOST_STEPS:
                return
            piece = order[place]
            size = self.sizes[piece]
            if value * size + room * worth[piece] <= most * size:
                return
            for count in range(min(number[piece], room // size), -1, -1):
                way[piece] = count
                fill(place + 1, room - count * size, value + count * worth[piece])
            way[piece] = 0

        fill(0, self.room, 0)
        return best if most > 0 and steps <= MOST_STEPS else None

    def _starts(self, number: Counts, shares: list[tuple[Counts, float]]) -> list[_Start]:
        """The whole part of what is shared out, less a few of each way."""
        found = []
        for back in (0, 1, 2):
            held = [(way, floor(x + EPS) - back) for way, x in shares if floor(x + EPS) > back]
            rest = number
            for way, times in held:
                rest = _less(rest, way, times)
            found.append(_Start(held, rest, self.longest_first(rest)))
        return found

    def _nearly(self, starts: Sequence[_Start], target: int) -> Plan | None:
        """A start that comes to no more than so many lengths, what it leaves cut longest first or searched for."""
        for held, rest, quick in starts:
            left = target - used(held)
            found = quick if used(quick) <= left else _Search(self).fill(rest, left) if left >= 0 else None
            if found is not None:
                return [*held, *found]
        return None


@dataclass
class _Search:
    """Fills lengths of stock one by one, the longest piece left first; remembers what could not be done."""

    problem: _Problem
    steps: int = 0
    gave_up: bool = False
    failed: set[tuple[Counts, int]] = field(default_factory=set)

    def fill(self, number: Counts, stock: int) -> Plan | None:
        """A plan for so many lengths; None where there is none, or none was found in what was looked at (`gave_up`)."""
        if not any(number):
            return []
        if self.problem.bound(number) > stock or (number, stock) in self.failed:
            return None
        if self.steps > MOST_STEPS or stock > DEEPEST:
            self.gave_up = True
            return None
        for way in self._ways(number):
            rest = self.fill(_less(number, way), stock - 1)
            if rest is not None:
                return [(way, 1), *rest]
            if self.steps > MOST_STEPS:
                return None
        self.failed.add((number, stock))
        return None

    def _ways(self, number: Counts) -> list[Counts]:
        """Full ways with the longest piece left in them, the fullest first."""
        longest = next(i for i, n in enumerate(number) if n)
        ways, all_of_them = self.problem.full_ways(number)
        self.steps += len(ways)
        self.gave_up = self.gave_up or not all_of_them
        return sorted((way for way in ways if way[longest]), key=self.problem.left)
