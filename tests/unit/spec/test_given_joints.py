"""Given joints lie in their wall with all of their width, and no two in one place of a leaf."""

import json
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevgen.core.errors import SpecError
from elevgen.spec.faults import FaultList
from elevgen.spec.given_joints import LEAST_WIDTH, check_given_joints
from elevgen.spec.load import parse_text

LENGTH = 7300  # of W2 in the good spec


def refused(good, vocabulary, *joints, wall=1):
    spec = json.loads(good)
    spec["walls"][wall]["joints"] = list(joints)
    try:
        parse_text(json.dumps(spec), "", vocabulary)
    except SpecError as error:
        return {fault.where: fault for fault in error.faults}
    return {}


@pytest.mark.parametrize("at", [0, LENGTH, "4.9 mm", LENGTH - 4.9, "7.3 m", 0.004])
def test_a_joint_at_the_end_of_its_wall_parts_nothing(at, good, vocabulary):
    (fault,) = refused(good, vocabulary, {"at": at}).values()
    assert fault.where == "walls[1].joints[0].at"
    assert "at the end of its wall" in fault.message
    assert fault.allowed == "at least 5 mm and at most 7295 mm"


def test_the_width_given_counts(good, vocabulary):
    (fault,) = refused(good, vocabulary, {"at": LENGTH - 16, "width": 33}).values()
    assert fault.allowed == "at least 16.5 mm and at most 7283.5 mm"
    assert not refused(good, vocabulary, {"at": LENGTH - 16, "width": 32})


def test_a_gap_that_lies_right_at_the_end_is_where_the_wall_meets_another(good, vocabulary):
    assert not refused(good, vocabulary, {"at": "5 mm"}, {"at": LENGTH - 8, "width": 16})


def test_one_place_twice_names_both(good, vocabulary):
    (fault,) = refused(good, vocabulary, {"at": "6.075 m"}, {"at": 2000}, {"at": 6075, "leaf": "inner"}).values()
    assert fault.where == "walls[1].joints[2].at"
    assert fault.message == "joints[0] and joints[2] stand in one place of the inner leaf, at 6075 mm"


def test_nearer_than_their_widths_names_both_places(good, vocabulary):
    (fault,) = refused(good, vocabulary, {"at": 2514, "width": 20}, {"at": 2500.5, "leaf": "outer"}).values()
    assert fault.where == "walls[1].joints[1].at"
    for told in ("joints[0] at 2514 mm", "joints[1] at 2500.5 mm", "outer leaf", "20 mm and 10 mm"):
        assert told in fault.message
    assert "more than 15 mm" in fault.allowed


def test_each_clash_is_told_once_though_both_leaves_have_it(good, vocabulary):
    assert len(refused(good, vocabulary, {"at": 2000}, {"at": 2004})) == 1


@pytest.mark.parametrize(
    "joints",
    [
        [{"at": 2000, "leaf": "outer"}, {"at": 2000, "leaf": "inner"}],
        [{"at": 2000}, {"at": 2010.5}],
        [{"at": 2000, "width": 12, "leaf": "outer"}, {"at": 2007, "leaf": "inner"}, {"at": 2015, "leaf": "outer"}],
        [],
    ],
)
def test_other_leaves_and_apart_are_allowed(joints, good, vocabulary):
    assert not refused(good, vocabulary, *joints)


def test_a_wrong_width_is_told_once(good, vocabulary):
    assert set(refused(good, vocabulary, {"at": 40, "width": 500}, {"at": 300})) == {"walls[1].joints[0].width"}


def test_the_word_place_stands_among_given_joints(good, vocabulary):
    spec = json.loads(good)
    spec["walls"][1]["joints"] = [{"at": 2000}, "place", {"at": "5.9 m", "leaf": "outer"}]
    wall = parse_text(json.dumps(spec), "", vocabulary).walls[1]
    assert wall.placing
    assert [j.at for j in wall.given_joints] == [2000, 5900]
    spec["walls"][1]["joints"] = [{"at": 2000}]
    assert not parse_text(json.dumps(spec), "", vocabulary).walls[1].placing


@pytest.mark.parametrize("joints", ["place", ["place"]])
def test_the_word_alone_means_the_same_in_a_list(joints, good, vocabulary):
    spec = json.loads(good)
    spec["walls"][1]["joints"] = joints
    wall = parse_text(json.dumps(spec), "", vocabulary).walls[1]
    assert wall.placing
    assert wall.given_joints == ()


def test_the_word_twice_is_told(good, vocabulary):
    (fault,) = refused(good, vocabulary, "place", {"at": 2000}, "place").values()
    assert fault.where == "walls[1].joints[2]"
    assert fault.message == "the word is there already, in joints[0]"


def test_another_word_is_told_with_the_nearest(good, vocabulary):
    (fault,) = refused(good, vocabulary, {"at": 2000}, "plase").values()
    assert (fault.where, fault.nearest) == ("walls[1].joints[1]", "place")
    assert fault.allowed == 'an object such as {"at": 5000}, or "place"'


@pytest.mark.parametrize("item", [6075, True, None, ["place"]])
def test_what_is_neither_joint_nor_word_is_told(item, good, vocabulary):
    (fault,) = refused(good, vocabulary, "place", item).values()
    assert fault.where == "walls[1].joints[1]"
    assert fault.allowed == 'an object such as {"at": 5000}, or "place"'


def test_a_joint_beside_the_word_is_judged_like_any(good, vocabulary):
    (fault,) = refused(good, vocabulary, "place", {"at": LENGTH}).values()
    assert fault.where == "walls[1].joints[1].at"


JOINTS = st.fixed_dictionaries(
    {"at": st.integers(20, 90)},
    optional={"leaf": st.sampled_from(["outer", "inner", None]), "width": st.sampled_from([None, 1, 7, 20])},
)


@settings(max_examples=100, deadline=None, derandomize=True, database=None)
@given(joints=st.lists(JOINTS, max_size=6))
def test_whenever_two_joints_of_a_leaf_overlap_something_is_said(joints):
    faults = FaultList()
    check_given_joints((), {"joints": joints}, 120.0, faults)
    by_pairs = any(
        abs(a["at"] - b["at"]) <= ((a.get("width") or LEAST_WIDTH) + (b.get("width") or LEAST_WIDTH)) / 2
        for a, b in combinations(joints, 2)
        if a.get("leaf") is None or b.get("leaf") is None or a["leaf"] == b["leaf"]
    )
    assert bool(faults) == by_pairs
