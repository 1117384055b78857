"""Courses that run on from wall to wall in one line, and corners of walls that start at different levels."""

from __future__ import annotations

import json
from itertools import pairwise

import pytest

from elevgen import pipeline
from elevgen.result import Design

Point = tuple[float, float]


def made(
    tmp_path, ends: tuple[tuple[Point, Point], ...], tops: tuple[float, ...], kind: str = "single", first: float = 0.0
) -> Design:
    walls = [
        {"id": f"W{n}", "start": a, "end": b, "type": kind, "base": 0 if n else first, "top": top}
        for n, ((a, b), top) in enumerate(zip(ends, tops, strict=True))
    ]
    spec = {
        "spec": 1,
        "project": {"title": "Turns", "date": "2026-03-02"},
        "rules": "uk",
        "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}, "block": {"zones": [{"unit": "dense_block_100"}]}},
        "wall_types": {"single": {"outer": "brick"}, "cavity": {"outer": "brick", "inner": "block", "cavity": 100}},
        "walls": walls,
    }
    path = tmp_path / "spec.json"
    path.write_text(json.dumps(spec))
    return pipeline.design_file(path)


def pieces(design: Design, leaf: str, level: float) -> list[tuple[float, float, str]]:
    """(left end, length, kind) of what lies at a level, along the wall."""
    patterns = {p.id: p for p in design.coursing.patterns}
    found = [p for p in design.coursing.of(leaf).placements if abs(p.level - level) < 0.01]
    return sorted((p.span.start + x.at, x.length, x.kind) for p in found for x in patterns[p.pattern].pieces)


def lines(design: Design, leaf: str, level: float, offset: float) -> list[float]:
    """Centre lines of the perpends at a level, along the line of all walls."""
    patterns = {p.id: p for p in design.coursing.patterns}
    found = [p for p in design.coursing.of(leaf).placements if abs(p.level - level) < 0.01]
    return [offset + p.span.start + x.at + x.width / 2 for p in found for x in patterns[p.pattern].perpends]


def across(design: Design, side: str, level: float, at: float) -> list[float]:
    """The perpends of both walls at a level, and the line between them where two units meet at it."""
    found = lines(design, f"W0/{side}", level, 0) + lines(design, f"W1/{side}", level, at)
    left, right = pieces(design, f"W0/{side}", level)[-1], pieces(design, f"W1/{side}", level)[0]
    butted = left[0] + left[1] > at - 0.01 and right[0] < 0.01 and "return" not in (left[2], right[2])
    return [*found, at] if butted else found


LINES = {
    "whole and half lengths": (3590.0, 6505.0),
    "lengths off the module": (3447.0, 6689.0),
    "a half": (3477.5, 6392.5),
}


@pytest.mark.parametrize("case", LINES)
@pytest.mark.parametrize(("kind", "side", "unit"), [("single", "outer", 215), ("cavity", "outer", 215), ("cavity", "inner", 440)])
def test_courses_lap_across_a_meeting_in_line(tmp_path, case, kind, side, unit):
    """Every perpend within a unit of the line laps a quarter of a unit on the courses over and under it, on both walls."""
    at, end = LINES[case]
    design = made(tmp_path, (((0, 0), (at, 0)), ((at, 0), (end, 0))), (2700, 2700), kind)
    levels = [c.level for c in design.coursing.of(f"W0/{side}").courses]
    courses = [sorted(across(design, side, y, at)) for y in levels]
    for under, over in pairwise(courses):
        near = [x for x in over if abs(x - at) <= 1.1 * unit]
        assert near
        assert min(abs(x - y) for x in near for y in under) >= unit / 4 - 0.01


@pytest.mark.parametrize("case", LINES)
def test_a_unit_astride_the_line_is_counted_once(tmp_path, case):
    """One leaf owns it and has the rest of it hidden; what the other shows is what is hidden: 102.5 mm of a brick."""
    at, end = LINES[case]
    design = made(tmp_path, (((0, 0), (at, 0)), ((at, 0), (end, 0))), (2700, 2700))
    patterns = {p.id: p for p in design.coursing.patterns}
    astride = 0
    one, other = (design.coursing.of(f"W{n}/outer") for n in (0, 1))
    for left, right in zip(one.placements, other.placements, strict=True):
        a, b = patterns[left.pattern], patterns[right.pattern]
        ends = (a.pieces[-1], a.hidden[1]), (b.pieces[0], b.hidden[0])
        shown = [piece.length for piece, _ in ends if piece.kind == "return"]
        hidden = [more for _, more in ends if more]
        assert shown == hidden
        if shown:
            (owned,) = [piece for piece, more in ends if more]
            assert (owned.kind, owned.length + shown[0]) == ("full", pytest.approx(215))
            astride += 1
    assert astride == 18
    for laid, length in ((one, at), (other, end - at)):
        assert laid.unit_area + laid.mortar_area == pytest.approx(length * 2700, rel=1e-6)


def test_on_the_module_nothing_is_cut_but_at_the_ends(tmp_path):
    """6,515 mm of brick in two walls of whole courses: cuts are the halves of the two stopped ends."""
    design = made(tmp_path, (((0, 0), (3600, 0)), ((3600, 0), (6515, 0))), (2700, 2700))
    for level in (10, 85, 160):
        both = pieces(design, "W0/outer", level) + pieces(design, "W1/outer", level)
        assert {round(x, 1) for _, x, kind in both if kind == "cut"} <= {102.5}


def test_a_mirrored_line_is_laid_as_the_mirror_image(tmp_path):
    lengths = {"W0/outer": 3447, "W1/outer": 3242}
    one = made(tmp_path, (((0, 0), (3447, 0)), ((3447, 0), (6689, 0))), (2700, 2700))
    two = made(tmp_path, (((3242, 0), (6689, 0)), ((0, 0), (3242, 0))), (2700, 2700))
    for leaf, length in lengths.items():
        for level in (10, 85):
            turned = sorted((length - at - x, x, kind) for at, x, kind in pieces(two, leaf, level))
            for (at, x, kind), (at2, x2, kind2) in zip(pieces(one, leaf, level), turned, strict=True):
                assert (at, x, kind) == (pytest.approx(at2, abs=1e-3), pytest.approx(x2, abs=1e-3), kind2)


def test_over_the_lower_wall_the_higher_one_stops(tmp_path):
    """No unit lies half in the air: above 2,400 the end of the higher wall is whole and half units."""
    design = made(tmp_path, (((0, 0), (3447, 0)), ((3447, 0), (6689, 0))), (2400, 2700))
    for level in (2410, 2485, 2560, 2635):
        left = pieces(design, "W1/outer", level)[0]
        assert left[0] == 0
        assert left[2] != "return"
        assert round(left[1], 1) in (215, 102.5)
    patterns = {p.id: p for p in design.coursing.patterns}
    high = [p for p in design.coursing.of("W1/outer").placements if p.level > 2400]
    assert all(patterns[p.pattern].hidden == (0, 0) for p in high)


def test_corners_take_turns_by_level_where_bases_differ(tmp_path):
    """Five courses more in one wall than in the other: at each level one leaf runs through and the other shows its end."""
    design = made(tmp_path, (((0, 0), (3590, 0)), ((3590, 0), (3590, 2915))), (2700, 2700), first=-375.0)
    for level in (10, 85, 160, 1735):
        ends = pieces(design, "W0/outer", level)[-1][2], pieces(design, "W1/outer", level)[0][2]
        assert sorted(kind == "return" for kind in ends) == [False, True]
