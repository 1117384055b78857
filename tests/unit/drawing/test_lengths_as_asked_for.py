"""A sheet in feet and inches: everything that is set out says so; what it says is what is designed."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from elevgen.core.measures import parse_length
from elevgen.drawing.board import written
from elevgen.drawing.compose import compose
from elevgen.drawing.scene import Polyline, Role, Scene
from elevgen.result import Design

FEET = re.compile(r"-?(\d+' )?(\d+)?( ?\d+/\d+)?\"")


@pytest.fixture(scope="module")
def in_feet(small: Design) -> Scene:
    sheet = small.spec.sheet.model_copy(update={"lengths": "feet"})
    return compose(replace(small, spec=small.spec.model_copy(update={"sheet": sheet})))


def figures_of(scene: Scene, role: Role) -> list[str]:
    view = scene.view("W1/outer")
    return [t.text for t in written(view.primitives, view.scale) if t.role is role and re.search(r"\d", t.text)]


def test_dimensions_are_in_feet_and_inches_and_true(in_feet: Scene, small: Design) -> None:
    said = [t for t in figures_of(in_feet, Role.DIMENSION) if FEET.fullmatch(t)]
    read = {round(parse_length(t)) for t in said}
    door = small.building.walls[0].openings[0].rect
    for length in (door.left, door.right, 6140.0):
        assert min(abs(length - x) for x in read) <= 1, length


def test_no_length_is_left_in_millimetres(in_feet: Scene, small: Design) -> None:
    metric = {t for t in figures_of(compose(small), Role.DIMENSION) if t.isdigit() and int(t) > 99}
    assert metric
    assert not metric & set(figures_of(in_feet, Role.DIMENSION))


def test_a_piece_pointed_at_is_in_feet_and_inches_too(in_feet: Scene) -> None:
    pieces = [p.title.split(" ", 1)[1] for b in in_feet.blocks for p in b.primitives if isinstance(p, Polyline) and p.title]
    assert pieces
    assert [t for t in pieces if not FEET.fullmatch(t)] == []


def test_the_title_says_what_the_figures_are(in_feet: Scene) -> None:
    words = " ".join(t.text for t in written(in_feet.view("W1/outer").primitives))
    assert "feet and inches" in words
    assert "Lengths in mm" not in words


def test_a_rule_set_that_writes_feet_needs_not_be_asked(small: Design) -> None:
    scene = compose(replace(small, rules=replace(small.rules, lengths="feet")))
    assert any(FEET.fullmatch(t) for t in figures_of(scene, Role.DIMENSION))
