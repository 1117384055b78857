"""A stretch of course as laid: pieces and perpends from its left end, each kept once however often it is used."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.model import Perpend, Piece
from elevgen.coursing.stretch import Layout


class Row(NamedTuple):
    """Pieces and perpends of one stretch, and the centre lines of the perpends. `serial` is its identity."""

    serial: int
    length: float
    pieces: tuple[Piece, ...]
    perpends: tuple[Perpend, ...]
    hidden: tuple[float, float]
    lines: tuple[float, ...]
    unseen: tuple[Piece, ...] = ()


class Margin(NamedTuple):
    """What stands beyond the pieces at an end: a perpend, and beyond it the end of a unit from round the corner.

    `returned` may be two ends with `between` them. `shared`: the outermost piece, seen or not, runs through a corner and has the
    other wall's units, not its own like, behind it. `unseen` are the lengths of pieces wholly out of sight round a corner seen
    from inside, the outermost first.
    """

    joint: float = 0.0
    returned: float = 0.0
    shared: bool = False
    unseen: tuple[float, ...] = ()
    between: float = 0.0

    @property
    def length(self) -> float:
        return self.joint + self.returned

    def ends(self, at: float) -> tuple[list[Piece], list[Perpend]]:
        """The ends of units from round the corner, from this place on, and the perpend between two."""
        if not self.between:
            return ([Piece(at, self.returned, "return", "header")] if self.returned else []), []
        end = (self.returned - self.between) / 2
        pieces = [Piece(x, end, "return", "header") for x in (at, at + end + self.between)]
        return pieces, [Perpend(at + end, self.between)]

    def out_of_sight(self, laying: Laying) -> Iterator[Piece]:
        """The unseen pieces."""
        for n, length in enumerate(self.unseen):
            yield laying.piece(0.0, length, length, self.shared and n == 0)


@dataclass(slots=True)
class Rows:
    """The rows of one `lay`, found again by content."""

    _known: dict[tuple[object, ...], Row] = field(default_factory=dict)

    def keep(
        self,
        length: float,
        pieces: tuple[Piece, ...],
        perpends: tuple[Perpend, ...],
        hidden: tuple[float, float],
        unseen: tuple[Piece, ...] = (),
    ) -> Row:
        """The row with this content; the same object every time."""
        key = (
            unseen,
            tuple((round(p.at, 4), round(p.length, 4), p.kind, p.laid, p.deep) for p in pieces),
            tuple((round(p.at, 4), round(p.width, 4)) for p in perpends),
            tuple(round(h, 4) for h in hidden),
            round(length, 4),
        )
        if key not in self._known:
            lines = tuple(p.at + p.width / 2 for p in perpends)
            self._known[key] = Row(len(self._known), length, pieces, perpends, hidden, lines, unseen)
        return self._known[key]

    def part(self, row: Row, first: int, last: int) -> Row:
        """The row from one of its pieces to another, both included, with the perpends between them."""
        pieces = row.pieces[first : last + 1]
        start, end = pieces[0].at, pieces[-1].at + pieces[-1].length
        return self.keep(
            end - start,
            tuple(replace(p, at=p.at - start) for p in pieces),
            tuple(Perpend(p.at - start, p.width) for p in row.perpends if start - TOLERANCE <= p.at < end - TOLERANCE),
            (row.hidden[0] if first == 0 else 0.0, row.hidden[1] if last == len(row.pieces) - 1 else 0.0),
        )


class Laying(NamedTuple):
    """How pieces of a unit lie in a leaf: `unit` and `header` are the faces a whole one shows, `deep` how many stretchers lie
    one behind another; `headers` says whether the bond shows ends of units, `closers` how long its closers are."""

    unit: float
    header: float
    deep: int
    headers: bool
    closers: tuple[float, ...]

    def piece(self, at: float, shown: float, real: float, shared: bool) -> Piece:
        """A piece that shows so much of its real length. A header is whole where it goes through the leaf."""
        if abs(real - self.unit) <= TOLERANCE:
            return Piece(at, shown, "full", "stretcher", 1 if shared else self.deep)
        if (self.headers or self.deep > 1) and abs(real - self.header) <= TOLERANCE:
            return Piece(at, shown, "full" if self.deep > 1 else "cut", "header", 1)
        if any(abs(real - closer) <= TOLERANCE for closer in self.closers):
            return Piece(at, shown, "cut", "closer", 1)
        return Piece(at, shown, "cut", "stretcher", 1 if shared else self.deep)


def assemble(
    rows: Rows, length: float, layout: Layout, laying: Laying, hidden: tuple[float, float], margins: tuple[Margin, Margin]
) -> Row:
    """A layout with its margins as a row; no piece where they fill it. Full: what shows and what is hidden make up the unit."""
    left, right = margins
    start = left.length + layout.rests[0]
    places = [(at, shown) for at, shown in _places(layout, start) if shown > TOLERANCE]
    reach = [length_ for _, length_ in places]
    shared = [False] * len(places)
    if reach:
        reach[0] += hidden[0]
        reach[-1] += hidden[1]
        one, other = (margin.shared and not margin.unseen for margin in margins)
        shared[0], shared[-1] = one, other or (len(shared) == 1 and one)
    pieces = [laying.piece(at, shown, real, beside) for (at, shown), real, beside in zip(places, reach, shared, strict=True)]
    ends = [at + shown for at, shown in places[:-1]]
    perpends = [Perpend(at, layout.perpend) for at in ends]
    before, after = left.joint + layout.rests[0], right.joint + layout.rests[1]
    if before > 0:
        perpends.insert(0, Perpend(left.returned, before))
    if after > 0:
        perpends.append(Perpend(length - right.returned - after, after))
    (first, within), (last, within_last) = left.ends(0.0), right.ends(length - right.returned)
    unseen = tuple(piece for margin in margins for piece in margin.out_of_sight(laying))
    return rows.keep(length, (*first, *pieces, *last), (*within, *perpends, *within_last), hidden, unseen)


def _places(layout: Layout, start: float) -> Iterator[tuple[float, float]]:
    """Left end and length of every piece."""
    for length, count in layout.runs:
        pitch = length + layout.perpend
        for k in range(count):
            yield start + k * pitch, length
        start += count * pitch
