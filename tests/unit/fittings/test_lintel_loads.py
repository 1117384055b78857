"""What lintels carry: closed forms, each limit at its bound, lintels over one another, loads given, what lacks a rule."""

from __future__ import annotations

from dataclasses import replace

import pytest

from elevgen.building.given import Load
from elevgen.core.geometry import Rect, Span
from elevgen.coursing.seats import seats_of
from elevgen.fittings.lintel_loads import lintel_loads
from elevgen.fittings.lintels import lintels
from elevgen.fittings.load_model import LintelLoad
from elevgen.fittings.model import Lintel
from elevgen.rules.book import RuleReader

BRICK_KN_MM2 = 2200 * 102.5 / 1e9 * 9.81e-3
"""Brick leaf with mortar as heavy as the brick, for figures that can be done by hand."""


@pytest.fixture
def plain(reader):
    """The uk rules with mortar as heavy as brick."""
    return with_rule(reader, "lintel.load.mortar.density", 2200.0)


def with_rule(reader, key, value):
    changed = replace(reader.book.get(key), value=value)
    return RuleReader(replace(reader.book, values={**reader.book.values, key: changed}))


def loads(made, reader, side="outer") -> list[LintelLoad]:
    return list(lintel_loads(made.building, placed_on(made, reader, side), made.plan, reader))


def placed_on(made, reader, side="outer"):
    leaf = made.leaf(side)
    return lintels((seat for seat in seats_of(made.building, made.plan, reader) if seat.leaf == leaf.id), made.building, reader)


def carrying(made, *given: Load):
    wall = replace(made.wall, loads=given)
    return replace(made, building=replace(made.building, walls=(wall, *made.building.walls[1:])))


def kinds(load: LintelLoad, method="load_triangle") -> list[str]:
    return [cause.kind for cause in load.why_not(method)]


def test_the_triangle_alone_in_closed_form(yard, plain):
    (load,) = loads(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0), plain)
    used = load.used
    assert used.method == "load_triangle" and load.refused == ()
    weight = BRICK_KN_MM2 * 1100 * 550 / 2
    assert used.masonry == pytest.approx(weight)
    assert (used.reaction_start, used.reaction_end) == pytest.approx((weight / 2, weight / 2))
    assert load.supports == Span(3925, 5075)
    assert used.moment == pytest.approx((weight / 2 * 575 - weight / 2 * (1100 / 6)) / 1000)
    assert used.per_metre == pytest.approx(8 * used.moment / 1.15**2)
    assert (load.triangle.height, load.triangle.zone_height) == pytest.approx((550, 952.628), abs=0.001)
    assert load.pressure_start == pytest.approx(2 * weight / 2 * 1000 / (150 * 102.5))
    by_arching = load.by("arching")
    assert by_arching.masonry == pytest.approx(BRICK_KN_MM2 * 1150 * 575 / 2)
    assert by_arching.moment == pytest.approx(by_arching.masonry * 1.150 / 6)


def test_the_full_load_in_closed_form(yard, plain):
    (load,) = loads(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=2400.0), plain)
    assert load.used.method == "full" and kinds(load) == ["height"]
    assert load.used.masonry == pytest.approx(BRICK_KN_MM2 * 1300 * 300)
    assert load.used.per_metre == pytest.approx(BRICK_KN_MM2 * 300 * 1000)
    assert load.used.reaction_end == pytest.approx(load.used.masonry / 2)
    assert "300 mm high" in load.why_not("load_triangle")[0].words


@pytest.mark.parametrize(("top", "holds"), [(2650.0, True), (2649.0, False)])
def test_the_point_of_the_triangle_stays_in_the_wall(yard, reader, top, holds):
    (load,) = loads(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=top), reader)
    assert (load.used.method == "load_triangle") is holds


@pytest.mark.parametrize(("top", "holds"), [(2100 + 575 + 203.2, True), (2100 + 575 + 203.1, False)])
def test_arching_asks_for_wall_over_the_point(yard, reader, top, holds):
    (load,) = loads(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=top), reader)
    assert (load.by("arching") is not None) is holds
    assert load.used.method == "load_triangle"


@pytest.mark.parametrize(("beside", "holds"), [(600, True), (599, False)])
@pytest.mark.parametrize("mirrored", [False, True])
def test_600_of_masonry_beside_the_opening(yard, reader, beside, holds, mirrored):
    made = yard.wall(9000, [Rect(beside, 900, beside + 1000, 2100)], top=4000.0, ends=("stopped", "stopped"))
    (load,) = loads(yard.mirrored(made) if mirrored else made, reader)
    assert (load.used.method == "load_triangle") is holds
    if not holds:
        (cause,) = load.why_not("load_triangle")
        assert f"599 mm of masonry stand at its {'right' if mirrored else 'left'}, up to the end of the leaf" in cause.words


@pytest.mark.parametrize(("pier", "holds"), [(800, True), (799, False)])
def test_a_fifth_of_a_long_span_beside_the_opening(yard, reader, pier, holds):
    """4 m in one storey: 800 mm (BS 5977-1:1981, 5e)."""
    made = yard.wall(12000, [Rect(2000, 0, 6000, 2100), Rect(6000 + pier, 900, 7000 + pier, 2100)], top=6000.0)
    long, _ = loads(made, reader)
    assert (long.used.method == "load_triangle") is holds
    assert holds or "up to the next opening" in long.why_not("load_triangle")[0].words


def test_masonry_beside_counts_over_the_height_of_the_opening_and_the_triangle(yard, reader):
    door = Rect(4000, 0, 5000, 2100)
    for other, holds in [
        (Rect(3000, -100, 3700, 200), False),  # a hatch at its foot
        (Rect(3000, 2500, 3700, 3000), False),  # beside the triangle
        (Rect(3000, 2700, 3700, 3000), True),  # higher than its point
        (Rect(2000, 900, 3300, 2100), True),
    ]:
        made = yard.wall(9000, [door, other], top=4000.0)
        (load,) = (x for x in loads(made, reader) if x.clear == Span(4000, 5000))
        assert (load.used.method == "load_triangle") is holds, other


@pytest.mark.parametrize(("gap_end", "holds"), [(3400, True), (3401, False)])
def test_a_movement_joint_beside_an_opening_brings_the_full_load(yard, reader, gap_end, holds):
    made = yard.wall(9000, [Rect(4000, 900, 5000, 2100)], [gap_end - 8], top=4000.0)
    (load,) = loads(made, reader)
    assert (load.used.method == "load_triangle") is holds
    assert holds or kinds(load) == ["joint"] == kinds(load, "arching")


def test_a_movement_joint_over_an_opening_brings_the_full_load(yard, reader):
    (load,) = loads(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], [4300], top=4000.0), reader)
    assert load.used.method == "full" and "joint" in kinds(load)
    assert "movement joint J1 stands in the load triangle" in [c.words for c in load.why_not("load_triangle")]


def test_units_that_do_not_lap_do_not_arch(yard, reader):
    made = yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0)
    leaves = tuple(replace(leaf, bond="stack") for leaf in made.building.leaves)
    (load,) = loads(replace(made, building=replace(made.building, leaves=leaves)), reader)
    assert load.used.method == "full" and kinds(load) == ["bond"] == kinds(load, "arching")


@pytest.mark.parametrize(
    ("span", "upstairs", "holds"), [(4500, False, True), (4501, False, False), (3600, True, True), (3601, True, False)]
)
def test_how_far_the_triangle_reaches(yard, reader, span, upstairs, holds):
    openings = [Rect(4000, 0, 4000 + span, 2100)]
    if upstairs:
        openings.append(Rect(11000, 3600, 12000, 4800))
    load = loads(yard.wall(14000, openings, top=7000.0), reader)[0]
    assert load.storeys == (2 if upstairs else 1)
    assert (load.used.method == "load_triangle") is holds
    assert holds or kinds(load) == ["span"]


def test_more_storeys_than_the_triangle_is_for(yard, reader):
    openings = [Rect(4000, 900 + 2700 * n, 5000, 2100 + 2700 * n) for n in range(4)]
    found = loads(yard.wall(9000, openings, top=13000.0), reader)
    assert {load.storeys for load in found} == {4}
    assert all(kinds(load) == ["storeys"] and load.by("arching") for load in found)


@pytest.mark.parametrize(("bearing", "holds"), [(101.6, True), (76.2, False)])
def test_arching_asks_for_bearing(yard, reader, bearing, holds):
    short = with_rule(reader, "lintel.bearing.short.tray", bearing)
    (load,) = loads(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0), short)
    assert (load.by("arching") is not None) is holds
    assert kinds(load, "arching") == ([] if holds else ["bearing", "bearing"])


class TestLoads:
    """Loads the spec gives, over an opening from 4000 to 5000 with its head at 2100."""

    def on(self, yard, reader, *given: Load, top=4000.0):
        (load,) = loads(carrying(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=top), *given), reader)
        return load

    def test_in_the_triangle_whole_in_the_zone_half_outside_not(self, yard, reader):
        assert self.on(yard, reader, Load("outer", 2300, 4400, None, 10.0)).used.imposed == pytest.approx(10)
        assert self.on(yard, reader, Load("outer", 2300, 4130, None, 10.0)).used.imposed == pytest.approx(5)
        assert self.on(yard, reader, Load("outer", 2300, 4030, None, 10.0)).used.imposed == 0
        assert self.on(yard, reader, Load("outer", 3100, 4500, None, 10.0)).used.imposed == 0

    def test_of_the_other_leaf_or_lower_down_not_at_all(self, yard, reader):
        other = self.on(yard, reader, Load("inner", 2300, 4400, None, 10.0), Load(None, 2000, 3800, None, 10.0))
        assert other.used.imposed == 0 and other.by("full").imposed == 0

    def test_on_every_leaf(self, yard, reader):
        made = carrying(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0), Load(None, 2300, 4400, None, 10.0))
        assert [loads(made, reader, side)[0].used.imposed for side in ("outer", "inner")] == pytest.approx([10, 10])

    def test_the_full_load_has_them_whole(self, yard, reader):
        load = self.on(yard, reader, Load("outer", 2400, 0, 9000, 4.0), top=2400.0)
        assert load.used.method == "full"
        assert load.used.imposed == pytest.approx(4.0 * 1.3)
        assert load.used.per_metre == pytest.approx(4.0 + load.used.masonry / 1.3)

    def test_lower_than_the_point_there_is_no_arching(self, yard, reader):
        low, high = Load("outer", 2600, 3000, 3000, 4.0), Load("outer", 2700, 3000, 3000, 4.0)
        assert kinds(self.on(yard, reader, low), "arching") == ["load"]
        above = self.on(yard, reader, high).by("arching")
        assert above is not None and above.imposed == 0

    def test_at_one_point_over_the_arch_it_comes_down_in_a_cone(self, yard, reader):
        load = self.on(yard, reader, Load("outer", 3300, 4500, None, 12.0)).by("arching")
        assert load is not None
        assert load.imposed == pytest.approx(12.0 * 1150 / (2 * 1200 / 3**0.5))


class TestOverOneAnother:
    """A wide opening with a narrower one over it, which cuts its triangle."""

    LOWER, UPPER = Rect(3000, 0, 6000, 2100), Rect(3300, 3000, 4500, 4200)

    def test_what_the_upper_one_carries_comes_down_at_its_supports(self, yard, plain):
        lower, upper = sorted(loads(yard.wall(9000, [self.LOWER, self.UPPER], top=6000.0), plain), key=lambda x: x.triangle.foot)
        assert lower.used.method == "full" and kinds(lower) == ["opening"]
        assert "opening O2 stands in the load triangle" in lower.why_not("load_triangle")[0].words
        strip = 3300 * 3900 - 1200 * 1200 - 1200 * 1800
        assert lower.used.masonry == pytest.approx(BRICK_KN_MM2 * strip)
        assert lower.used.brought == pytest.approx(BRICK_KN_MM2 * 1200 * 1800)
        assert lower.used.total == pytest.approx(BRICK_KN_MM2 * (3300 * 3900 - 1200 * 1200))
        assert lower.used.reaction_start < lower.used.reaction_end, "the hole is nearer its start"
        assert upper.used.brought == 0

    def test_an_upper_one_half_over_it_sets_half_down(self, yard, plain):
        upper = Rect(5000, 3000, 7500, 4200)
        lower = next(x for x in loads(yard.wall(9000, [self.LOWER, upper], top=6000.0), plain) if x.clear.start == 3000)
        assert lower.used.method == "full"
        assert lower.used.brought == pytest.approx(BRICK_KN_MM2 * 2500 * 1800 / 2)

    def test_a_load_on_the_upper_one_comes_down_with_it(self, yard, plain):
        made = carrying(yard.wall(9000, [self.LOWER, self.UPPER], top=6000.0), Load("outer", 4500, 3900, None, 8.0))
        lower = next(x for x in loads(made, plain) if x.clear.start == 3000)
        assert lower.used.imposed == 0
        assert lower.used.brought == pytest.approx(BRICK_KN_MM2 * 1200 * 1800 + 8)

    def test_bearings_in_the_zone_count_half_where_the_triangle_holds(self, yard, plain):
        """The upper window stands clear of the triangle, one of its bearings in the zone beside it."""
        upper = Rect(4600, 3700, 5400, 4300)
        lower = next(x for x in loads(yard.wall(9000, [self.LOWER, upper], top=6000.0), plain) if x.clear.start == 3000)
        assert lower.used.method == "load_triangle"
        down = BRICK_KN_MM2 * 800 * 1700
        assert lower.used.brought == pytest.approx(down / 2 / 2)
        assert lower.by("full").brought == pytest.approx(down)


def test_a_lintel_with_a_depth_has_its_triangle_on_top(yard, reader):
    made = yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=2100 + 550 + 150)
    (placed,) = placed_on(made, reader)
    deep, deeper = (lintel_loads(made.building, [replace(placed, depth=d)], made.plan, reader)[0] for d in (150.0, 151.0))
    assert (deep.used.method, deep.triangle.foot) == ("load_triangle", 2250)
    assert deeper.used.method == "full"
    assert (deep.effective_short, replace(deep, effective_short=None).effective_short) == (1150, None)
    assert lintel_loads(made.building, [replace(placed, depth=65.0)], made.plan, reader)[0].effective_short == 1065


def test_several_spans_are_taken_as_cut_at_their_piers(yard, plain):
    made = yard.wall(9000, [Rect(3000, 900, 4200, 2100), Rect(4500, 900, 5400, 2100)], top=4000.0)
    (placed,) = placed_on(made, plain)
    assert placed.clears == (Span(3000, 4200), Span(4500, 5400))
    first, second = loads(made, plain)
    assert [(x.part, x.parts, x.supports) for x in (first, second)] == [(1, 2, Span(2925, 4350)), (2, 2, Span(4350, 5475))]
    assert kinds(first) == ["side"] and first.used.method == "full"
    both = first.used.masonry + second.used.masonry
    assert both == pytest.approx(BRICK_KN_MM2 * (5550 - 2850) * 1900)
    assert first.pressure_end is None and second.pressure_start is None and first.pressure_start and second.pressure_end


def test_a_mass_that_is_told_is_used(yard, reader):
    made = yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0)
    leaf = made.leaf()
    light = replace(leaf.zones[0].unit, mass=2.0)
    leaves = tuple(replace(x, zones=(replace(x.zones[0], unit=light),)) if x is leaf else x for x in made.building.leaves)
    (load,) = loads(replace(made, building=replace(made.building, leaves=leaves)), reader)
    ((name, density),) = load.densities
    cell = 225 * 75 * 102.5
    mortar = reader.number("lintel.load.mortar.density") * (cell - 215 * 65 * 102.5) / 1e9
    assert name == "brick" and density == pytest.approx((2.0 + mortar) / cell * 1e9)
    assert "unit.density.clay" not in load.basis


def without(reader, *gone):
    return RuleReader(replace(reader.book, values={k: v for k, v in reader.book.values.items() if k not in gone}))


@pytest.mark.parametrize("gone", ["unit.density.clay", "lintel.load.mortar.density"])
def test_without_a_density_nothing_is_said(yard, reader, gone):
    (load,) = loads(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0), without(reader, gone))
    assert load.used is None and load.lacking == (gone,) and load.pressure_start is None


@pytest.mark.parametrize("gone", ["triangle.base", "zone.angle", "span.one_storey", "storey_height.min"])
def test_without_a_rule_of_the_triangle_arching_counts(yard, reader, gone):
    (load,) = loads(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0), without(reader, f"lintel.load.{gone}"))
    assert [reading.method for reading in load.readings] == ["arching", "full"]
    assert kinds(load) == ["rule"] and load.triangle is None


def test_without_rules_of_either_the_full_load_counts(yard, reader):
    (load,) = loads(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0), without(reader, "lintel.load.side.min"))
    assert [reading.method for reading in load.readings] == ["full"]
    assert kinds(load) == ["rule"] and kinds(load, "arching") == ["side"]


def test_no_figure_for_masonry_at_the_sides_is_no_arching(yard, reader):
    """What must stand at each side takes the thrust: where the set has no figure nothing is said to arch, however much stands."""
    bare = without(without(reader, "lintel.load.side.fraction"), "lintel.load.triangle.base")
    (load,) = loads(yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0), bare)
    assert load.used.method == "full" and [reading.method for reading in load.readings] == ["full"]
    (cause,) = load.why_not("arching")
    assert "no figure for how much masonry must stand" in cause.words


def test_masonry_in_the_zone_by_a_rule_that_counts_it(yard, plain):
    made = yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0)
    (load,) = loads(made, with_rule(plain, "lintel.load.zone.masonry", 0.25))
    triangle, zone = 1100 * 550 / 2, 1100 * 550 * 3**0.5 / 2
    assert load.used.masonry == pytest.approx(BRICK_KN_MM2 * (triangle + 0.25 * (zone - triangle)))


def test_a_lintel_of_another_leaf_is_not_asked_for(yard, reader):
    made = yard.wall(9000, [Rect(4000, 900, 5000, 2100)], top=4000.0)
    stray = Lintel("X", "W1", "W1/inner", ("O1",), 2100, Span(4000, 5000), 100, 100, None, ())
    (load,) = lintel_loads(made.building, [stray], made.plan, reader)
    assert (load.lintel, load.leaf, [name for name, _ in load.densities]) == ("X", "W1/inner", ["block"])
