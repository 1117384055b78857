"""Walls too long for a sheet: where they are parted, what stands at the ends of a part, figures of short stretches."""

import json
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevgen.core.geometry import Span
from elevgen.drawing.board import Board, text_box, written
from elevgen.drawing.compose import compose
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.font import Fonts
from elevgen.drawing.match_lines import match_lines, parts
from elevgen.drawing.narrow import Stretch, apart, figure_width, place_narrow
from elevgen.drawing.scene import Line, Role, Scene, Sheet
from elevgen.pipeline import design, vocabulary
from elevgen.result import Design
from elevgen.spec.load import parse_text

FONTS = Fonts()
OPENINGS = [(1340, 910), (5165, 1810), (9665, 1135), (14000, 1810), (19340, 2410), (26800, 1135), (33190, 910)]


def made(length: float, openings: list[tuple[float, float]], **sheet: object) -> Design:
    window = {"kind": "window", "sill": 900, "height": 1135}
    spec = {
        "spec": 1,
        "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
        "wall_types": {"single": {"outer": "brick"}},
        "walls": [
            {"id": "W1", "type": "single", "start": [0, 0], "end": [length, 0], "base": -225, "top": 2400}
            | {"openings": [{"id": f"O{n}", "at": at, "width": w, **window} for n, (at, w) in enumerate(openings)]}
        ],
        "sheet": sheet,
    }
    return design(parse_text(json.dumps(spec), "test", vocabulary()))


@pytest.fixture(scope="module")
def long() -> Design:
    return made(36000, OPENINGS)


@pytest.fixture(scope="module")
def scene(long: Design) -> Scene:
    return compose(long)


def in_parts(scene: Scene) -> list[Sheet]:
    return [s for s in scene.sheets if any(w.view == "W1/outer" for w in s.windows)]


def words(sheet: Sheet) -> set[str]:
    return {t.text for t in written(sheet.primitives)}


@pytest.mark.parametrize("longest", [7000.0, 12500.0, 18500.0, 35900.0])
def test_match_lines_keep_to_plain_masonry_in_as_few_parts_as_will_do(long: Design, longest: float) -> None:
    (facts,) = leaf_facts(long)
    cuts = match_lines(facts, FONTS, 50, longest)
    spans = parts(facts, cuts)
    assert (spans[0].start, spans[-1].end) == (facts.face.left, facts.face.right)
    assert all(0 < s.length <= longest + 1e-6 for s in spans)
    fewest = -(-facts.face.width // longest)
    assert len(spans) in (fewest, fewest + 1)
    blocked = [g.clear.along for g in facts.groups] + [x.span for x in facts.lintels] + [j.gap for j in facts.joints]
    assert not [(cut, b) for cut in cuts for b in blocked if b.start - 1 < cut < b.end + 1]
    mean = facts.face.width / len(spans)
    assert all(0.5 * mean < s.length < 1.6 * mean for s in spans)


def test_a_wall_of_openings_is_parted_between_them_though_there_is_a_figure() -> None:
    """Piers of 450 between windows of 1575: the figure of the pier gives way, the window does not."""
    (facts,) = leaf_facts(made(30150, [(525 + 2025 * n, 1575) for n in range(14)]))
    cuts = match_lines(facts, FONTS, 50, 12000.0)
    assert not [c for c in cuts for g in facts.groups if g.clear.left <= c <= g.clear.right]


def test_every_part_is_shown_once_at_1_to_50_and_together_they_are_the_wall(scene: Scene) -> None:
    view = scene.view("W1/outer")
    sheets = in_parts(scene)
    assert view.scale == 50 and len(sheets) == len(view.cuts) + 1 >= 3
    assert view.shown is not None
    edges = [(w.corner[0], w.corner[0] + w.paper.width * w.scale) for s in sheets for w in s.windows]
    assert [a for a, _ in edges] == pytest.approx([view.shown.left, *view.cuts])
    assert [b for _, b in edges] == pytest.approx([*view.cuts, view.shown.right])
    for sheet in sheets:
        assert all(w.paper.left >= 20 and w.paper.right <= 410 for w in sheet.windows)


def test_each_part_says_which_it_is_and_on_which_sheet_the_wall_goes_on(scene: Scene) -> None:
    view, sheets = scene.view("W1/outer"), in_parts(scene)
    ends = [0, *(f"{c:g}" for c in view.cuts), 36000]
    for n, sheet in enumerate(sheets, start=1):
        said = words(sheet)
        assert f"part {n} of {len(sheets)}, from {ends[n - 1]} to {ends[n]}" in said
        assert (f"Match line at {ends[n]}: continues on sheet {n + 1}" in said) == (n < len(sheets))
        assert (f"Match line at {ends[n - 1]}: continues on sheet {n - 1}" in said) == (n > 1)
        numbers = [w for w in said if w.startswith(f"{n} of ")]
        assert len(numbers) == 1, "sheets are numbered as match lines name them"
        chain = [p for p in sheet.primitives if isinstance(p, Line) and p.title == "match line"]
        places = {round(p.a[0], 3) for p in chain}
        window = sheet.windows[0].paper
        assert places == {round(x, 3) for x, cut in ((window.left, n > 1), (window.right, n < len(sheets))) if cut}
        assert all(p.role is Role.FRAME for p in chain)


def test_courses_can_be_counted_at_both_ends_of_every_part(scene: Scene) -> None:
    """The rods of the wall's ends are in the view; at match lines the same figures stand on the paper, at their level."""
    view = scene.view("W1/outer")
    rods = {(t.text, round(t.at[1], 3)) for t in written(view.primitives, 50.0) if t.role is Role.LEVEL and t.height < 2}
    lefts = {r for r in rods if not r[0].startswith(("+", "-", "±"))}
    assert len(lefts) > 8 and len(rods - lefts) > 8
    for n, sheet in enumerate(in_parts(scene), start=1):
        window = sheet.windows[0]
        here = {
            (t.text, round(window.corner[1] + (t.at[1] - window.paper.bottom) * 50, 3), t.at[0] < window.paper.left)
            for t in written(sheet.primitives)
            if t.role is Role.LEVEL
        }
        assert {(text, y) for text, y, left in here if left} == (lefts if n > 1 else set())
        assert {(text, y) for text, y, left in here if not left} == (rods - lefts if n <= len(view.cuts) else set())


def test_a_dimension_that_runs_on_has_its_figure_in_every_part(scene: Scene) -> None:
    view = scene.view("W1/outer")
    middle = [t.at[0] for t in written(view.primitives, 50.0) if t.text == "36000" and t.rotation == 0]
    assert len(middle) == 1, "overall"
    for sheet in in_parts(scene):
        window = sheet.windows[0]
        inside = window.corner[0] <= middle[0] <= window.corner[0] + window.paper.width * 50
        assert ("36000" in words(sheet)) != inside


def test_the_scale_asked_for_is_kept_in_parts() -> None:
    scene = compose(made(9000, OPENINGS[:2], scale=20))
    assert scene.view("W1/outer").scale == 20 and len(in_parts(scene)) == 2
    assert compose(made(32000, OPENINGS[:5], scale=100)).view("W1/outer").cuts == ()


stretches = st.lists(st.integers(1, 9), min_size=1, max_size=14)


@given(stretches, st.integers(50, 110))
@settings(max_examples=80, deadline=None)
def test_figures_of_short_stretches_are_all_there_and_stand_apart(lengths: list[int], cut: int) -> None:
    board = Board(FONTS, 50.0, cuts=(cut * 50.0,))
    ends = [0.0]
    for length in lengths:
        ends.append(ends[-1] + length * 40.0)
    wanted = [Stretch(Span(a, b), f"{b - a:g}") for a, b in pairwise(ends)]
    placed = place_narrow(board, wanted, Span(0.0, 1e9))
    assert [p.stretch for p in placed] == wanted
    boxes = [(p.row, p.at - figure_width(board, p.stretch) / 2, p.at + figure_width(board, p.stretch) / 2) for p in placed]
    for n, (row, left, right) in enumerate(boxes):
        assert left >= -1e-6
        assert not [o for o in boxes[n + 1 :] if o[0] == row and left < o[2] and o[1] < right]
        for other in placed:
            for level, x in enumerate(other.stalk):
                assert level != row or not left < x < right, "a stalk passes between figures"
    assert not [b for b in boxes if b[1] < cut * 50.0 < b[2]], "none across a match line"


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(1, 9)), min_size=1, max_size=8), st.floats(0, 3))
@settings(max_examples=80)
def test_things_are_moved_apart_in_their_order(things: list[tuple[float, float]], clear: float) -> None:
    things.sort()
    places, widths = [t[0] for t in things], [t[1] for t in things]
    moved = apart(places, widths, clear, Span(-1e9, 1e9))
    for (a, wa), (b, wb) in pairwise(zip(moved, widths, strict=True)):
        assert b - a >= (wa + wb) / 2 + clear - 1e-6
    if all(b - a >= (wa + wb) / 2 + clear for (a, wa), (b, wb) in pairwise(things)):
        assert moved == pytest.approx(places)


def test_no_height_is_left_out() -> None:
    """A sill 60 over the base: its figure is wider than its stretch at 1:50, and is there all the same."""
    low = {"id": "A", "kind": "door", "at": 1500, "width": 910, "sill": -165, "height": 2100}
    raw = {
        "spec": 1,
        "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
        "wall_types": {"single": {"outer": "brick"}},
        "walls": [
            {"id": "W1", "type": "single", "start": [0, 0], "end": [5000, 0], "base": -225, "top": 2400, "openings": [low]}
        ],
        "sheet": {"scale": 50},
    }
    designed = design(parse_text(json.dumps(raw), "test", vocabulary()))
    view = compose(designed).view("W1/outer")
    beside = [t for t in written(view.primitives, 50.0) if t.rotation == 90 and t.align == "centre" and t.at[0] > 5000]
    assert sorted(t.text for t in beside) == sorted(["60", "2100", "465"])
    boxes = [text_box(t, FONTS, 50.0) for t in beside]
    assert not [1 for n, a in enumerate(boxes) for b in boxes[n + 1 :] if a.levels.overlaps(b.levels)]
