"""Beds chosen together: one gauge round tied masonry, co-coursing before a top that lands."""

from __future__ import annotations

import json
from itertools import product
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.building.model import Zone
from elevgen.core.geometry import Span
from elevgen.coursing.model import Misfit
from elevgen.result import Design


def wall(name: str, start: tuple[float, float], end: tuple[float, float], top: float, kind: str, **more: Any) -> dict[str, Any]:
    return {"id": name, "start": start, "end": end, "type": kind, "base": 0, "top": top, **more}


def design(tmp_path, walls: list[dict[str, Any]], **more: Any) -> Design:
    spec = {
        "spec": 1,
        "project": {"title": "Beds", "date": "2026-03-02"},
        "rules": "uk",
        "leaves": {
            "brick": {"zones": [{"unit": "brick_65"}]},
            "block": {"zones": [{"unit": "dense_block_100"}]},
        },
        "wall_types": {
            "single": {"outer": "brick"},
            "cavity": {"outer": "brick", "inner": "block", "cavity": 100},
        },
        "walls": walls,
        **more,
    }
    path = tmp_path / "spec.json"
    path.write_text(json.dumps(spec))
    return pipeline.design_file(path)


def corner(tmp_path, *tops: float, kind: str = "single", **more: Any) -> Design:
    ends = (0, 0), (3590, 0), (3590, 2915), (-200, 2915)
    walls = [wall(f"W{n}", ends[n], ends[n + 1], top, kind) for n, top in enumerate(tops)]
    return design(tmp_path, walls, **more)


def levels(made: Design, leaf: str, below: float) -> list[float]:
    """The undersides of a leaf's whole courses."""
    return [c.level for c in made.coursing.of(leaf).courses if c.top <= below - 90]


def beds(made: Design) -> dict[str, set[float]]:
    return {leaf.leaf: {round(c.bed, 3) for c in leaf.courses[:-1]} for leaf in made.coursing.leaves}


def test_courses_of_a_bonded_corner_meet(tmp_path):
    """Each top by itself lands at a bed of its own, 10 and 9.59 mm, which drift 15 mm apart by the top."""
    made = corner(tmp_path, 2700, 2760)
    assert levels(made, "W0/outer", 2700) == pytest.approx(levels(made, "W1/outer", 2700), abs=1e-6)
    assert [m.what for leaf in made.coursing.leaves for m in leaf.misfits] == ["top of the wall"]


def test_the_bed_of_a_run_is_the_one_that_loses_fewest(tmp_path):
    """Two tops of 2,736 want 76 mm, one of 2,700 the nominal 75: all of them take 76 and the odd one out is named."""
    made = corner(tmp_path, 2736, 2700, 2736)
    assert beds(made) == {f"W{n}/outer": {11.0} for n in range(3)}
    assert [m.leaf for leaf in made.coursing.leaves for m in leaf.misfits] == ["W1/outer"]


def test_nominal_beds_win_a_tie(tmp_path):
    assert set.union(*beds(corner(tmp_path, 2736, 2700)).values()) == {10.0}


def test_masonry_that_is_not_tied_goes_its_own_way(tmp_path):
    """A movement joint in the corner parts the runs, and their gauges with them."""
    made = corner(tmp_path, 2736, 2700, junctions=[{"walls": ["W0", "W1"], "connection": "jointed"}])
    assert beds(made) == {"W0/outer": {11.0}, "W1/outer": {10.0}}


@pytest.mark.parametrize("top", [2720, 2736, 2760, 5129])
def test_two_leaves_that_co_course_keep_their_beds_level(tmp_path, top):
    """Three bricks to a block, 3 x 75 = 225, whatever the top is; what does not land is cut and named."""
    made = corner(tmp_path, top, top, 2700, kind="cavity")
    assert set.union(*beds(made).values()) == {10.0}
    outer, inner = (levels(made, f"W1/{side}", top) for side in ("outer", "inner"))
    assert all(min(abs(y - x) for x in outer) < 1e-6 for y in inner)
    missed = {m.leaf for leaf in made.coursing.leaves for m in leaf.misfits}
    assert {f"W0/{side}" for side in ("outer", "inner")} <= missed
    for leaf, n in product(("outer", "inner"), (0, 1)):
        assert made.coursing.of(f"W{n}/{leaf}").courses[-1].top == pytest.approx(top)


def test_two_leaves_that_cannot_co_course_land_their_tops(tmp_path):
    """Courses of 68 mm beside blocks of 225 share no bed within a tie's reach: 2,754 is 40.5 of the one, 12.24 of the other."""
    units = {"odd": {"material": "clay", "length": 215, "height": 58, "width": 102.5, "joint": 10}}
    odd = {"odd": {"zones": [{"unit": "odd"}]}, "block": {"zones": [{"unit": "dense_block_100"}]}}
    types = {"cavity": {"outer": "odd", "inner": "block", "cavity": 100}}
    made = corner(tmp_path, 2754, 2754, kind="cavity", units=units, leaves=odd, wall_types=types)
    assert made.coursing.of("W0/outer").misfits == ()
    assert made.coursing.of("W0/outer").courses[-1].top == pytest.approx(2754)
    assert beds(made)["W0/outer"] == beds(made)["W1/outer"] != {10.0}


def test_zones_of_one_unit_that_share_no_levels_choose_apart(leaf, laid, brick, block):
    """Six courses of brick at 75, four of block, ten of brick at 76: one bed in each zone, that of its own heights."""
    zones = (Zone(brick, Span(0, 450)), Zone(block, Span(450, 1350)), Zone(brick, Span(1350, 2110)))
    work = laid(leaf(height=2110, zones=zones)).work
    assert [c.bed for c in work.courses] == pytest.approx([10.0] * 10 + [11.0] * 10)
    assert work.misfits == ()


def test_a_partition_tied_to_the_inner_leaves_has_their_gauge(tmp_path):
    walls = [
        wall("W0", (0, 0), (5000, 0), 2760, "cavity"),
        wall("P1", (2212, 302.5), (2212, 2500), 2760, "partition"),
    ]
    types = {
        "cavity": {"outer": "brick", "inner": "block", "cavity": 100},
        "partition": {"outer": "block"},
    }
    made = design(tmp_path, walls, wall_types=types, junctions=[{"walls": ["W0", "P1"], "connection": "tied"}])
    assert levels(made, "P1/outer", 2760) == pytest.approx(levels(made, "W0/inner", 2760))


def misfits(made: Design) -> dict[tuple[str, str], Misfit]:
    return {(m.leaf, m.what): m for leaf in made.coursing.leaves for m in leaf.misfits}


def test_a_bed_the_ties_bar_is_named(tmp_path):
    """2,736 is 36 courses of 76: inside the tolerance, but blocks of 225 would meet none of them."""
    made = corner(tmp_path, 2736, 2736, kind="cavity")
    missed = misfits(made)["W0/outer", "top of the wall"]
    assert (missed.bed, missed.bed_needed, missed.barred, missed.loses) == (10, pytest.approx(11), "ties", None)
    assert (missed.course, missed.cut_to) == (37, pytest.approx(26))


def test_what_another_wall_of_the_run_would_lose_is_counted(tmp_path):
    made = corner(tmp_path, 2736, 2700, 2736)
    missed = misfits(made)["W1/outer", "top of the wall"]
    assert (missed.bed, missed.bed_needed, missed.barred, missed.loses) == (11, 10, "others", 2)


def test_a_bed_that_would_part_the_walls_of_a_run_is_named(tmp_path):
    """A base 300 mm up round the corner: four courses of 75. 2,736 would take 76, four of which are 304."""
    walls = [
        wall("W0", (0, 0), (3590, 0), 2736, "single"),
        wall("W1", (3590, 0), (3590, 2915), 2736, "single") | {"base": 300},
    ]
    made = design(tmp_path, walls)
    missed = misfits(made)["W0/outer", "top of the wall"]
    assert (missed.bed, missed.bed_needed, missed.barred) == (10, pytest.approx(11), "run")
