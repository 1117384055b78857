"""What is cut, and the units it takes to lay the building, scaffold lift by scaffold lift."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import floor

from elevgen.building.model import Building, Unit
from elevgen.core.figures import METRIC, Figures
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.coursing.cutpieces import Tally, by_unit, sizes_of, tallies
from elevgen.coursing.model import CutPiece, Cutting, LeafCoursing, LeafNeeds, Lift, Pattern, SlopeCut, UnitNeed
from elevgen.coursing.sawing import Saws


def cutting_of(
    building: Building,
    patterns: Iterable[Pattern],
    leaves: Sequence[LeafCoursing],
    saw: float | None,
    lift: float | None,
    figures: Figures = METRIC,
) -> Cutting:
    """Every cut piece of every leaf, and the units needed.

    Lifts of `lift` mm (one for all where that is None) are counted from the lowest base of the building. What a lift cuts comes
    out of units of that lift: off-cuts are not carried up. `saw` None: each piece out of a unit of its own. `figures`: those
    that lengths of pieces are written in.
    """
    units = {unit.name: unit for unit in building.units}
    masonry = _levels(building)
    of_pattern = {pattern.id: pattern for pattern in patterns}
    saws = Saws(saw)
    by_leaf: dict[str, dict[int, Tally]] = {}
    for laid in leaves:
        lift_of = {c.number: _lift_at(c.level, masonry.start, lift) for c in laid.courses}
        by_leaf[laid.leaf] = tallies(building.leaf(laid.leaf), laid, of_pattern, lift_of, figures)
    by_lift: dict[int, Tally] = {}
    for tally_of in by_leaf.values():
        for number, tally in tally_of.items():
            by_lift.setdefault(number, Tally()).add(tally)
    return Cutting(
        saw=saw,
        pieces=tuple(piece for leaf, found in by_leaf.items() for piece in _pieces(leaf, found)),
        slopes=tuple(slope for leaf, found in by_leaf.items() for slope in _slopes(leaf, found)),
        lifts=tuple(_lift(number, _reach(number, masonry, lift), by_lift[number], units, saws) for number in sorted(by_lift)),
        leaves=tuple(_leaf(leaf, found, units, saws) for leaf, found in by_leaf.items()),
    )


def _levels(building: Building) -> Span:
    """From the lowest base to the highest top of all masonry."""
    bases = (leaf.base.lowest(leaf.span) for leaf in building.leaves)
    tops = (leaf.top.highest(leaf.span) for leaf in building.leaves)
    return Span(min(bases, default=0.0), max(tops, default=0.0))


def _lift_at(level: float, base: float, height: float | None) -> int:
    return 1 if height is None else 1 + max(0, floor((level - base + TOLERANCE) / height))


def _reach(number: int, masonry: Span, height: float | None) -> Span:
    if height is None:
        return masonry
    return Span(masonry.start + (number - 1) * height, masonry.start + number * height)


def _lift(number: int, levels: Span, tally: Tally, units: Mapping[str, Unit], saws: Saws) -> Lift:
    sawn = [saws.cut(units[name], *by_unit(tally, name)) for name in tally.units()]
    return Lift(
        number=number,
        levels=levels,
        needs=_needs(tally, units, saws),
        sawing=tuple(sawing for each in sawn for sawing in each.sawing),
        off_cuts=tuple(off_cut for each in sawn for off_cut in each.off_cuts),
    )


def _needs(tally: Tally, units: Mapping[str, Unit], saws: Saws) -> tuple[UnitNeed, ...]:
    found = []
    for name in tally.units():
        straight, sloping = by_unit(tally, name)
        sawn = saws.cut(units[name], straight, sloping)
        pieces = sum(straight.values()) + sum(sloping.values())
        found.append(UnitNeed(name, tally.whole[name], pieces, sawn.units, sawn.least))
    return tuple(found)


def _leaf(leaf: str, found: Mapping[int, Tally], units: Mapping[str, Unit], saws: Saws) -> LeafNeeds:
    by_lift = tuple((number, _needs(found[number], units, saws)) for number in sorted(found))
    return LeafNeeds(leaf, total_needs(need for _, needs in by_lift for need in needs), by_lift)


def total_needs(needs: Iterable[UnitNeed]) -> tuple[UnitNeed, ...]:
    """Needs added up, one for each kind of unit, by name."""
    found: dict[str, list[UnitNeed]] = {}
    for need in needs:
        found.setdefault(need.unit, []).append(need)
    return tuple(
        UnitNeed(unit, *(sum(values) for values in zip(*((n.whole, n.pieces, n.cut_from, n.least) for n in each), strict=True)))
        for unit, each in sorted(found.items())
    )


def _pieces(leaf: str, by_lift: Mapping[int, Tally]) -> Iterable[CutPiece]:
    for lift in sorted(by_lift):
        for size, number in sizes_of(by_lift[lift]):
            yield CutPiece(leaf, lift, *size, number)


def _slopes(leaf: str, by_lift: Mapping[int, Tally]) -> Iterable[SlopeCut]:
    for lift in sorted(by_lift):
        for shape, number in sorted(by_lift[lift].shapes.items()):
            yield SlopeCut(leaf, lift, *shape, number)
