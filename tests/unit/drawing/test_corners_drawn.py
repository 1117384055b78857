"""Corners as drawn: running figures, lengths of cut pieces, joints and names are what the coursing has; sheets hold them all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

import pytest
from shapely import Polygon, box

from elevgen import pipeline
from elevgen.core.measures import millimetres
from elevgen.coursing.cutpieces import tenths
from elevgen.drawing.board import text_box, written
from elevgen.drawing.cautions import AID
from elevgen.drawing.compose import compose
from elevgen.drawing.corner_details import corner_details
from elevgen.drawing.corner_marks import BREAK
from elevgen.drawing.corner_view import COMMON, corner_view
from elevgen.drawing.corners import REACH, pieces_of
from elevgen.drawing.font import Fonts
from elevgen.drawing.plan_sheet import corner_sheets, corner_views
from elevgen.drawing.scene import Fill, Polyline, Role, View
from elevgen.result import Design
from elevgen.spec.models import Spec

FONTS = Fonts()


def ring(points: Sequence[tuple[float, float]], leaves: dict[str, Any], wall_type: dict[str, Any], **sheet: Any) -> Design:
    """A building of one kind of wall round these outside corners, without joints."""
    walls = [
        {"id": f"W{n}", "type": "wall", "start": list(a), "end": list(b), "base": 0, "top": 900, "joints": []}
        for n, (a, b) in enumerate(zip(points, (*points[1:], points[0]), strict=True), 1)
    ]
    spec = {"spec": 1, "leaves": leaves, "wall_types": {"wall": wall_type}, "walls": walls, "sheet": sheet}
    return pipeline.design(Spec.model_validate(spec), "ring")


def brick_ring(along: int, across: int, **sheet: Any) -> Design:
    """Half-brick walls that whole bricks fill: so many bricks and joints of 225 mm each way, less a joint."""
    x, y = along * 225.0 - 10.0, across * 225.0 - 10.0
    points = [(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)]
    return ring(points, {"brick": {"zones": [{"unit": "brick_65"}]}}, {"outer": "brick"}, **sheet)


def figures(view: View) -> Counter[str]:
    return Counter(t.text for t in written(view.primitives) if t.role is Role.DIMENSION)


def test_running_figures_of_whole_bricks() -> None:
    """From the corner to the middles of joints: 220, 445, 670 where a course runs through, 107.5, 332.5 ... where it stops."""
    design = brick_ring(17, 12)
    (detail, *_) = corner_details(design).drawn
    view = corner_view(design, detail, FONTS)
    through = [215 + 5 + 225 * n for n in range(4)]
    stopped = [102.5 + 5 + 225 * n for n in range(4)]
    drawn = REACH - BREAK
    expected = Counter(millimetres(x, 0) for x in through if x < drawn) + Counter(millimetres(x, 0) for x in stopped if x < drawn)
    assert len(expected) == 6, "three joints and more each way are needed to see the bond"
    assert figures(view) == expected + expected, "each of the two walls runs through in one of the two courses"


def test_every_cut_piece_that_is_whole_on_the_drawing_has_its_length_on_it(studio: Design) -> None:
    for detail in corner_details(studio).drawn:
        said = Counter(t.text for t in written(corner_view(studio, detail, FONTS).primitives))
        cut = Counter(
            millimetres(tenths(p.length)) for laid in (detail.first, detail.second) for p in pieces_of(laid) if p.cut and p.whole
        )
        assert all(said[length] >= count for length, count in cut.items()), detail.corner.id


def test_each_piece_is_drawn_once_at_full_size_and_told_of(studio: Design) -> None:
    for detail in corner_details(studio).drawn:
        view = corner_view(studio, detail, FONTS)
        outlines = [p for p in view.primitives if isinstance(p, Polyline) and " long" in p.title]
        fills = [p for p in view.primitives if isinstance(p, Fill) and p.tint != "panel"]
        pieces = [p for laid in (detail.first, detail.second) for p in pieces_of(laid)]
        area = sum(p.outline.area for p in pieces)
        assert len(outlines) == len(fills) == len(pieces)
        assert sum(Polygon(p.points).area for p in outlines) == pytest.approx(area)
        assert {p.source for p in outlines} == {p.leaf for p in pieces}


def test_movement_joints_near_a_corner_are_on_it_and_named(studio: Design) -> None:
    seen = 0
    for detail in corner_details(studio).drawn:
        view = corner_view(studio, detail, FONTS)
        for joint, _ in detail.first.joints:
            assert sum(p.source == joint.id for p in view.primitives if isinstance(p, Polyline)) >= 2
            assert [t.text for t in written(view.primitives)].count(joint.id) == 2
            seen += 1
    assert seen


def test_the_two_courses_do_not_touch_and_everything_lies_in_the_view(studio: Design) -> None:
    for detail in corner_details(studio).drawn:
        view = corner_view(studio, detail, FONTS)
        frame = box(view.extents.left, view.extents.bottom, view.extents.right, view.extents.top)
        shapes = [Polygon(p.points) for p in view.primitives if isinstance(p, Fill) and p.tint != "panel"]
        count = len(list(pieces_of(detail.first)))
        assert all(frame.contains(shape) for shape in shapes)
        assert not any(a.intersects(b) for a in shapes[:count] for b in shapes[count:])
        boxes = [text_box(t, FONTS, float(view.scale)) for t in written(view.primitives, float(view.scale))]
        assert all(frame.contains(box(b.left, b.bottom, b.right, b.top)) for b in boxes)


@pytest.mark.parametrize("size", ["A4", "A3", "A1"])
def test_sheets_of_corners_hold_each_once_inside_the_frame_and_clear_of_one_another(size: str) -> None:
    leaves = {"brick": {"zones": [{"unit": "brick_65"}]}, "block": {"zones": [{"unit": "aircrete_block_100"}]}}
    points = [(0.0, 0.0), (7777.0, 0.0), (9100.0, 3100.0), (5200.0, 3600.0), (5200.0, 6333.0), (0.0, 6333.0)]
    design = ring(points, leaves, {"outer": "brick", "inner": "block", "cavity": 100}, size=size)
    views = corner_views(design, corner_details(design), FONTS)
    sheets = corner_sheets(design, views, FONTS)
    windows = [w for sheet in sheets for w in sheet.windows]
    assert Counter(w.view for w in windows) == Counter(v.id for v in views) and len(views) > 3
    for sheet in sheets:
        for n, window in enumerate(sheet.windows):
            paper = window.paper
            assert paper.left > 20 and paper.right < sheet.width - 10 and paper.top < sheet.height - 10 and paper.bottom > 10
            for other in sheet.windows[n + 1 :]:
                apart = (other.paper.left - paper.right, paper.left - other.paper.right, paper.bottom - other.paper.top)
                assert max(apart) > 0, (sheet.id, window.view, other.view)
        said = " ".join(t.text for t in written(sheet.primitives))
        assert AID in said and said.count(COMMON) == 1
        names = {w.view.removeprefix("corner-").replace("-", "/") for w in sheet.windows}
        assert names <= {t.text for t in written(sheet.primitives)}, "each is named on the key plan"
    for view in views:
        shown = view.shown
        assert shown is not None
        unseen = [t.text for t in written(view.primitives, float(view.scale)) if t.at[1] < shown.bottom]
        assert f"{AID}" in " ".join(unseen) and " ".join(unseen).startswith(COMMON), "its own file says it too"


def test_corners_lie_under_the_plan_in_the_model(studio: Design) -> None:
    scene = compose(studio)
    plan = scene.view("plan")
    floor = plan.place[1] + plan.extents.bottom
    corners = [v for v in scene.views if v.id.startswith("corner-")]
    assert corners and all(v.place[1] + v.extents.top < floor for v in corners)


def test_a_corner_that_is_not_square_says_its_pieces_are_cut() -> None:
    points = [(0.0, 0.0), (6000.0, 0.0), (7000.0, 5000.0), (1200.0, 4100.0)]
    design = ring(points, {"brick": {"zones": [{"unit": "brick_65"}]}}, {"outer": "brick"})
    for view in corner_views(design, corner_details(design), FONTS):
        assert any("cut to the angle" in t.text for t in written(view.primitives)), view.id
    square = brick_ring(17, 12)
    for view in corner_views(square, corner_details(square), FONTS):
        assert not any("cut to the angle" in t.text for t in written(view.primitives)), view.id


def test_feet_and_inches_on_corners_where_they_are_asked_for() -> None:
    design = brick_ring(17, 12, lengths="feet")
    view = corner_views(design, corner_details(design), FONTS)[0]
    assert '8 11/16"' in figures(view), "220 mm"
