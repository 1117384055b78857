"""Cutting of whole buildings: recounted from placements, the same in a mirror, and never more than what is laid."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable

import pytest
from buildings import SEEDS

from elevgen.coursing.cutting import total_needs
from elevgen.coursing.model import UnitNeed
from elevgen.result import Design
from elevgen.takeoff.measure import measure

BUILDINGS = ("studio", "duplex", "long-wall", *SEEDS)
LIFT = 1500.0


@pytest.fixture(scope="module", params=BUILDINGS, ids=str)
def design(request: pytest.FixtureRequest, design_of: Callable[..., Design]) -> Design:
    return design_of(request.param)


def recounted(design: Design) -> Counter[tuple[str, int, str, str]]:
    """Leaf, lift, unit, whole or cut: piece by piece, from where each is laid."""
    base = min(level for leaf in design.building.leaves for _, level in leaf.base.clipped(leaf.span))
    found: Counter[tuple[str, int, str, str]] = Counter()
    for laid in design.coursing.leaves:
        at = {course.number: course.level for course in laid.courses}
        for placed in laid.placements:
            pattern = design.coursing.pattern(placed.pattern)
            lift = 1 + int((at[placed.course] - base + 1e-6) // LIFT)
            for piece in pattern.pieces:
                if piece.kind != "return":
                    kind = "whole" if piece.kind == "full" and not pattern.split else "cut"
                    found[laid.leaf, lift, pattern.unit, kind] += piece.deep
        for rake in laid.rakes:
            found[laid.leaf, 1 + int((at[rake.course] - base + 1e-6) // LIFT), rake.unit, "cut"] += rake.deep
    return found


def said(parts: Iterable[tuple[int | str, tuple[UnitNeed, ...]]]) -> Counter[tuple[int | str, str, str]]:
    """Lift or leaf, unit, whole or cut: as the cutting has it."""
    found: Counter[tuple[int | str, str, str]] = Counter()
    for part, needs in parts:
        for need in needs:
            found[part, need.unit, "whole"] += need.whole
            found[part, need.unit, "cut"] += need.pieces
    return found


def test_pieces_and_whole_units_are_those_laid(design: Design) -> None:
    cutting, count = design.coursing.cutting, recounted(design)
    cut: Counter[tuple[str, int, str, str]] = Counter()
    for piece in (*cutting.pieces, *cutting.slopes):
        cut[piece.leaf, piece.lift, piece.unit, "cut"] += piece.number
    assert cut == Counter({key: n for key, n in count.items() if key[3] == "cut"})
    by_lift: Counter[tuple[int | str, str, str]] = Counter()
    by_leaf: Counter[tuple[int | str, str, str]] = Counter()
    for (leaf, lift, unit, kind), number in count.items():
        by_lift[lift, unit, kind] += number
        by_leaf[leaf, unit, kind] += number
    assert by_lift == said((lift.number, lift.needs) for lift in cutting.lifts)
    assert by_leaf == said((leaf.leaf, leaf.needs) for leaf in cutting.leaves)


def test_the_rule_values_behind_it_are_said(design: Design) -> None:
    used = {value.key for value in design.rules_used}
    materials = {unit.material for unit in design.building.units}
    assert {"cutting.saw", "lift.height", "lifting.mass", *(f"unit.density.{m}" for m in materials)} <= used


def test_pieces_come_out_of_the_units_said(design: Design) -> None:
    """Every piece of a lift is in its sawing; every unit gives no more lengths than it can hold."""
    cutting = design.coursing.cutting
    units = {unit.name: unit for unit in design.building.units}
    for lift in cutting.lifts:
        wanted: Counter[tuple[str, float]] = Counter()
        for piece in (*cutting.pieces, *cutting.slopes):
            if piece.lift == lift.number:
                wanted[piece.unit, min(piece.box.length, units[piece.unit].length)] += piece.number
        got: Counter[tuple[str, float]] = Counter()
        lengths: Counter[tuple[str, bool, float, float, int]] = Counter()
        for sawing in lift.sawing:
            unit = units[sawing.unit]
            assert sum(sawing.pieces) + 4 * (len(sawing.pieces) - 1) <= unit.length + 1e-6
            layers = (unit.height + 4 + 1e-6) // (sawing.height + 4)
            slips = (unit.width + 4 + 1e-6) // (sawing.width + 4)
            assert sawing.per_unit <= max(1, layers) * max(1, slips)
            lengths[sawing.unit, sawing.sloping, sawing.width, sawing.height, sawing.per_unit] += sawing.number
            for length in sawing.pieces:
                got[sawing.unit, length] += sawing.number
        assert got == wanted
        for need in lift.needs:
            mine = {key: n for key, n in lengths.items() if key[0] == need.unit}
            assert need.cut_from == sum(-(-n // key[4]) for key, n in mine.items())
            assert need.least <= need.cut_from <= need.pieces


def test_fewer_units_are_proven_not_to_do_where_none_is_cut_to_a_slope(design: Design) -> None:
    sloping = {(slope.lift, slope.unit) for slope in design.coursing.cutting.slopes}
    for lift in design.coursing.cutting.lifts:
        for need in lift.needs:
            assert (lift.number, need.unit) in sloping or need.least == need.cut_from


def test_orders_are_whole_units_and_never_more_than_the_places_need(design: Design) -> None:
    takeoff = measure(design)
    needs = total_needs(need for lift in design.coursing.cutting.lifts for need in lift.needs)
    orders = {order.code: order for order in takeoff.orders if order.code.startswith("UNIT-NR")}
    assert sum(order.needed for order in orders.values()) == sum(need.to_buy for need in needs)
    for code, order in orders.items():
        places = [q for q in takeoff.quantities if q.code == code]
        assert order.needed <= sum(q.needed or 0 for q in places) <= order.net
        assert order.order >= order.needed


@pytest.mark.parametrize("building", BUILDINGS, ids=str)
def test_a_mirrored_building_is_cut_alike(building: str | int, design_of: Callable[..., Design]) -> None:
    one, two = (design_of(building, mirror=mirror, pinned=True).coursing.cutting for mirror in (False, True))
    assert [lift.needs for lift in one.lifts] == [lift.needs for lift in two.lifts]
    assert one.leaves == two.leaves
    for mine, image in ((one.pieces, two.pieces), (one.slopes, two.slopes)):
        assert sum(p.number for p in mine) == sum(p.number for p in image)
        lengths, flipped = (sorted(p.box.length for p in each for _ in range(p.number)) for each in (mine, image))
        assert lengths == pytest.approx(flipped, abs=0.11)
