"""Parts listed for a wall lie in it, in leaves and over openings it has; in a list `place` stands once."""

import json

import pytest
from listed import listed

from elevgen.building.given import Given, GivenDampCourse, GivenLintel, GivenTie
from elevgen.building.listed import given_damp_courses, given_lintels, given_reinforcement, given_ties, given_trays, loads_on
from elevgen.core.errors import SpecError
from elevgen.spec.load import parse_text


def read(good, vocabulary, wall=1, **fields):
    spec = listed(json.loads(good))
    spec["walls"][wall].update(fields)
    return parse_text(json.dumps(spec), "", vocabulary)


def refused(good, vocabulary, wall=1, **fields):
    with pytest.raises(SpecError) as error:
        read(good, vocabulary, wall, **fields)
    return {fault.where: fault for fault in error.value.faults}


def test_listed_parts_are_kept_and_the_word_has_others_placed_beside_them(good, vocabulary):
    south, east, partition = read(good, vocabulary).walls
    assert given_lintels(south) == Given((GivenLintel(("D1",), "inner", 1200, 1200, "concrete", 215),), True)
    assert given_ties(south) == Given((GivenTie(450, 300), GivenTie(900, 750)), False)
    assert given_damp_courses(east) == Given((GivenDampCourse(None, 2475, 0, 7300),), True)
    assert given_reinforcement(east).placing is False
    assert given_trays(east).parts[0].stop_ends == 1
    assert loads_on(east)[0].load == 4.2
    for given in (given_lintels, given_reinforcement, given_ties, given_damp_courses, given_trays):
        assert given(partition) == Given((), True)


def test_an_empty_list_means_there_are_none(good, vocabulary):
    assert given_trays(read(good, vocabulary, trays=[]).walls[1]) == Given((), False)


@pytest.mark.parametrize(
    ("key", "part", "where", "allowed"),
    [
        ("reinforcement", {"level": 450, "at": -3, "length": 500}, "at", "0 to 6800 mm"),
        ("reinforcement", {"level": 450, "at": 6900, "length": 401}, "length", "at most 400 mm"),
        ("reinforcement", {"level": 2551, "at": 100, "length": 401}, "level", "0 mm to 2550 mm there"),
        ("damp_courses", {"level": -1, "at": 0, "length": 7300}, "level", "0 mm to 2550 mm there"),
        ("ties", {"at": 7301, "level": 300}, "at", "0 to 7300 mm"),
        ("trays", {"level": 1500, "at": 7000, "length": 700}, "length", "at most 300 mm"),
        ("loads", {"level": 2400, "at": 7400, "load": 2}, "at", "0 to 7300 mm"),
    ],
)
def test_a_part_lies_in_its_wall(key, part, where, allowed, good, vocabulary):
    (fault,) = refused(good, vocabulary, **{key: [part]}).values()
    assert fault.where == f"walls[1].{key}[0].{where}"
    assert fault.allowed == allowed


def test_a_lintel_is_over_openings_of_its_wall(good, vocabulary):
    lintel = {"over": ["D1", "O22"], "at": 1200, "length": 1210}
    (fault,) = refused(good, vocabulary, wall=0, lintels=[lintel]).values()
    assert fault.where == "walls[0].lintels[0].over[1]"
    assert fault.allowed == "D1, O1, O2"
    assert fault.nearest == "O2"


def test_a_wall_of_one_leaf_has_no_inner_one_and_no_ties_across_a_cavity(good, vocabulary):
    faults = refused(
        good,
        vocabulary,
        wall=2,
        reinforcement=[{"leaf": "inner", "level": 500, "at": 0, "length": 900}],
        ties=[{"at": 50, "level": 9}],
    )
    assert set(faults) == {"walls[2].reinforcement[0].leaf", "walls[2].ties[0]"}


def test_the_word_stands_once(good, vocabulary):
    (fault,) = refused(good, vocabulary, trays=["place", "place"]).values()
    assert fault.where == "walls[1].trays[1]"


def test_lines_go_from_start_to_end(good, vocabulary):
    faults = refused(good, vocabulary, abutments=[{"line": [[900, 300], [400, 500]]}], ground=[[0, -200], [7400, 0]])
    assert faults["walls[1].abutments[0].line[1][0]"].allowed == "at least 900 mm: points go from start to end"
    assert faults["walls[1].ground[1][0]"].allowed == "0 to 7300 mm"


def test_metres_are_pointed_out(good, vocabulary):
    (fault,) = refused(good, vocabulary, reinforcement=[{"level": 450, "at": 1.2, "length": 900}]).values()
    assert 'did you mean "1.2 m"?' in fault.message


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        ({"lintels": "none"}, "walls[1].lintels"),
        ({"lintels": ["placed"]}, "walls[1].lintels[0]"),
        ({"ties": ["place"]}, "walls[1].ties[0]"),
        ({"ground": "deep"}, "walls[1].ground"),
        ({"loads": [{"level": 1, "at": 90, "load": "4 kN"}]}, "walls[1].loads[0].load"),
        ({"trays": [{"level": 1, "at": 90, "length": 900, "stop_ends": 3}]}, "walls[1].trays[0].stop_ends"),
        ({"lintels": [{"over": [], "at": 90, "length": 900}]}, "walls[1].lintels[0].over"),
    ],
)
def test_what_is_wrong_in_form_is_said_with_what_is_allowed(fields, where, good, vocabulary):
    (fault,) = refused(good, vocabulary, **fields).values()
    assert fault.where == where
    assert fault.allowed
    assert "mm" not in fault.allowed or where.endswith("ground")
