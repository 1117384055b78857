"""A first spec loads, and describes the plan that was asked for."""

import json

import pytest

from elevgen import pipeline
from elevgen.spec.load import parse_text
from elevgen.spec.starter import starter_text


@pytest.mark.parametrize(("plan", "walls", "round_it"), [("straight", 1, 7350), ("rectangle", 4, 23130), ("l", 6, 23130)])
def test_starter_is_a_good_spec_of_the_size_asked_for(plan, walls, round_it):
    spec = parse_text(starter_text(plan, "7.35 m", "4215 mm", "2.7 m", "Shed"), "starter", pipeline.vocabulary())
    assert len(spec.walls) == walls
    assert sum(abs(w.end[0] - w.start[0]) + abs(w.end[1] - w.start[1]) for w in spec.walls) == pytest.approx(round_it)
    assert {w.top for w in spec.walls} == {2700}


def test_outside_is_on_the_right_hand():
    corners = [w["start"] for w in json.loads(starter_text("l", "9 m", "6 m", "2.4 m", "L"))["walls"]]
    area = sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(corners, [*corners[1:], corners[0]], strict=True)) / 2
    assert area == pytest.approx(9000 * 6000 - 4500 * 3000)


@pytest.mark.parametrize("bad", ["-3 m", "0", "eight", "2 km", ""])
def test_a_size_that_is_none_is_refused(bad):
    with pytest.raises(ValueError, match=r"length|between"):
        starter_text("l", bad, "6 m", "2.4 m", "L")


@pytest.mark.parametrize("plan", ["l", "rectangle", "straight"])
def test_a_first_spec_of_the_us_is_in_feet_on_the_module_and_has_its_own_units(plan):
    raw = json.loads(starter_text(plan, None, None, None, "Shed", "us"))
    lengths = [x for wall in raw["walls"] for x in (*wall["start"], *wall["end"], wall["base"], wall["top"]) if x]
    assert all(isinstance(x, str) and x.endswith('"') for x in lengths)
    spec = parse_text(json.dumps(raw), "starter", pipeline.vocabulary())
    design = pipeline.design(spec)
    assert {unit.name for unit in design.building.units} == {"modular_brick", "concrete_block_8"}
    assert [f.text for f in design.findings if f.severity in ("fail", "warn")] == []
    for wall in spec.walls:
        for at in (*wall.start, *wall.end):
            assert min(at % 203.2, -at % 203.2, (at + 9.525) % 203.2, -(at + 9.525) % 203.2) < 1e-6


def test_a_size_no_sixteenth_says_is_written_in_millimetres():
    walls = json.loads(starter_text("straight", "7.001 m", None, None, "Shed", "us"))["walls"]
    assert walls[0]["end"] == [7001.0, 0.0]


@pytest.mark.parametrize(("rules", "inner"), [("uk", "aircrete_block_100"), ("eu", "aircrete_block_100"), ("au", "brick_76")])
def test_the_usual_heights_land_on_courses_of_both_leaves(rules, inner):
    spec = parse_text(starter_text("rectangle", None, None, None, "Shed", rules), "starter", pipeline.vocabulary())
    design = pipeline.design(spec)
    assert inner in {unit.name for unit in design.building.units}
    assert [f.text for f in design.findings if f.code in ("course-misfit", "dpc-in-bed") and f.severity != "pass"] == []
