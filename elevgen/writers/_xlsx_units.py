"""The sheet of units: what is laid, what is cut, out of what it is cut, and what to buy for each scaffold lift. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from elevgen.core.figures import Figures
from elevgen.core.measures import METRE
from elevgen.coursing.cutting import total_needs
from elevgen.coursing.model import CutPiece, OffCut, Sawing, SlopeCut, UnitMass, UnitNeed
from elevgen.result import Design
from elevgen.writers._xlsx_misfits import MISFITS
from elevgen.writers._xlsx_model import Field, Fields, Sheet, joined, table

ALL = "all"
SLOPE = "to a slope"


class Laid(NamedTuple):
    """Units of one kind in a leaf."""

    leaf: str
    unit: str
    whole: int
    cut: int


class CutRow(NamedTuple):
    """Cut pieces of one size, or all of one kind of unit in a lift of a leaf that are cut to a slope (no size)."""

    leaf: str
    lift: int
    unit: str
    how: str
    length: float | None
    height: float | None
    number: int


class Bought(NamedTuple):
    """Units of one kind for one lift, or for all of them."""

    lift: str
    start: float
    end: float
    need: UnitNeed
    mass: UnitMass | None

    @property
    def load(self) -> float | None:
        """All of them together, kg."""
        return None if self.mass is None or self.mass.mass is None else self.mass.mass * self.need.to_buy


UNITS: Fields[Laid] = (
    Field("Leaf", 24, "text", lambda u: u.leaf),
    Field("Unit", 24, "text", lambda u: u.unit),
    Field("Whole", 14, "nr", lambda u: u.whole),
    Field("Cut", 14, "nr", lambda u: u.cut),
    Field("To lay", 10, "nr", lambda u: u.whole + u.cut),
)
BOUGHT: Fields[Bought] = (
    Field("Lift", 24, "text", lambda b: b.lift),
    Field("Unit", 24, "text", lambda b: b.need.unit),
    Field("From level m", 14, "level", lambda b: b.start / METRE),
    Field("To level m", 14, "level", lambda b: b.end / METRE),
    Field("Laid whole", 10, "nr", lambda b: b.need.whole),
    Field("Cut pieces", 10, "nr", lambda b: b.need.pieces),
    Field("Units these are cut out of", 12, "nr", lambda b: b.need.cut_from),
    Field("Units to buy, no waste", 10, "nr", lambda b: b.need.to_buy),
    Field("Mass of one kg, at most", 10, "tenth", lambda b: b.mass.mass if b.mass else None, "kg"),
    Field("All of them kg, at most", 10, "nr", lambda b: b.load, "kg"),
)
CUTS: Fields[CutRow] = (
    Field("Leaf", 24, "text", lambda c: c.leaf),
    Field("Unit", 24, "text", lambda c: c.unit),
    Field("Cut", 14, "text", lambda c: c.how),
    Field("Lift", 14, "nr", lambda c: c.lift),
    Field("Length", 10, "mm", lambda c: c.length),
    Field("Height", 10, "mm", lambda c: c.height),
    Field("Number", 10, "nr", lambda c: c.number),
)
SLOPES: Fields[SlopeCut] = (
    Field("Leaf", 24, "text", lambda s: s.leaf),
    Field("Unit", 24, "text", lambda s: s.unit),
    Field("Course", 14, "nr", lambda s: s.course),
    Field("Long edge", 14, "mm", lambda s: s.long),
    Field("Short edge", 10, "mm", lambda s: s.short),
    Field("Height, high end", 10, "mm", lambda s: s.high),
    Field("Height, low end", 12, "mm", lambda s: s.low),
    Field("Number", 10, "nr", lambda s: s.number),
)
SAWING: Fields[tuple[int, Sawing]] = (
    Field("Lift", 24, "nr", lambda s: s[0]),
    Field("Unit", 24, "text", lambda s: s[1].unit),
    Field("Cut", 14, "text", lambda s: SLOPE if s[1].sloping else "to a size"),
    Field("Pieces out of one length", 14, "wrap", lambda s: joined(" + ", s[1].pieces)),
    Field("Width", 10, "mm", lambda s: s[1].width),
    Field("Height", 10, "mm", lambda s: s[1].height),
    Field("Lengths out of one unit", 12, "nr", lambda s: s[1].per_unit),
    Field("Lengths so cut", 10, "nr", lambda s: s[1].number),
    Field("Left of each", 10, "mm", lambda s: s[1].left),
)
OFF_CUTS: Fields[tuple[int, OffCut]] = (
    Field("Lift", 24, "nr", lambda o: o[0]),
    Field("Unit", 24, "text", lambda o: o[1].unit),
    Field("Length", 14, "mm", lambda o: o[1].box.length),
    Field("Width", 14, "mm", lambda o: o[1].box.width),
    Field("Height", 10, "mm", lambda o: o[1].box.height),
    Field("Number", 10, "nr", lambda o: o[1].number),
    Field("All of them m", 12, "area", lambda o: o[1].box.length * o[1].number / METRE, "m"),
)


def units_and_cuts(design: Design) -> Sheet:
    """Units by leaf, units to buy by lift, cut sizes, how they are cut, and the levels that land on no course."""
    leaves, cutting = design.coursing.leaves, design.coursing.cutting
    laid = (Laid(n.leaf, need.unit, need.whole, need.pieces) for n in cutting.leaves for need in n.needs)
    return Sheet(
        "Units and cuts",
        f"{_saw_words(cutting.saw, design.figures)} A cut length is what is really laid, hidden ends included.",
        (
            table("Units by leaf", UNITS, laid, design.figures),
            table("Units to buy, by scaffold lift", BOUGHT, _bought(design), design.figures),
            table("Cut sizes", CUTS, _cut_sizes(cutting.pieces, cutting.slopes), design.figures),
            table("Cut to a slope, course by course", SLOPES, cutting.slopes, design.figures),
            table(
                "How units are cut",
                SAWING,
                ((lift.number, sawing) for lift in cutting.lifts for sawing in lift.sawing),
                design.figures,
            ),
            table(
                "Off-cuts left",
                OFF_CUTS,
                ((lift.number, off_cut) for lift in cutting.lifts for off_cut in lift.off_cuts),
                design.figures,
            ),
            table(
                "Levels that land on no course", MISFITS, (misfit for leaf in leaves for misfit in leaf.misfits), design.figures
            ),
        ),
    )


def _saw_words(saw: float | None, figures: Figures) -> str:
    if saw is None:
        return "Each cut piece is taken out of one whole unit: the rule set does not say what a saw takes away."
    return (
        f"Cut pieces are taken out of as few units as will do, {figures.measure(saw)} for each saw cut, "
        "each scaffold lift by itself; those cut to a slope out of units of their own."
    )


def _bought(design: Design) -> Iterator[Bought]:
    """Every lift from the bottom up, then all of them together."""
    masses = {mass.unit: mass for mass in design.coursing.masses}
    lifts = design.coursing.cutting.lifts
    for lift in lifts:
        for need in lift.needs:
            yield Bought(f"{lift.number}", lift.levels.start, lift.levels.end, need, masses.get(need.unit))
    for need in total_needs(need for lift in lifts for need in lift.needs):
        yield Bought(ALL, lifts[0].levels.start, lifts[-1].levels.end, need, masses.get(need.unit))


def _cut_sizes(pieces: Iterable[CutPiece], slopes: Iterable[SlopeCut]) -> Iterator[CutRow]:
    """Pieces cut to a size, then how many are cut to a slope."""
    for piece in pieces:
        yield CutRow(piece.leaf, piece.lift, piece.unit, _how(piece), piece.length, piece.height, piece.number)
    counts: dict[tuple[str, int, str], int] = {}
    for slope in slopes:
        key = (slope.leaf, slope.lift, slope.unit)
        counts[key] = counts.get(key, 0) + slope.number
    for key, number in counts.items():
        yield CutRow(*key, SLOPE, None, None, number)


def _how(piece: CutPiece) -> str:
    return "to a size" if piece.laid == "stretcher" else piece.laid
