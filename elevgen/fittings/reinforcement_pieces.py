"""Lengths of reinforcement cut to pieces out of stock: bent round corners, lapped, laps staggered from bed to bed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import ceil, floor

from elevgen.building.model import Building
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.coursing.packing import pack
from elevgen.fittings.corners import End
from elevgen.fittings.lapping import laid_out
from elevgen.fittings.model import BedReinforcement, Return, StockCut, StockCutting
from elevgen.fittings.reinforcement_chains import Chain, Run, chains
from elevgen.fittings.staggering import Staggering, Stock
from elevgen.fittings.steel import least_lap
from elevgen.fittings.stock_cutting import StockPlan, cut_stock, least_piece
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

TENTHS = 10
"""Pieces are cut to a tenth of a millimetre, rounded up."""


def _tenths(length: float) -> int:
    return ceil(length * TENTHS - TOLERANCE)


def _stock(reader: RuleReader) -> Stock | None:
    length, lap = figure(reader, "bed_reinforcement.stock_length"), least_lap(reader)
    if length is None or lap is None or length <= lap:
        return None
    stagger, height = (figure(reader, f"bed_reinforcement.{key}") for key in ("stagger", "stagger.height"))
    least = least_piece(floor(length * TENTHS + TOLERANCE), _tenths(lap)) / TENTHS
    return Stock(length, _tenths(lap) / TENTHS, least, stagger if height is not None else None, height or 0.0)


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
    wanted = [best[c] for c in range(len(found))]
    laid, cutting = min(
        (
            _cutting(runs, found, Staggering(building, runs, found, wanted, stock, backwards).lay(), groups, plans, stock, order)
            for backwards in (False, True)
        ),
        key=lambda tried: (sum(group.number for group in tried[1]), sum(map(len, tried[0]))),
    )
    return laid, cutting


def _cutting(
    runs: Sequence[Run],
    found: Sequence[Chain],
    laid: list[tuple[Span, ...]],
    groups: Mapping[tuple[str, float], Sequence[int]],
    plans: Mapping[tuple[str, float], StockPlan],
    stock: Stock,
    order: Mapping[str, int],
) -> tuple[list[tuple[Span, ...]], tuple[StockCutting, ...]]:
    """How stock is cut for the pieces as they are laid; by wall and thickness."""
    whole = floor(stock.length * TENTHS + TOLERANCE)
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
