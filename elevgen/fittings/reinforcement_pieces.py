"""Lengths of reinforcement cut to pieces out of stock: bent round corners, lapped, laps staggered from bed to bed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, floor
from typing import NamedTuple

from elevgen.building.model import Building, Leaf
from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.coursing.packing import pack
from elevgen.fittings.corners import ENDS, End, from_end
from elevgen.fittings.lapping import Barred, laid_out, lapped
from elevgen.fittings.model import BedReinforcement, ReinforcedFor, Return, StockCut, StockCutting
from elevgen.fittings.steel import least_lap
from elevgen.fittings.stock_cutting import StockPlan, cut_stock, least_piece
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

TENTHS = 10
"""Pieces are cut to a tenth of a millimetre, rounded up."""


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
    def bends(self) -> tuple[Span, ...]:
        return tuple(Span(a.along.end, b.at) for a, b in pairwise(self.legs))


class Stock(NamedTuple):
    """What is bought and how it laps, mm; and how far apart laps in neighbouring beds stay, None: the set does not say."""

    length: float
    lap: float
    stagger: float | None
    height: float

    @property
    def least(self) -> float:
        return least_piece(floor(self.length * TENTHS + TOLERANCE), _tenths(self.lap)) / TENTHS


def _tenths(length: float) -> int:
    return ceil(length * TENTHS - TOLERANCE)


def _stock(reader: RuleReader) -> Stock | None:
    length, lap = figure(reader, "bed_reinforcement.stock_length"), least_lap(reader)
    if length is None or lap is None or length <= lap:
        return None
    stagger, height = (figure(reader, f"bed_reinforcement.{key}") for key in ("stagger", "stagger.height"))
    return Stock(length, _tenths(lap) / TENTHS, stagger if height is not None else None, height or 0.0)


def cut_runs(
    building: Building, runs: Sequence[Run], basis: Sequence[tuple[str, ...]], reader: RuleReader
) -> tuple[tuple[BedReinforcement, ...], tuple[StockCutting, ...]]:
    """The lengths with their pieces, and the stock they come out of; one piece each where the set has no stock length or lap."""
    stock = _stock(reader)
    lap = stock.lap if stock else 0.0
    found = chains(runs, lap)
    laid, cutting = _cut(building, runs, found, stock) if stock else ([laid_out((c.length,), 0.0) for c in found], ())
    pieces, returns = _shared_out(runs, found, laid)
    made = tuple(
        BedReinforcement(
            id=run.id,
            wall=run.leaf.wall,
            leaf=run.leaf.id,
            course=run.course,
            level=run.level,
            span=run.span,
            laps=len(pieces[n]) - 1,
            lap=lap,
            pieces=tuple(piece.length for piece in pieces[n]),
            serves=run.serves,
            basis=basis[n],
            cuts=pieces[n],
            returns=returns[n],
            ends_at=run.ends_at,
            why=run.why,
            width_most=run.width_most,
            given=run.given,
        )
        for n, run in enumerate(runs)
    )
    return made, cutting


def chains(runs: Sequence[Run], lap: float) -> list[Chain]:
    """Lengths joined round corners. A ring is opened where its first length begins: its last piece laps over the first there."""
    left, found = set(range(len(runs))), []
    heads = [(n, end) for n, run in enumerate(runs) for end in ENDS if run.link(end) is None]
    for n, end in [*heads, *((n, ENDS[0]) for n in range(len(runs)))]:
        if n in left:
            found.append(_chain(runs, n, end, lap, left))
    return found


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


def _cut(
    building: Building, runs: Sequence[Run], found: Sequence[Chain], stock: Stock
) -> tuple[list[tuple[Span, ...]], tuple[StockCutting, ...]]:
    """The pieces of every chain, along it, and the cutting by wall and thickness of leaf."""
    groups: dict[tuple[str, float], list[int]] = {}
    order = {wall.id: n for n, wall in enumerate(building.walls)}
    for c, chain in enumerate(found):
        thickness = min(runs[leg.of].leaf.thickness for leg in chain.legs)
        groups.setdefault((runs[chain.legs[0].of].leaf.wall, thickness), []).append(c)
    plans: dict[tuple[str, float], StockPlan] = {}
    best: dict[int, tuple[float, ...]] = {}
    whole = floor(stock.length * TENTHS + TOLERANCE)
    for key, members in groups.items():
        lengths = [_tenths(found[c].length) for c in members]
        plans[key] = cut_stock(lengths, whole, _tenths(stock.lap))
        for c, made, pieces in zip(members, lengths, plans[key].pieces, strict=True):
            over = made / TENTHS - found[c].length
            best[c] = (*(p / TENTHS for p in pieces[:-1]), pieces[-1] / TENTHS - over)
    laid = _staggered(building, runs, found, best, stock)
    cutting = []
    for key, members in sorted(groups.items(), key=lambda g: (order[g[0][0]], g[0][1])):
        cut = Counter(_tenths(piece.length) for c in members for piece in laid[c])
        as_planned = cut == Counter(piece for planned in plans[key].pieces for piece in planned)
        packed = pack(cut, whole, 0)
        cuts = tuple(
            StockCut(tuple(p / TENTHS for p in bar.pieces), bar.number, (whole - sum(bar.pieces)) / TENTHS) for bar in packed.cuts
        )
        widths = [runs[leg.of].width_most for c in members for leg in found[c].legs]
        known = [width for width in widths if width is not None]
        least = plans[key].least if as_planned else packed.least
        cutting.append(StockCutting(key[0], key[1], stock.length, cuts, least, min(known, default=None)))
    return laid, tuple(cutting)


def _staggered(
    building: Building, runs: Sequence[Run], found: Sequence[Chain], best: dict[int, tuple[float, ...]], stock: Stock
) -> list[tuple[Span, ...]]:
    """The pieces of every chain laid so that laps keep clear, bed by bed from the bottom."""
    openings = {wall.id: {o.id: o.rect.along for o in wall.openings} for wall in building.walls}
    laps: dict[int, list[float]] = {}
    laid: dict[int, tuple[Span, ...]] = {}
    in_leaf: dict[str, list[int]] = {}
    for n, run in enumerate(runs):
        in_leaf.setdefault(run.leaf.id, []).append(n)
    for c in sorted(best, key=lambda c: (min(runs[leg.of].level for leg in found[c].legs), c)):
        chain = found[c]
        if len(best[c]) > 1:
            barred = Barred(
                tuple(bend.grown(stock.lap / 2) for bend in chain.bends),
                tuple(_of_neighbours(runs, chain, in_leaf, laps, stock)),
                tuple(
                    Span(leg.on_chain(reveal) - stock.lap, leg.on_chain(reveal) + stock.lap)
                    for leg in chain.legs
                    for name in runs[leg.of].serves
                    for reveal in _ends(openings[runs[leg.of].leaf.wall].get(name))
                ),
            )
            laid[c] = lapped(best[c], chain.length, stock.length, stock.lap, stock.least, barred)
        else:
            laid[c] = laid_out(best[c], stock.lap)
        for leg in chain.legs:
            on_wall = [leg.on_wall(Span(b.start, a.end)) for a, b in pairwise(laid[c])]
            laps.setdefault(leg.of, []).extend(lap.middle for lap in on_wall if leg.span.contains(lap.middle))
    return [laid[c] for c in range(len(found))]


def _ends(span: Span | None) -> tuple[float, ...]:
    return () if span is None else (span.start, span.end)


def _of_neighbours(
    runs: Sequence[Run], chain: Chain, in_leaf: dict[str, list[int]], laps: dict[int, list[float]], stock: Stock
) -> Iterator[Span]:
    """Along a chain, where laps would come too near those of the reinforced beds next to it that are cut already."""
    if stock.stagger is None:
        return
    for leg in chain.legs:
        here = runs[leg.of]
        beside = [runs[n] for n in in_leaf[here.leaf.id] if n != leg.of and runs[n].span.overlaps(leg.span)]
        for side in (-1, 1):
            apart = sorted({abs(o.level - here.level) for o in beside if side * (o.level - here.level) > TOLERANCE})
            if not apart or not at_most(apart[0], stock.height):
                continue
            for n in in_leaf[here.leaf.id]:
                if abs(side * (runs[n].level - here.level) - apart[0]) <= TOLERANCE:
                    for at in laps.get(n, ()):
                        middle = leg.on_chain(at)
                        yield Span(middle - stock.stagger, middle + stock.stagger)


def _shared_out(
    runs: Sequence[Run], found: Sequence[Chain], laid: Sequence[tuple[Span, ...]]
) -> tuple[list[tuple[Span, ...]], list[tuple[Return, ...]]]:
    """The pieces of each length along its wall, and where it goes on round a corner."""
    pieces: list[list[Span]] = [[] for _ in runs]
    returns: list[list[Return]] = [[] for _ in runs]
    for chain, along in zip(found, laid, strict=True):
        for leg in chain.legs:
            parts = [common for piece in along if (common := piece.common(leg.along))]
            pieces[leg.of].extend(leg.on_wall(part) for part in parts)
        for a, b in pairwise(chain.legs):
            bent = max(along, key=lambda piece: min(a.along.end - piece.start, piece.end - b.at))
            out: End = "finish" if a.forward else "start"
            into: End = "start" if b.forward else "finish"
            beyond, before = min(bent.end, b.along.end) - b.at, a.along.end - max(bent.start, a.at)
            bend = b.at - a.along.end
            returns[a.of].append(Return(out, runs[b.of].leaf.id, runs[b.of].id, beyond, bend))
            returns[b.of].append(Return(into, runs[a.of].leaf.id, runs[a.of].id, before, bend))
    return [tuple(sorted(each)) for each in pieces], [tuple(sorted(each, key=lambda r: r.end != "start")) for each in returns]
