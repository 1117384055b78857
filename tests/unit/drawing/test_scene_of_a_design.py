"""The scene as a whole: counted against the design, the same twice, readable, nothing outside its extents."""

import re
from collections import Counter
from itertools import combinations

import pytest

from elevgen.core.figures import METRIC
from elevgen.core.geometry import Rect
from elevgen.coursing.model import UnitMass
from elevgen.drawing.board import SMALLEST_TEXT, dimension_text, text_box, written
from elevgen.drawing.cautions import AID, lifting_cautions
from elevgen.drawing.compose import compose
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import (
    BlockUse,
    Dimension,
    Fill,
    Line,
    Polyline,
    Primitive,
    Role,
    Scene,
    Sheet,
    Symbol,
    Text,
    View,
    Window,
)
from elevgen.result import Design

FONTS = Fonts()
EDGE = 1e-6


@pytest.fixture(params=["small", "long_wall", "duplex", "studio"], scope="module")
def drawn(request: pytest.FixtureRequest) -> tuple[Design, Scene]:
    design = request.getfixturevalue(request.param)
    return design, compose(design)


def texts_of(primitives: tuple[Primitive, ...], scale: float) -> list[Text]:
    return [dimension_text(p, scale) if isinstance(p, Dimension) else p for p in primitives if isinstance(p, Text | Dimension)]


def on_paper(box: Rect, window: Window) -> Rect:
    x, y, s = window.paper.left, window.paper.bottom, window.scale
    return Rect(
        x + (box.left - window.corner[0]) / s,
        y + (box.bottom - window.corner[1]) / s,
        x + (box.right - window.corner[0]) / s,
        y + (box.top - window.corner[1]) / s,
    )


def text_boxes(scene: Scene, sheet: Sheet) -> list[tuple[Rect, str]]:
    found = [(text_box(t, FONTS), t.text) for t in texts_of(sheet.primitives, 1)]
    for window in sheet.windows:
        view = scene.view(window.view)
        seen = [(on_paper(text_box(t, FONTS, view.scale), window), t.text) for t in texts_of(view.primitives, float(view.scale))]
        found += [(box, text) for box, text in seen if overlap(box, window.paper)]
    return found


def overlap(a: Rect, b: Rect) -> bool:
    return min(a.right, b.right) - max(a.left, b.left) > EDGE and min(a.top, b.top) - max(a.bottom, b.bottom) > EDGE


def reach(primitive: Primitive, view: View, blocks: dict[str, tuple[float, float]]) -> Rect:
    size = float(view.scale)
    match primitive:
        case Line():
            points = (primitive.a, primitive.b)
        case Polyline() | Fill():
            points = primitive.points
        case Text():
            return text_box(primitive, FONTS, size)
        case Dimension():
            box = text_box(dimension_text(primitive, size), FONTS, size)
            line = [
                (p[0], primitive.line_at) if primitive.axis == "x" else (primitive.line_at, p[1])
                for p in (primitive.a, primitive.b)
            ]
            points = (primitive.a, primitive.b, *line, (box.left, box.bottom), (box.right, box.top))
        case Symbol():
            half = primitive.size * size if primitive.name == "arrow" else primitive.size * size / 2
            x, y = primitive.at
            points = ((x - half, y - half), (x + half, y + half))
        case BlockUse():
            length, height = blocks[primitive.block]
            points = (primitive.at, (primitive.at[0] + length, primitive.at[1] + height))
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return Rect(min(xs), min(ys), max(xs), max(ys))


def test_every_placement_pattern_tie_and_joint_is_drawn_once(drawn: tuple[Design, Scene]) -> None:
    design, scene = drawn
    assert len(scene.blocks) == len(design.coursing.patterns)
    outlines = sum(isinstance(p, Polyline) for b in scene.blocks for p in b.primitives)
    assert outlines == sum(len(p.pieces) for p in design.coursing.patterns)
    for laid in design.coursing.leaves:
        view = scene.view(laid.leaf)
        kinds = Counter((type(p).__name__, p.role) for p in view.primitives)
        assert kinds["BlockUse", Role.UNIT] == len(laid.placements)
        joints = [p for p in view.primitives if isinstance(p, Polyline) and p.title.startswith("movement joint")]
        assert [j.source for j in joints] == [j.id for j in design.plan.on_leaf(laid.leaf)]
        rods = [p for p in view.primitives if isinstance(p, Line) and p.role is Role.BED_REINFORCEMENT]
        beds = [b for b in design.fittings.bed_reinforcement if b.leaf == laid.leaf]
        assert len(rods) == sum(1 + len(b.lap_at) for b in beds), "each length, and a second line where it laps"
        leaf = design.building.leaf(laid.leaf)
        ties = [p for p in view.primitives if isinstance(p, Symbol) and p.role is Role.TIE]
        of_wall = next((w.ties for w in design.fittings.ties if w.wall == leaf.wall), ())
        assert len(ties) == sum(leaf.span.contains(t.at) for t in of_wall)


def test_joints_lie_where_the_design_has_them_at_their_true_width(drawn: tuple[Design, Scene]) -> None:
    design, scene = drawn
    for joint in design.plan.joints:
        half = joint.width.built / 2
        drawn_joint = next(p for p in scene.view(joint.leaf).primitives if isinstance(p, Polyline) and p.source == joint.id)
        xs, ys = [p[0] for p in drawn_joint.points], [p[1] for p in drawn_joint.points]
        assert (min(xs), max(xs)) == pytest.approx((joint.at - half, joint.at + half))
        assert (min(ys), max(ys)) == (joint.levels.start, joint.levels.end)


def test_composing_twice_gives_the_same_scene(drawn: tuple[Design, Scene]) -> None:
    design, scene = drawn
    assert repr(compose(design)) == repr(scene)


def test_no_text_overlaps_another_on_any_sheet(drawn: tuple[Design, Scene]) -> None:
    _, scene = drawn
    for sheet in scene.sheets:
        boxes = text_boxes(scene, sheet)
        assert len(boxes) > 20
        clashes = [(a[1], b[1]) for a, b in combinations(boxes, 2) if overlap(a[0], b[0])]
        assert clashes == [], sheet.id


def test_no_text_is_smaller_than_can_be_read(drawn: tuple[Design, Scene]) -> None:
    _, scene = drawn
    heights = [p.height for v in (*scene.views, *scene.sheets) for p in v.primitives if isinstance(p, Text | Dimension)]
    assert min(heights) >= SMALLEST_TEXT
    assert Counter(heights).most_common(3)[0][0] >= 2.0


def test_extents_hold_everything_in_a_view(drawn: tuple[Design, Scene]) -> None:
    design, scene = drawn
    sizes = {b.name: (p.length, p.height) for b, p in zip(scene.blocks, design.coursing.patterns, strict=True)}
    for view in scene.views:
        for primitive in view.primitives:
            box = reach(primitive, view, sizes)
            assert box.left >= view.extents.left - EDGE and box.right <= view.extents.right + EDGE, primitive
            assert box.bottom >= view.extents.bottom - EDGE and box.top <= view.extents.top + EDGE, primitive


def test_views_do_not_touch_in_the_model(drawn: tuple[Design, Scene]) -> None:
    _, scene = drawn
    boxes = []
    for view in scene.views:
        (x, y), e = view.place, view.extents
        boxes.append(Rect(x + e.left, y + e.bottom, x + e.right, y + e.top))
    assert not any(overlap(a, b) for a, b in combinations(boxes, 2))


def test_windows_show_the_whole_view_inside_the_frame(drawn: tuple[Design, Scene]) -> None:
    _, scene = drawn
    for sheet in scene.sheets:
        for window in sheet.windows:
            view = scene.view(window.view)
            assert window.scale == view.scale
            if not view.cuts:
                assert window.paper.width * window.scale == pytest.approx(view.extents.width)
            assert window.paper.left >= 20 and window.paper.right <= 410
            assert window.paper.bottom >= 10 and window.paper.top <= 287 - 2


def test_tables_stand_clear_of_the_view_and_the_title_block(drawn: tuple[Design, Scene]) -> None:
    _, scene = drawn
    for sheet in scene.sheets:
        boxes = [text_box(p, FONTS) for p in written(sheet.primitives)]
        whole = [w for w in sheet.windows if not scene.view(w.view).cuts]
        for window in whole:
            assert not [b for b in boxes if overlap(b, window.paper)], sheet.id


def test_a_view_leaves_a_column_free_rather_than_send_tables_to_a_second_sheet(duplex: Design) -> None:
    """The inner leaf of W1 is 8.5 m long: at 1:50 there is room beside it, and more tables than fit under it."""
    scene = compose(duplex)
    sheet = next(s for s in scene.sheets if s.id == "W1/inner")
    window = sheet.windows[0].paper
    beside = [p for p in written(sheet.primitives) if p.at[0] > window.right and p.at[1] > window.bottom]
    assert len(beside) > 10


def test_everything_says_what_it_shows(drawn: tuple[Design, Scene]) -> None:
    _, scene = drawn
    assert all(p.source for v in scene.views for p in v.primitives)
    assert all(p.source for b in scene.blocks for p in b.primitives)


def test_every_view_and_sheet_carries_the_caution(drawn: tuple[Design, Scene]) -> None:
    _, scene = drawn
    for part in (*scene.views, *scene.sheets):
        words = " ".join(p.text for p in written(part.primitives))
        assert AID in words, part.id
    assert scene.cautions[0] == AID


def test_a_wall_of_17_8_m_prints_at_1_to_50_on_a3(long_wall: Design) -> None:
    scene = compose(long_wall)
    assert scene.view("W1/outer").scale == 50
    assert scene.view("W1/inner").scale == 50


def test_running_figures_start_at_the_setting_out_end(small: Design) -> None:
    turned = [
        p
        for p in compose(small).view("W1/outer").primitives
        if isinstance(p, Text) and p.rotation == 90 and p.at[1] < -150 and p.role is not Role.MARK
    ]
    turned = [p for p in turned if p.align == "right"]
    # Ends, reveals of the door and of the two windows that act as one, and the joint (bold).
    assert [t.text for t in turned] == ["0", "1347.5", "2257.5", "2790", "3490", "5399", "6140"]
    assert [t.text for t in turned if t.bold] == ["2790"]


def test_strings_of_dimensions_add_up_to_the_overall_length(small: Design) -> None:
    dims = [p for p in compose(small).view("W1/outer").primitives if isinstance(p, Dimension) and p.axis == "x"]
    strings = Counter(d.line_at for d in dims)
    assert len(strings) == 3
    for line_at in strings:
        assert sum(float(d.text) for d in dims if d.line_at == line_at) == pytest.approx(6140)


def test_strips_are_said_to_be_no_masonry(small: Design) -> None:
    primitives = compose(small).view("W1/outer").primitives
    assert any(isinstance(p, Text) and p.text == "no masonry" for p in primitives)
    strip = next(p for p in primitives if isinstance(p, Fill) and p.tint == "strip")
    assert (strip.points[0], strip.points[2]) == ((4700.0, 750.0), (4789.0, 2100.0))


def test_findings_appear_only_on_the_leaf_they_name(small: Design) -> None:
    scene = compose(small)

    def words(leaf: str) -> str:
        sheets = [s for s in scene.sheets if s.id.startswith(leaf)]
        return " ".join(p.text for s in sheets for p in written(s.primitives))

    assert "675 mm" in words("W1/outer") and "675 mm" not in words("W1/inner")
    assert "910 mm apart" in words("W1/inner") and "910 mm apart" not in words("W1/outer")
    assert "Not for the sheet" not in words("W1/outer")


def test_every_joint_length_of_reinforcement_and_lintel_is_in_a_table(long_wall: Design) -> None:
    scene = compose(long_wall)
    cells = {(p.source, p.text) for s in scene.sheets for p in written(s.primitives)}
    for joint in long_wall.plan.joints:
        assert (joint.id, joint.id) in cells
    for lintel in long_wall.fittings.lintels:
        assert (lintel.id, f"{lintel.length:g}") in cells
    firsts = [b for b in long_wall.fittings.bed_reinforcement if (b.id, f"{b.span.length / 1000:.2f} m") in cells]
    assert len(firsts) * 2 == len(long_wall.fittings.bed_reinforcement)


def test_lifting_caution_only_where_a_unit_is_heavy(small: Design) -> None:
    scene = compose(small)
    # A 440 x 215 x 140 block of dense concrete: 13.2 litres, well over 20 kg; a brick is not.
    lifting = [c for c in scene.cautions if "20 kg" in c]
    assert lifting and "dense_block_140" in lifting[0] and "facing" not in lifting[0]
    outer = " ".join(p.text for s in scene.sheets if s.id.startswith("W1/outer") for p in written(s.primitives))
    assert "dense_block_140 up to 30.5 kg" in lifting[0]
    assert "20 kg" not in outer and "dust" in outer


def test_cutting_caution_counts_the_pieces_of_the_leaf_and_of_the_building(small: Design) -> None:
    """The hand-made leaves say 43 cut pieces each."""
    scene = compose(small)
    assert [c for c in scene.cautions if c.startswith("Cutting (86 pieces)")]
    outer = " ".join(p.text for s in scene.sheets if s.id.startswith("W1/outer") for p in written(s.primitives))
    assert "Cutting (43 pieces)" in outer


def test_a_unit_of_unknown_mass_is_not_passed_as_light() -> None:
    masses = (UnitMass("b", None, False, 20.0), UnitMass("a", 20.0, True, 20.0), UnitMass("c", 20.25, True, 20.0))
    heavy, unknown = lifting_cautions(METRIC, masses)
    assert "(c 20.3 kg)" in heavy or "(c 20.2 kg)" in heavy
    assert "(b)" in unknown
    assert list(lifting_cautions(METRIC, [UnitMass("c", 99.0, True, None)])) == []


def test_sheets_are_numbered_by_leaf(small: Design) -> None:
    for sheet in compose(small).sheets:
        words = [p.text for p in written(sheet.primitives)]
        numbers = [w for w in words if re.fullmatch(r"\d of \d", w)]
        assert len(numbers) == 1
        assert numbers[0].startswith("2") == sheet.id.endswith("-2")
