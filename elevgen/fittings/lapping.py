"""Where the pieces of one length of reinforcement lap: clear of bends, of laps in the next bed and of opening corners."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span, merge


class Barred(NamedTuple):
    """Where the middle of a lap must not be (bends), should not be (laps in the next bed), and had better not be (openings).

    Spans without their ends.
    """

    bends: tuple[Span, ...] = ()
    laps: tuple[Span, ...] = ()
    openings: tuple[Span, ...] = ()


def laid_out(pieces: Iterable[float], lap: float) -> tuple[Span, ...]:
    """Pieces laid one after another from 0, each `lap` over the last."""
    laid: list[Span] = []
    for piece in pieces:
        start = laid[-1].end - lap if laid else 0.0
        laid.append(Span(start, start + piece))
    return tuple(laid)


def middles(laid: Sequence[Span], lap: float) -> list[float]:
    """Where the middles of the laps of laid pieces are."""
    return [piece.end - lap / 2 for piece in laid[:-1]]


Hits = tuple[int, int, int]
"""How many laps lie where they must not, should not, had better not."""
Laid = tuple[Span, ...]


def orders_by_hits(pieces: Sequence[float], lap: float, barred: Barred, backwards: bool = False) -> Iterator[tuple[Hits, Laid]]:
    """Ways to lay the pieces one after another, those first whose laps are least in the way; `backwards`: from the far end."""
    laid = [laid_out(reversed(order) if backwards else order, lap) for order in _orders(pieces)]
    yield from sorted(((_hits(each, lap, barred), each) for each in laid), key=lambda found: found[0])


def lapped(pieces: Sequence[float], length: float, stock: float, lap: float, least: float, barred: Barred) -> Laid:
    """A length cut anew where no order of its pieces keeps laps clear: as few as do, else those pieces in their best order.

    Of those alike the one with the longest pieces, from whichever end it is cut: what is left over is then in one place.
    A piece is between `least` and `stock` long; mm.
    """
    worst, best = next(orders_by_hits(pieces, lap, barred))
    kept = (barred.bends + barred.laps + barred.openings, barred.bends + barred.laps, barred.bends)
    anew = [laid for which in kept for laid in _anew(length, stock, lap, least, which)]
    judged = [
        (hits[:2], len(laid), hits[2], sorted(-round(piece.length, 3) for piece in laid), n)
        for n, laid in enumerate(anew)
        if (hits := _hits(laid, lap, barred))
    ]
    if judged and min(judged)[0] < worst[:2]:
        return anew[min(judged)[-1]]
    return best


def _hits(laid: Sequence[Span], lap: float, barred: Barred) -> Hits:
    at = middles(laid, lap)
    bends, laps, openings = (sum(1 for x in at if any(_within(x, span) for span in spans)) for spans in barred)
    return bends, laps, openings


def _within(x: float, span: Span) -> bool:
    return span.start + TOLERANCE < x < span.end - TOLERANCE


def _orders(pieces: Sequence[float]) -> Iterator[tuple[float, ...]]:
    """The whole pieces in a row and the others among them: one of those anywhere, the other at either end."""
    whole = max(pieces)
    short = [piece for piece in pieces if piece < whole - TOLERANCE]
    row = [whole] * (len(pieces) - len(short))
    if not short:
        yield tuple(pieces)
    elif len(short) == 1:
        for at in range(len(row), -1, -1):
            yield (*row[:at], short[0], *row[at:])
    else:
        for first, *others in (short, short[::-1]):
            for at in range(len(row), -1, -1):
                inner = (*row[:at], *others, *row[at:])
                yield (first, *inner)
                yield (*inner, first)


def _anew(length: float, stock: float, lap: float, least: float, barred: Sequence[Span]) -> Iterator[tuple[Span, ...]]:
    """As few pieces as keep their laps out of the barred spans: each lap as far on as may be, from either end."""
    for turned in (False, True):
        spans = [Span(length - s.end, length - s.start) for s in barred] if turned else barred
        at = _furthest(length, stock, lap, least, merge(s for s in spans if s.length > 2 * TOLERANCE))
        if at is not None:
            ends = (0.0, *at, length)
            laid = tuple(
                Span(max(a - lap / 2, 0.0) if n else 0.0, b + lap / 2 if n + 2 < len(ends) else length)
                for n, (a, b) in enumerate(pairwise(ends))
            )
            yield tuple(Span(length - s.end, length - s.start) for s in reversed(laid)) if turned else laid


def _furthest(length: float, stock: float, lap: float, least: float, barred: Sequence[Span]) -> list[float] | None:
    """Middles of laps, each as far on as a piece reaches and none bars; None where that comes to a stop."""
    at: list[float] = []
    start = 0.0
    while length - start > stock + TOLERANCE:
        here = min(start + stock - lap / 2, length - least + lap / 2)
        for span in reversed(barred):
            if _within(here, span):
                here = span.start
        if here + lap / 2 - start < least - TOLERANCE:
            return None
        at.append(here)
        start = here - lap / 2
    return at
