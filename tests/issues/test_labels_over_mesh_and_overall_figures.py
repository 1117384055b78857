"""Mesh across a corner was drawn into the air beside its wall and through the name of the opening beside it; the figure of the
overall length, where a match line moves it under its line, stood in the first two courses set out dry."""

import sys
from pathlib import Path

import pytest

from elevgen.drawing.board import Board, text_box, written
from elevgen.drawing.compose import compose
from elevgen.drawing.dims import draw_strings
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Polyline

sys.path.append(str(Path(__file__).parents[1] / "whole"))

from overlaps import faults

RENDERED = {"finish": "render"}


def mesh_of(scene, leaf):
    return [p for p in scene.view(leaf).primitives if isinstance(p, Polyline) and p.title.startswith("mesh")]


def test_mesh_is_trimmed_where_its_wall_ends(wall_of):
    low = {"id": "O1", "at": 2015, "width": 1210, "sill": 75, "height": 2175}
    design = wall_of({"openings": [low], "damp_courses": []}, RENDERED, None)
    strips = mesh_of(compose(design), "W1/outer")
    assert len(strips) == 4
    levels = [y for strip in strips for _, y in strip.points]
    assert min(levels) == pytest.approx(0, abs=0.01) and sum(y < 0.01 for y in levels) == 4


def test_no_name_of_an_opening_is_written_over_mesh_of_the_next(wall_of):
    """A pier of 215 mm between an opening hardly wider than its name, at 1:50, and a lower one."""
    sides = [{"id": "O1", "at": 1015, "width": width, "sill": 75, "height": 2250} for width in range(700, 1150, 25)]
    for wide in sides:
        beside = {"id": "O2", "at": 1015 + wide["width"] + 215, "width": 910, "sill": 1050, "height": 450}
        scene = compose(wall_of({"openings": [wide, beside]}, RENDERED, None))
        assert mesh_of(scene, "W1/outer")
        assert [str(f) for f in faults(scene) if "/" in f.sheet and "mesh" in f.other] == [], wide["width"]


@pytest.mark.parametrize("cut", [2900, 3080, None])
def test_nothing_is_drawn_from_above_the_overall_figure(wall_of, cut):
    """Where the strings end, what comes next begins: under the figure too, where a match line parts its own place."""
    (facts,) = leaf_facts(wall_of({}, {}, None))
    board = Board(Fonts(), 50.0, "W1/outer", () if cut is None else (cut,))
    below = draw_strings(board, facts, -1000.0)
    figures = [text_box(t, board.fonts, board.scale) for t in written(board.primitives, board.scale) if t.text == "6000"]
    assert len(figures) == 1
    assert (figures[0].top < -1000) == (cut is not None)
    assert below == -1000.0 if cut is None else below <= figures[0].bottom + 0.01
