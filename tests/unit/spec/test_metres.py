"""Metres typed where numbers are millimetres: asked about where likely, and never where a unit is written."""

import json

import pytest

from elevgen.core.errors import SpecError
from elevgen.rules.loader import country_ids, load_book
from elevgen.spec.impossible import LOWEST_COURSE
from elevgen.spec.load import parse_text
from elevgen.spec.metres import all_likely, hint, likely

WALL = {"id": "W1", "type": "half", "start": [0, 0], "end": [11240, 0], "base": 0, "top": 2700}
OPENING = {"id": "O1", "at": 1350, "width": 910, "sill": 900, "height": 1200}


def building(*walls, units=None, unit="brick_65", to=None):
    zones = [{"unit": unit}] if to is None else [{"unit": unit, "to": to}, {"unit": "dense_block_100"}]
    return {
        "spec": 1,
        "units": units or {},
        "leaves": {"brick": {"zones": zones}},
        "wall_types": {"half": {"outer": "brick"}},
        "walls": [{**WALL, "id": f"W{n}", **wall} for n, wall in enumerate(walls, 1)],
    }


@pytest.fixture
def refused(vocabulary):
    def told(spec):
        try:
            parse_text(json.dumps(spec), "", vocabulary)
        except SpecError as error:
            assert len({fault.where for fault in error.faults}) == len(error.faults)
            return {fault.where: fault for fault in error.faults}
        return {}

    return told


def meant(fault):
    return fault.message.partition("; numbers are millimetres: did you mean ")[2].removesuffix("?")


@pytest.mark.parametrize(
    ("wall", "allowed"),
    [
        ({"top": 2.7}, "at least 50 mm"),
        ({"top": 2.7, "base": -45}, "at least 50 mm"),
        ({"top": 2.7, "base": -150}, '"m" or "mm"'),
        ({"top": 2.7, "base": 30}, "more than 30 mm"),
        ({"top": [[0, 0], [4000, 2.7], [11240, 0]]}, "at least 50 mm"),
        ({"top": [[0, 2.4], [4000, 2.7], [11240, 2.4]], "base": -450}, '"m" or "mm"'),
    ],
)
def test_a_top_in_metres_is_asked_about(wall, allowed, refused):
    (fault,) = refused(building(wall)).values()
    assert fault.where == "walls[0].top"
    assert meant(fault) == '"2.7 m"'
    assert allowed in fault.allowed


@pytest.mark.parametrize(
    "wall",
    [
        {"top": "2.7 mm", "base": -150},
        {"top": 0, "base": -150},
        {"top": 21, "base": -150},
        {"top": 2.7, "base": -2400},
        {"top": [[0, 2.7], [4000, 900], [11240, 2.7]]},
        {"end": [101, 0]},
        {"start": [5000, 0], "end": [5000, 90]},
        {"end": ["60 mm", 0]},
        {"joints": [{"at": "6 mm"}]},
        {"joints": [{"at": 15}], "end": [12000, 0]},
        {"openings": [{**OPENING, "at": 1.35}]},
    ],
)
def test_what_may_well_be_millimetres_is_left_alone(wall, refused):
    assert not refused(building(wall))


@pytest.mark.parametrize(("unit", "joint", "least"), [(65, 10, 75), (215, None, 215), (20, 5, 25)])
def test_a_wall_is_a_course_high_at_least(unit, joint, least, refused):
    own = {"own": {"material": "clay", "length": 215, "height": unit, "width": 102.5, "joint": joint}}
    assert not refused(building({"top": least}, units=own, unit="own"))
    (fault,) = refused(building({"top": least - 0.02}, units=own, unit="own")).values()
    assert fault.where == "walls[0].top"
    assert fault.allowed == f"at least {least} mm, one course of its lowest unit"
    assert not meant(fault)


def test_no_rule_set_has_a_lower_course():
    courses = [
        unit.height + (unit.bed or book.values["joint.nominal"].number)
        for book in map(load_book, country_ids())
        for unit in book.units.values()
    ]
    assert courses
    assert min(courses) >= LOWEST_COURSE


def test_the_lowest_unit_of_any_leaf_counts(refused):
    own = {"high": {"material": "stone", "length": 440, "height": 300, "width": 100}}
    spec = building({"top": 250}, units=own, unit="high", to=600)
    assert not refused(spec)  # dense_block_100 above
    spec["leaves"]["brick"]["zones"] = [{"unit": "high"}]
    assert set(refused(spec)) == {"walls[0].top"}


@pytest.mark.parametrize(
    ("start", "end", "shown"),
    [
        ([0, 0], [11.24, 0], '["11.24 m", 0]'),
        ([0, 0], [60, 0], '["60 m", 0]'),
        ([11240, 0], [11240, 7.3], '[11240, "7.3 m"]'),
        (["11.24 m", 0], ["11.24 m", 7.3], '["11.24 m", "7.3 m"]'),
    ],
)
def test_wall_ends_in_metres_are_asked_about(start, end, shown, refused):
    (fault,) = refused(building({"start": start, "end": end})).values()
    assert fault.where == "walls[0].end"
    assert meant(fault) == shown


@pytest.mark.parametrize(
    ("start", "end", "told"),
    [
        ([11.24, 0], [11.24, -7.3], {"start": '["11.24 m", 0]', "end": '["11.24 m", "-7.3 m"]'}),
        ([0, 8.99], [0, 0], {"start": '[0, "8.99 m"]'}),
    ],
)
def test_the_start_is_asked_about_too_where_it_is_in_metres(start, end, told, refused):
    faults = refused(building({"start": start, "end": end}))
    assert {where: meant(fault) for where, fault in faults.items()} == {f"walls[0].{key}": shown for key, shown in told.items()}


@pytest.mark.parametrize("end", [["11.24 mm", 0], [0.004, 0], [0, 0]])
def test_short_walls_that_are_not_in_metres_get_no_hint(end, refused):
    (fault,) = refused(building({"end": end})).values()
    assert not meant(fault)


def test_a_wall_all_in_metres_is_told_in_one_pass(refused):
    wall = {
        "start": [0, 0],
        "end": [11.24, 0],
        "base": -0.15,
        "top": 2.7,
        "openings": [{"id": "O1", "at": 1.35, "width": 0.91, "sill": 0, "height": 2.1}, {**OPENING, "id": "O2", "at": 6.2}],
        "features": [{"kind": "downpipe", "at": 11}],
        "joints": [{"at": 6.075, "width": 0.012}],
    }
    told = {where.removeprefix("walls[0]."): meant(fault) for where, fault in refused(building(wall)).items()}
    assert told == {
        "end": '["11.24 m", 0]',
        "base": '"-0.15 m"',
        "top": '"2.7 m"',
        "openings[0].at": '"1.35 m"',
        "openings[0].width": '"0.91 m"',
        "openings[0].height": '"2.1 m"',
        "openings[1].at": '"6.2 m"',
        "features[0].at": '"11 m"',
        "joints[0].at": '"6.075 m"',
        "joints[0].width": '"0.012 m"',
    }


def test_an_opening_in_metres_has_its_place_in_metres(refused):
    told = refused(building({"openings": [{"id": "O1", "at": 1.35, "width": 0.91, "sill": 0.9, "height": 1.2}]}))
    assert {where.rpartition(".")[2]: meant(fault) for where, fault in told.items()} == {
        "at": '"1.35 m"',
        "width": '"0.91 m"',
        "sill": '"0.9 m"',
        "height": '"1.2 m"',
    }


def test_joints_and_zones_in_metres(refused):
    spec = building({"joints": [{"at": 6.075}, {"at": 9}]}, to=0.45)
    assert {where: meant(fault) for where, fault in refused(spec).items()} == {
        "walls[0].joints[0].at": '"6.075 m"',
        "walls[0].joints[1].at": '"9 m"',
        "leaves.brick.zones[0].to": '"0.45 m"',
    }
    assert not refused(building({}, to="0.45 mm"))


@pytest.mark.parametrize(
    ("key", "value", "shown"),
    [("length", 0.215, '"0.215 m"'), ("height", 9.5, ""), ("width", -0.1, ""), ("joint", 0.01, '"0.01 m"'), ("joint", 0.375, "")],
)
def test_sizes_of_units_are_asked_about_where_metres_would_do(key, value, shown, refused):
    own = {"own": {"material": "clay", "length": 215, "height": 65, "width": 102.5, key: value}}
    (fault,) = refused(building({}, units=own, unit="own")).values()
    assert fault.where == f"units.own.{key}"
    assert fault.message == "is too small" + (f"; numbers are millimetres: did you mean {shown}?" if shown else "")


def test_a_cavity_in_metres(refused):
    spec = building({})
    spec["wall_types"]["half"] |= {"inner": "brick", "cavity": 0.1}
    (fault,) = refused(spec).values()
    assert (fault.where, meant(fault)) == ("wall_types.half.cavity", '"0.1 m"')


@pytest.mark.parametrize("value", ["2.7", True, None, 0, 0.004, 100, float("nan"), float("inf"), 10**400, [2.7]])
def test_not_likely_metres(value):
    assert not likely(value)


def test_one_number_that_is_not_in_metres_is_enough_to_doubt():
    assert all_likely((0, 2.7, 0))
    assert not all_likely((0, 2.7, 2700))
    assert not all_likely((0, 0))
    assert hint(0.1 + 0.2) == '; numbers are millimetres: did you mean "0.3 m"?'
