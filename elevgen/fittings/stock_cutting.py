"""Lengths longer or shorter than the stock they are cut from: how each is pieced together so that the least stock is bought.

A length longer than the stock is made of as few pieces as do, each `lap` over the next: no lap is made to save steel.
Its laps may slide. Pieces that lie in different bars can give to one another: whatever shares a bar with the one that grows goes
to the bar of the one that shrinks and fits there. So no plan is better than one with every piece of a length whole but the last,
`rest` long; where that would be a stub (shorter than `least`), the last two share out stock and rest between them, and how is
searched. Stubs allowed, fewer bars might do but never more: that is the bound.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import groupby, product
from typing import NamedTuple

from elevgen.coursing.packing import Cut, pack

MOST_PLANS = 400
"""Plans a search weighs before it is content with what it has, each counted as often as it has lengths beyond a dozen."""
MOST_ROUNDS = 8
"""Times that stubs which cannot be drawn out in one plan are left as they are in the next."""
MOST_PLACES = 200
"""Places of one lap that a search looks at."""


class Pieced(NamedTuple):
    """How many whole bars a length takes, and what is left to cut after them; `stub`: shorter than a piece may be."""

    whole: int
    rest: int
    stub: bool


class StockPlan(NamedTuple):
    """The pieces of each length as asked for, longest first, the bars they come out of, and the number that fewer cannot do."""

    pieces: tuple[tuple[int, ...], ...]
    cuts: tuple[Cut, ...]
    least: int

    @property
    def number(self) -> int:
        return sum(cut.number for cut in self.cuts)


def pieced(length: int, stock: int, lap: int, least: int) -> Pieced:
    """A length as whole bars and a rest, laps reckoned in. Whole numbers of any one unit."""
    if length <= stock:
        return Pieced(0, length, False)
    number = -(-(length - lap) // (stock - lap))
    rest = length + (number - 1) * lap - (number - 1) * stock
    return Pieced(number - 1, rest, rest < least)


def least_piece(stock: int, lap: int) -> int:
    """Two laps, or a third of the stock where that is less: shorter pieces are not made of longer lengths."""
    return min(2 * lap, stock // 3)


def cut_stock(lengths: Sequence[int], stock: int, lap: int) -> StockPlan:
    """The least stock for lengths that lap by `lap` where one piece is not enough. Whole numbers of any one unit.

    Raises ValueError for a stock no longer than a lap, and for a length shorter than 1.
    """
    if stock <= lap:
        raise ValueError(f"pieces of {stock} cannot lap {lap}")
    least = least_piece(stock, lap)
    made = [pieced(length, stock, lap, least) for length in lengths]
    stubs = tuple(sorted((m.rest for m in made if m.stub), reverse=True))
    items = Counter(m.rest for m in made if not m.stub)
    items[stock] += sum(m.whole - m.stub for m in made)
    found = _Sliding(items, stubs, stock, least).best()
    first = {rest: iter(places) for rest, places in _by_stub(stubs, found.first)}
    pieces = []
    for m in made:
        whole = (stock,) * (m.whole - m.stub)
        if m.stub:
            one = next(first[m.rest])
            pieces.append((*whole, *sorted((one, stock + m.rest - one), reverse=True)))
        else:
            pieces.append((*whole, m.rest))
    return StockPlan(tuple(pieces), pack(_with(items, stubs, found.first, stock), stock, 0).cuts, found.least)


def _by_stub(stubs: Sequence[int], first: Sequence[int]) -> Iterator[tuple[int, list[int]]]:
    for rest, pairs in groupby(zip(stubs, first, strict=True), key=lambda p: p[0]):
        yield rest, [one for _, one in pairs]


def _with(items: Counter[int], stubs: Sequence[int], first: Sequence[int], stock: int) -> Counter[int]:
    """The pieces to cut when the first stubs are drawn out to `first`, and those after them left as they are."""
    wanted = Counter(items)
    for rest, one in zip(stubs, first, strict=False):
        wanted[one] += 1
        wanted[stock + rest - one] += 1
    for rest in stubs[len(first) :]:
        wanted[rest] += 1
        wanted[stock] += 1
    return wanted


class _Found(NamedTuple):
    first: tuple[int, ...]
    number: int
    least: int


@dataclass
class _Sliding:
    """Searches how far the stubs are drawn out: one piece of each pair, from `least` up to half of what the two have."""

    items: Counter[int]
    stubs: tuple[int, ...]
    stock: int
    least: int
    plans: int = 0
    all_seen: bool = True
    known: dict[tuple[int, ...], tuple[int, int]] = field(default_factory=dict)

    def best(self) -> _Found:
        """The fewest bars found, and the number that fewer are proven not to do."""
        plain = tuple(self.least for _ in self.stubs)
        first = min((*self._drawn_out(), plain), key=lambda drawn: self._bars(drawn)[0])
        best, least = _Found(first, self._bars(first)[0], 0), self._bound()
        while least < best.number:
            found = self._within((), least)
            if found is not None:
                return _Found(found, least, least)
            if not self.all_seen:
                return self._nearer(best, least)
            least += 1
        return best._replace(least=least)

    def _bound(self) -> int:
        """A number that fewer bars cannot do.

        What is too long to lie beside any piece of a pair has its bar to itself, unless there is something shorter than a piece.
        """
        if any(length < self.least for length in self.items):
            return self._bars(())[1]
        roomy, alone = self._roomy()
        return pack(_with(roomy, self.stubs, (), self.stock), self.stock, 0).least + alone

    def _roomy(self) -> tuple[Counter[int], int]:
        """Pieces that may lie beside one of a pair, and how many are too long for it."""
        roomy = Counter({length: n for length, n in self.items.items() if length <= self.stock - self.least})
        return roomy, sum(self.items.values()) - sum(roomy.values())

    def _drawn_out(self) -> Iterator[tuple[int, ...]]:
        """Plans with stubs made plans without: what shares a bar with them goes in part to the bars of their other pieces.

        Where that is not to be done for some, those are drawn out as far as they must be, and the rest is planned again.
        """
        roomy, _ = self._roomy()
        settled: Counter[int] = Counter()
        for _ in range(MOST_ROUNDS if self.stubs else 0):
            free = Counter(self.stubs) - settled
            wanted = _with(roomy, tuple(free.elements()), (), self.stock)
            for stub, n in settled.items():
                wanted[self.least] += n
                wanted[self.stock + stub - self.least] += n
            ones = {stub: [self.least] * n for stub, n in settled.items()}
            failed: Counter[int] = Counter()
            for pieces in (cut.pieces for cut in pack(wanted, self.stock, 0).cuts for _ in range(cut.number)):
                stubs = list((Counter(pieces) & free).elements())
                free -= Counter(stubs)
                beside = list((Counter(pieces) - Counter(stubs)).elements())
                drawn = _spread(stubs, beside, self.stock, self.least) if stubs else []
                failed.update(stubs if drawn is None else ())
                for stub, one in zip(stubs, drawn or [self.least] * len(stubs), strict=True):
                    ones.setdefault(stub, []).append(one)
            places = {stub: iter(sorted(drawn)) for stub, drawn in ones.items()}
            yield tuple(next(places[stub]) for stub in self.stubs)
            if not failed:
                return
            settled.update(failed)

    def _nearer(self, best: _Found, least: int) -> _Found:
        """The best that a search which cannot see everything still comes upon."""
        for target in range(least + 1, best.number):
            self.plans = 0
            found = self._within((), target)
            if found is not None:
                return _Found(found, target, least)
        return best._replace(least=least)

    def _bars(self, first: tuple[int, ...]) -> tuple[int, int]:
        """Bars for pairs so drawn out, and the number that fewer cannot do."""
        if first not in self.known:
            packed = pack(_with(self.items, self.stubs, first, self.stock), self.stock, 0)
            self.known[first] = sum(cut.number for cut in packed.cuts), packed.least
        return self.known[first]

    def _within(self, first: tuple[int, ...], target: int) -> tuple[int, ...] | None:
        """Pairs drawn out so that no more than `target` bars do; those not yet settled are let be stubs, which asks less."""
        self.plans += max(len(self.items) + len(set(self.stubs)) - 12, 1)
        if self.plans > MOST_PLANS:
            self.all_seen = False
            return None
        number, least = self._bars(first)
        if least > target:
            return None
        if len(first) == len(self.stubs):
            self.all_seen = self.all_seen and number == least
            return first if number <= target else None
        alike = first and self.stubs[len(first)] == self.stubs[len(first) - 1]
        for one in self._places(len(first)):
            if not (alike and one < first[-1]):
                found = self._within((*first, one), target)
                if found is not None:
                    return found
        return None

    def _places(self, index: int) -> list[int]:
        """What the shorter piece of a pair may be: as short as can be, or such that the longer fills a bar with others."""
        rest = self.stubs[index]
        others = list(self.items.elements()) + [r for n, r in enumerate(self.stubs) if n != index]
        others += [self.least] * (len(self.stubs) - 1)
        most = (self.stock + rest) // 2
        sums = _sums((o for o in others if o <= most), most - rest)
        places = sorted({self.least, *(rest + s for s in sums if rest + s >= self.least)})
        if max(len(places), len(sums) // 10) > MOST_PLACES:
            self.all_seen = False
        return places[:MOST_PLACES]


def _spread(stubs: Sequence[int], beside: Sequence[int], stock: int, least: int) -> list[int] | None:
    """How far to draw out stubs that share a bar, so that what lies beside them fits there or by their other pieces."""
    if len(beside) > 6:
        return None
    for where in product(range(len(stubs) + 1), repeat=len(beside)):
        drawn = [
            max(least, stub + sum(b for b, w in zip(beside, where, strict=True) if w == n)) for n, stub in enumerate(stubs, 1)
        ]
        here = sum(b for b, w in zip(beside, where, strict=True) if w == 0)
        if sum(drawn) + here <= stock and all(one <= stock + stub - least for one, stub in zip(drawn, stubs, strict=True)):
            return drawn
    return None


def _sums(parts: Iterable[int], most: int) -> set[int]:
    """Every sum of some of the parts that is no more than `most`; many are cut off."""
    sums = {0}
    for part, alike in groupby(sorted(parts, reverse=True)):
        for _ in range(min(len(list(alike)), max(most // part, 1))):
            sums |= {s + part for s in sums if s + part <= most}
            if len(sums) > 10 * MOST_PLACES:
                return sums
    return sums
