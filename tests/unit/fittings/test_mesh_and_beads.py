"""Finishes: mesh across the corners of openings, stop beads beside movement joints."""

from __future__ import annotations

from dataclasses import replace

import pytest

from elevgen.core.geometry import Rect
from elevgen.fittings.beds import beds
from elevgen.fittings.damp_proof import damp_courses
from elevgen.fittings.joint_parts import joint_parts
from elevgen.fittings.mesh import corner_mesh
from elevgen.rules.book import RuleReader

WINDOW = Rect(3000, 900, 4210, 2100)


def corners(made, reader, finish="render", wall=None, leaf=None):
    leaf = replace(leaf or made.leaf(), finish=finish)
    damp = damp_courses(made.wall, leaf, beds(made.courses()), (), reader)
    strips = corner_mesh(wall or made.wall, leaf, made.plan.on_leaf(leaf.id), damp, reader)
    return [(strip.at, strip.level, strip.side, strip.end) for strip in strips]


def test_at_all_four_corners_of_a_window(yard, reader):
    made = yard.wall(6000, [WINDOW])
    assert corners(made, reader) == [
        (3000, 900, "left", "sill"),
        (3000, 2100, "left", "head"),
        (4210, 900, "right", "sill"),
        (4210, 2100, "right", "head"),
    ]
    assert corners(made, reader, finish=None) == []


def test_at_the_head_only_of_a_door_down_to_the_damp_proof_course(yard, reader):
    made = yard.wall(6000, [Rect(1000, 0, 1910, 2100)], base=-300)
    assert [end for *_, end in corners(made, reader)] == ["head", "head"]


@pytest.mark.parametrize(
    ("openings", "joints", "missing"),
    [
        pytest.param([WINDOW], [4218], {(4210, 900), (4210, 2100)}, id="a joint at the reveal"),
        pytest.param([WINDOW], [4260], set(), id="a joint further off"),
        pytest.param([WINDOW, Rect(4215, 1500, 5000, 2100)], [], {(4210, 2100), (4215, 2100), (4215, 1500)}, id="5 mm of pier"),
        pytest.param([Rect(3000, 900, 4210, 2700)], [], {(3000, 2700), (4210, 2700)}, id="up to the top"),
        pytest.param([Rect(0, 900, 810, 2100)], [], {(0, 900), (0, 2100)}, id="at the very end"),
    ],
)
def test_only_where_masonry_goes_all_round_the_corner(yard, reader, openings, joints, missing):
    made = yard.wall(6000, openings, joints)
    got = {(at, level) for at, level, *_ in corners(made, reader)}
    every = {(x, y) for o in openings for x in (o.left, o.right) for y in (o.bottom, o.top)}
    assert every - got == missing


def test_on_both_faces_of_a_wall_of_one_leaf_inside(yard, reader):
    made = yard.wall(6000, [WINDOW], cavity=None)
    inside = replace(made.leaf(), exposed=False, finish="plaster")
    strips = corner_mesh(made.wall, inside, (), (), reader)
    assert {strip.faces for strip in strips} == {2}
    assert {(strip.length, strip.width) for strip in strips} == {(300, 200)}


def test_none_where_the_rule_set_has_no_size(yard, reader):
    values = {key: value for key, value in reader.book.values.items() if key != "finish.mesh.width"}
    assert corners(yard.wall(6000, [WINDOW]), RuleReader(replace(reader.book, values=values))) == []


@pytest.mark.parametrize(
    ("finish", "cavity", "exposed", "metres"),
    [("render", 100.0, True, 5.7), (None, 100.0, True, 0), ("plaster", None, False, 11.4)],
)
def test_stop_beads_on_both_sides_of_a_joint_on_every_finished_face_from_memory(yard, reader, finish, cavity, exposed, metres):
    made = yard.wall(6000, joints=[2500], cavity=cavity)
    leaf = replace(made.leaf(), finish=finish, exposed=exposed)
    (joint,) = made.plan.on_leaf(leaf.id)
    parts = joint_parts(joint, made.wall, leaf, beds(made.courses()), reader)
    assert joint.levels.length == 2850
    assert (parts.finish, parts.stop_beads) == (finish, metres * 1000)
    bare = joint_parts(joint, made.wall, replace(leaf, finish=None), beds(made.courses()), reader)
    assert (parts.sealant_width, parts.sealant_depth) == (bare.sealant_width, bare.sealant_depth), "the width stays"
