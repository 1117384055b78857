"""What openings ask for over their heads."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from elevgen.building.demand import lintel_demands
from elevgen.building.given import Given, GivenLintel
from elevgen.core.geometry import Span
from elevgen.core.sourced import Sourced
from elevgen.rules.book import RuleReader


def demands(make: SimpleNamespace, kind: str, openings: list[dict[str, object]], **more: object) -> dict[str, list[object]]:
    building = make.build([make.wall("W", kind, (0, 0), (9000, 0), openings=openings, **more)])
    found: dict[str, list[object]] = {leaf.id: [] for leaf in building.leaves}
    for demand in lintel_demands(building, make.reader()):
        found[demand.leaf].append(demand)
    return found


@pytest.mark.parametrize(
    ("kind", "leaf", "width", "bearing", "key"),
    [
        ("cavity", "W/outer", 900, 150, "lintel.bearing.short.tray"),
        ("cavity", "W/outer", 1200, 150, "lintel.bearing.short.tray"),
        ("cavity", "W/outer", 1200.5, 160, "lintel.bearing.long"),
        ("cavity", "W/inner", 900, 100, "lintel.bearing.short.simple"),
        ("cavity", "W/inner", 1300, 160, "lintel.bearing.long"),
        ("solid", "W/outer", 900, 100, "lintel.bearing.short.simple"),
    ],
)
def test_bearing_by_span_and_leaf(make: SimpleNamespace, kind: str, leaf: str, width: float, bearing: float, key: str) -> None:
    (demand,) = demands(make, kind, [make.opening("O1", 2000, width, 900, 1200)])[leaf]
    assert demand.bearing == bearing
    assert demand.clear == Span(2000, 2000 + width)
    assert demand.keep_out == Span(2000 - bearing, 2000 + width + bearing)
    assert demand.basis == ("lintel.bearing.short_span", key)


def test_levels_run_from_the_sill_to_a_course_over_the_head(make: SimpleNamespace) -> None:
    found = demands(make, "cavity", [make.opening("O1", 2000, 900, 900, 1200)])
    assert [(d.level, d.levels) for d in found["W/outer"]] == [(2100, Span(900, 2175))]
    assert [(d.level, d.levels) for d in found["W/inner"]] == [(2100, Span(900, 2323))]  # 215 block on its own 8 mm bed


def test_a_head_at_the_top_of_the_wall_carries_nothing(make: SimpleNamespace) -> None:
    openings = [make.opening("O1", 1000, 900, 900, 1800), make.opening("O2", 5000, 900, 900, 1500)]
    found = demands(make, "cavity", openings)
    assert [d.openings for d in found["W/outer"]] == [("O2",)]
    stepped = demands(make, "solid", openings, top=[[0, 2700], [3000, 2700], [3000, 4000], [9000, 4000]])
    assert [d.openings for d in stepped["W/outer"]] == [("O2",)]
    under_a_gable = demands(make, "solid", openings[:1], top=[[0, 2700], [1900, 2700], [4000, 4800], [9000, 2700]])
    assert under_a_gable["W/outer"] == []


def test_openings_that_act_as_one_have_one_lintel(make: SimpleNamespace) -> None:
    openings = [make.opening("O1", 5352, 813, 0, 2420), make.opening("O2", 417, 4835, 100, 2420)]
    (demand,) = demands(make, "cavity", openings)["W/outer"]
    assert (demand.group, demand.openings) == ("W/O1+O2", ("O1", "O2"))
    assert (demand.level, demand.clear, demand.levels) == (2520, Span(417, 6165), Span(0, 2595))


def test_stacked_windows_with_a_real_band_have_a_lintel_each(make: SimpleNamespace) -> None:
    openings = [make.opening("O1", 2000, 900, 900, 1200), make.opening("O2", 2000, 900, 3400, 1300)]
    found = demands(make, "cavity", openings, top=6000)
    assert [(d.openings, d.level) for d in found["W/outer"]] == [(("O1",), 2100), (("O2",), 4700)]


@pytest.mark.parametrize("missing", ["lintel.bearing.short.simple", "lintel.bearing.short_span"])
def test_a_rule_set_without_bearings_asks_for_none(make: SimpleNamespace, missing: str) -> None:
    building = make.build([make.wall("W", "solid", (0, 0), (9000, 0), openings=[make.opening("O1", 2000, 900, 900, 1200)])])
    (demand,) = lintel_demands(building, make.reader(without=[missing]))
    assert (demand.bearing, demand.basis) == (None, ())
    assert demand.keep_out == demand.clear == Span(2000, 2900)


@pytest.mark.parametrize(("kind", "bearing"), [("pressed_steel", 170), ("concrete", 100), (None, 100)])
def test_bearing_by_kind(make: SimpleNamespace, kind: str | None, bearing: float) -> None:
    building = make.build([make.wall("W", "solid", (0, 0), (9000, 0), openings=[make.opening("O1", 2000, 900, 900, 1200)])])
    leaves = tuple(replace(leaf, lintel_kind=kind) for leaf in building.leaves)
    reader = make.reader()
    steel = Sourced("lintel.bearing.kind.pressed_steel", 170.0, "mm", "invented", "", "", "practice")
    reader = RuleReader(replace(reader.book, values={**reader.book.values, steel.key: steel}))
    (demand,) = lintel_demands(replace(building, leaves=leaves), reader)
    assert demand.bearing == bearing
    assert (steel.key in demand.basis) == (kind == "pressed_steel")


def test_joints_keep_off_listed_lintels(make: SimpleNamespace) -> None:
    """One lintel listed over two openings and the pier between; another leaf's and one that lies elsewhere count for nothing."""
    openings = [make.opening("O1", 2000, 900, 900, 1200), make.opening("O2", 3600, 700, 900, 1200)]
    building = make.build([make.wall("W", "solid", (0, 0), (9000, 0), openings=openings)])

    def keep_out(*listed: GivenLintel) -> list[Span]:
        (wall,) = building.walls
        with_listed = replace(building, walls=(replace(wall, lintels=Given(listed, False)),))
        return [d.keep_out for d in lintel_demands(with_listed, make.reader())]

    assert keep_out(GivenLintel(("O1", "O2"), None, 1700, 2800, None, None)) == [Span(1700, 4500)] * 2
    assert keep_out(GivenLintel(("O1",), "outer", 2030, 1000, None, None)) == [Span(2000, 3030), Span(3500, 4400)]
    assert keep_out(GivenLintel(("O1",), "inner", 1700, 2800, None, None)) == keep_out()
    assert keep_out(GivenLintel(("O1",), None, 5000, 1000, None, None)) == keep_out()
