"""The sheet of bed-joint reinforcement: lengths as fixed, pieces bent round corners, and how stock is cut. Lengths mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from elevgen.core.measures import METRE
from elevgen.fittings.model import BedReinforcement, StockCut, StockCutting
from elevgen.fittings.reinforced_words import REINFORCED_FOR
from elevgen.result import Design
from elevgen.writers._xlsx_model import Field, Fields, Sheet, joined, table, yes
from elevgen.writers._xlsx_schedules import rule_keys


class Bent(NamedTuple):
    """A piece bent round a corner: where it is in one leaf, and how much of it lies in the other."""

    bed: str
    leaf: str
    course: int
    corner: str
    here: float
    round_corner: float
    leg: float
    into: str


class Bar(NamedTuple):
    """Stock lengths of one wall that are cut alike."""

    of: StockCutting
    cut: StockCut


LENGTHS: Fields[BedReinforcement] = (
    Field("Length", 20, "text", lambda b: b.id),
    Field("Leaf", 14, "text", lambda b: b.leaf),
    Field("On course", 8, "nr", lambda b: b.course),
    Field("From", 10, "mm", lambda b: b.span.start),
    Field("To", 10, "mm", lambda b: b.span.end),
    Field("Pieces", 28, "wrap", lambda b: joined(" + ", b.pieces)),
    Field("Level m", 10, "level", lambda b: b.level / METRE),
    Field("Net m", 9, "amount", lambda b: b.span.length / METRE, "m"),
    Field("Laps", 6, "nr", lambda b: b.laps),
    Field("Lap", 8, "mm", lambda b: b.lap),
    Field("With laps m", 10, "amount", lambda b: b.with_laps / METRE, "m"),
    Field("Serves", 16, "wrap", lambda b: ", ".join((*b.serves, *(REINFORCED_FOR[w] for w in b.why if w in REINFORCED_FOR)))),
    Field("Laps from", 12, "wrap", lambda b: joined(", ", (lap.start for lap in b.lap_at))),
    Field("Goes on into", 12, "wrap", lambda b: ", ".join(turn.leaf for turn in b.returns)),
    Field("Ends at, no bed there", 10, "wrap", lambda b: ", ".join(b.ends_at)),
)
PIECES: Fields[tuple[float, int]] = (
    Field("Length mm", 20, "mm", lambda p: p[0]),
    Field("Number", 14, "nr", lambda p: p[1]),
)
BENT: Fields[Bent] = (
    Field("Length", 20, "text", lambda b: b.bed),
    Field("Leaf", 14, "text", lambda b: b.leaf),
    Field("On course", 8, "nr", lambda b: b.course),
    Field("At its", 10, "text", lambda b: b.corner),
    Field("In this leaf", 10, "mm", lambda b: b.here),
    Field("Goes on into", 28, "text", lambda b: b.into),
    Field("In that leaf", 10, "mm", lambda b: b.leg),
    Field("In the bend", 9, "mm", lambda b: b.round_corner),
)
BARS: Fields[Bar] = (
    Field("Wall", 20, "text", lambda b: b.of.wall),
    Field("Leaf thickness", 14, "mm", lambda b: b.of.thickness),
    Field("Number", 8, "nr", lambda b: b.cut.number),
    Field("Stock length", 10, "mm", lambda b: b.of.stock),
    Field("Left of each", 10, "mm", lambda b: b.cut.left),
    Field("Cut into", 28, "wrap", lambda b: joined(" + ", b.cut.pieces)),
)
STOCK: Fields[StockCutting] = (
    Field("Wall", 20, "text", lambda s: s.wall),
    Field("Leaf thickness", 14, "mm", lambda s: s.thickness),
    Field("Number", 8, "nr", lambda s: s.number),
    Field("Stock length", 10, "mm", lambda s: s.stock),
    Field("Left over m", 10, "amount", lambda s: s.left / METRE, "m"),
    Field("Fewer would not do", 10, "text", lambda s: yes(s.proven)),
    Field("At least", 9, "nr", lambda s: s.least),
    Field("Width at most", 10, "mm", lambda s: s.width_most),
)


def reinforcement(design: Design) -> Sheet:
    """Every length of bed-joint reinforcement, the stock it is cut from wall by wall, and how many pieces of each length."""
    lengths, stock = design.fittings.bed_reinforcement, design.fittings.stock
    cuts = Counter(round(piece, 1) for s in stock for cut in s.cuts for piece in cut.pieces * cut.number)
    if not stock:
        cuts = Counter(round(piece, 1) for bed in lengths for piece in bed.pieces)
    return Sheet(
        "Reinforcement",
        "In the bed on top of the course named; never through a movement joint. Ladder, wires and bends as the maker says.",
        (
            table("Lengths as fixed", LENGTHS, lengths, design.figures),
            table("Pieces bent round corners", BENT, _bent(lengths), design.figures),
            table("Stock lengths to buy for each wall, without waste", STOCK, stock, design.figures),
            table(
                "How they are cut; a bent piece is cut for the wall it begins in",
                BARS,
                (Bar(s, c) for s in stock for c in s.cuts),
                design.figures,
            ),
            table("Pieces to cut", PIECES, sorted(cuts.items(), reverse=True), design.figures),
            *rule_keys(bed.basis for bed in lengths),
        ),
    )


def _bent(lengths: tuple[BedReinforcement, ...]) -> Iterator[Bent]:
    """Each bend once, told from the length that comes first."""
    told: set[tuple[str, str]] = set()
    for bed in lengths:
        for turn in bed.returns:
            if (turn.continues, bed.id) not in told and bed.cuts:
                told.add((bed.id, turn.continues))
                here = bed.cuts[0] if turn.end == "start" else bed.cuts[-1]
                yield Bent(bed.id, bed.leaf, bed.course, turn.end, here.length, turn.round_corner, turn.leg, turn.leaf)
