"""Stock lengths of reinforcement are cut into the pieces that are laid, none longer than the stock."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import BUILDING, Place, found
from elevgen.checks._words import counted
from elevgen.core.geometry import at_most
from elevgen.result import Design, Finding

CODE = "reinforcement-stock"
TITLE = "Stock lengths of reinforcement"
RATIONALE = "Reinforcement cut short on site is lapped short; the cutting list must hold every piece, bends and laps included."
GRAIN = 0.1
"""Pieces in the cutting list are rounded up to a tenth of a millimetre."""


def check(design: Design) -> Iterator[Finding]:
    """Pieces as laid against pieces as cut, in number and length: a bent piece is one, with what its bend takes.

    And in every stock length the pieces no longer than it. The bound of each wall is told.
    """
    lengths, cutting = design.fittings.bed_reinforcement, design.fittings.stock
    faults = [
        (stock.wall, cut.pieces)
        for stock in cutting
        for cut in stock.cuts
        if not at_most(sum(cut.pieces), stock.stock) or abs(stock.stock - sum(cut.pieces) - cut.left) > GRAIN
    ]
    for wall, pieces in faults:
        said = " + ".join((*map(design.figures.length, pieces[:-1]), design.figures.measure(pieces[-1])))
        text = f"{said} do not come out of one stock length"
        yield found("fail", Place(wall, (wall,)), text)
    if not lengths or not cutting:
        yield found("pass", BUILDING, "no stock length is cut")
        return
    bends = sum(len(r.returns) for r in lengths) // 2
    laid = sum(len(r.pieces) for r in lengths) - bends
    long = sum(r.with_laps for r in lengths) + sum(turn.round_corner for r in lengths for turn in r.returns) / 2
    cut = sum(len(c.pieces) * c.number for stock in cutting for c in stock.cuts)
    cut_long = sum(sum(c.pieces) * c.number for stock in cutting for c in stock.cuts)
    if laid != cut or abs(long - cut_long) > GRAIN * laid + GRAIN:
        run = design.figures.run
        text = f"{counted(laid, 'piece')} laid, {run(long)}; {counted(cut, 'piece')} cut, {run(cut_long)}"
        walls = tuple(dict.fromkeys(stock.wall for stock in cutting))
        yield found("fail", Place("building", walls), text)
    elif not faults:
        bars, least = sum(stock.number for stock in cutting), sum(stock.least for stock in cutting)
        proven = "no fewer would do" if bars == least else f"{least} at least"
        yield found(
            "pass",
            BUILDING,
            f"{counted(cut, 'piece')} out of {counted(bars, 'stock length')}, {proven}",
            measured=float(bars),
            unit="nr",
        )
