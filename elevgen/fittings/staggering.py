"""Laps of neighbouring reinforced beds kept apart: pieces put in another order, and cut anew where no order does."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.model import Building
from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.fittings.lapping import Barred, Laid, laid_out, lapped, orders_by_hits
from elevgen.fittings.reinforcement_chains import Chain, Run


class Stock(NamedTuple):
    """What is bought and how it laps, mm; `stagger`: how far apart laps stay in beds no further than `height` from each other.

    A piece of a longer length is no shorter than `least`. None: the rule set does not say.
    """

    length: float
    lap: float
    least: float
    stagger: float | None
    height: float


class Staggering:
    """Lays the pieces of chains, bed by bed from the bottom; `backwards`: where all orders are as good, from their far ends."""

    def __init__(
        self,
        building: Building,
        runs: Sequence[Run],
        chains: Sequence[Chain],
        pieces: Sequence[Sequence[float]],
        stock: Stock,
        backwards: bool = False,
    ) -> None:
        self.backwards = backwards
        self.runs, self.chains, self.pieces, self.stock = runs, chains, pieces, stock
        self.openings = {(wall.id, o.id): o.rect.along for wall in building.walls for o in wall.openings}
        self.chain_of: dict[int, list[int]] = {}
        for c, chain in enumerate(chains):
            for leg in chain.legs:
                self.chain_of.setdefault(leg.of, []).append(c)
        self.beside = self._neighbours()
        self.laid: dict[int, Laid] = {}

    def lay(self) -> list[Laid]:
        """The pieces of every chain, along it."""
        for c in sorted(range(len(self.chains)), key=lambda c: (min(self.runs[leg.of].level for leg in self.chains[c].legs), c)):
            self.laid[c] = self._lay(c)
        return [self.laid[c] for c in range(len(self.chains))]

    def _lay(self, c: int) -> Laid:
        if len(self.pieces[c]) == 1:
            return laid_out(self.pieces[c], self.stock.lap)
        return self._in_order(c) or self._with_others_turned(c) or self._anew(c)

    def _in_order(self, c: int) -> Laid | None:
        """The pieces of a chain in the best order with no lap in the way; None where there is none."""
        hits, laid = next(orders_by_hits(self.pieces[c], self.stock.lap, self._barred(c), self.backwards))
        return laid if hits[:2] == (0, 0) else None

    def _with_others_turned(self, c: int) -> Laid | None:
        """The same after one chain in the beds next to it has taken another order, which is as good for all others."""
        for d in sorted({d for leg in self.chains[c].legs for n in self.beside[leg.of] for d in self.chain_of[n]} - {c}):
            before = self.laid.get(d)
            if before is None or len(before) != len(self.pieces[d]):
                continue
            del self.laid[d]
            for hits, laid in orders_by_hits(self.pieces[d], self.stock.lap, self._barred(d), self.backwards):
                if hits[:2] != (0, 0):
                    break
                self.laid[d] = laid
                if found := self._in_order(c):
                    return found
                del self.laid[d]
            self.laid[d] = before
        return None

    def _anew(self, c: int) -> Laid:
        stock = self.stock
        return lapped(self.pieces[c], self.chains[c].length, stock.length, stock.lap, stock.least, self._barred(c))

    def _barred(self, c: int) -> Barred:
        """Where laps of a chain are not to be: at its bends, near laps in the beds next to it, at the corners of openings."""
        chain, lap = self.chains[c], self.stock.lap
        return Barred(
            tuple(bend.grown(lap / 2) for bend in chain.bends),
            tuple(self._near_laps(chain)),
            tuple(
                Span(leg.on_chain(reveal) - lap, leg.on_chain(reveal) + lap)
                for leg in chain.legs
                for name in self.runs[leg.of].serves
                for reveal in self._reveals(self.runs[leg.of].leaf.wall, name)
            ),
        )

    def _reveals(self, wall: str, name: str) -> tuple[float, float]:
        along = self.openings[wall, name]
        return along.start, along.end

    def _near_laps(self, chain: Chain) -> Iterator[Span]:
        if self.stock.stagger is None:
            return
        for leg in chain.legs:
            for n in self.beside[leg.of]:
                for at in self._laps(n):
                    middle = leg.on_chain(at)
                    yield Span(middle - self.stock.stagger, middle + self.stock.stagger)

    def _laps(self, n: int) -> Iterator[float]:
        """Middles of the laps of a length, along its wall, as laid so far; and that by which a ring is closed."""
        for c in set(self.chain_of[n]):
            closing = self.chains[c].closing
            if closing is not None and closing.of == n:
                yield closing.span.middle
            for leg in self.chains[c].legs:
                if leg.of == n:
                    middles = (leg.on_wall(Span(b.start, a.end)).middle for a, b in pairwise(self.laid.get(c, ())))
                    yield from (at for at in middles if leg.span.contains(at))

    def _neighbours(self) -> Mapping[int, tuple[int, ...]]:
        """By length: those next over it in its leaf that lie along it and are not too far off, and those it is next over."""
        in_leaf: dict[str, list[int]] = {}
        for n, run in enumerate(self.runs):
            in_leaf.setdefault(run.leaf.id, []).append(n)
        beside: dict[int, set[int]] = {n: set() for n in range(len(self.runs))}
        for n, run in enumerate(self.runs):
            for m in self._next_over(run, in_leaf[run.leaf.id]):
                beside[n].add(m)
                beside[m].add(n)
        return {n: tuple(sorted(others)) for n, others in beside.items()}

    def _next_over(self, here: Run, others: Sequence[int]) -> Iterator[int]:
        up = {n: self.runs[n].level - here.level for n in others if self.runs[n].span.overlaps(here.span)}
        nearest = min((rise for rise in up.values() if rise > TOLERANCE), default=None)
        if nearest is not None and at_most(nearest, self.stock.height):
            yield from (n for n, rise in up.items() if abs(rise - nearest) <= TOLERANCE)
