"""Placing things on paper: figures drawn apart, labels kept off one another, tables that run on, footprints on plan."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from elevgen.building.model import Leaf, LeafEnd, Profile, Unit, Wall, Zone
from elevgen.core.geometry import Point, Rect, Span
from elevgen.drawing.board import Board, Room, text_box, written
from elevgen.drawing.font import Fonts
from elevgen.drawing.labels import Label, Spot, place_labels, strikes
from elevgen.drawing.narrow import settled
from elevgen.drawing.plan import footprint
from elevgen.drawing.scene import Line, Role, Text
from elevgen.drawing.tables import Column, Page, Row, Table, flow

FONTS = Fonts()
PLACES = st.lists(st.integers(min_value=0, max_value=60), min_size=1, max_size=7).map(sorted)


def best_by_trying_all(places: list[int], gap: float) -> tuple[float, ...]:
    """Least squares under gaps, by trying every way to cut the row into blocks that move together."""
    count = len(places)
    best: tuple[float, tuple[float, ...]] | None = None
    for cuts in range(2 ** (count - 1)):
        blocks: list[list[int]] = [[0]]
        for k in range(1, count):
            if cuts >> (k - 1) & 1:
                blocks.append([k])
            else:
                blocks[-1].append(k)
        found = [0.0] * count
        for block in blocks:
            mean = sum(places[k] - k * gap for k in block) / len(block)
            for k in block:
                found[k] = mean + k * gap
        if all(b - a >= gap - 1e-9 for a, b in pairwise(found)):
            cost = sum((f - p) ** 2 for f, p in zip(found, places, strict=True))
            if best is None or cost < best[0] - 1e-9:
                best = (cost, tuple(found))
    assert best is not None
    return best[1]


@given(PLACES, st.sampled_from([0.5, 3.4, 8.0]))
@settings(max_examples=60)
def test_figures_are_moved_as_little_as_possible(places: list[int], gap: float) -> None:
    assert settled(places, [k * gap for k in range(len(places))]) == pytest.approx(best_by_trying_all(places, gap))


boxes = st.tuples(*[st.integers(-50, 50)] * 2, *[st.integers(1, 30)] * 2).map(
    lambda t: Rect(t[0], t[1], t[0] + t[2], t[1] + t[3])
)


@given(st.lists(boxes, max_size=8), boxes)
def test_room_knows_what_is_taken(taken: list[Rect], asked: Rect) -> None:
    room = Room(13.0)
    for box in taken:
        room.take(box)
    truth = not any(asked.along.overlaps(t.along) and asked.levels.overlaps(t.levels) for t in taken)
    assert room.free(asked) == truth


def label(text: str, x: float, y: float, priority: int, leader: bool = True) -> Label:
    """A label at a point or over it, of a thing 5 mm below."""
    return Label(text, Role.TEXT, (Spot((x, y)), Spot((x, y + 3))), (x, y - 5), priority, 2.5, leader=leader)


def test_crowded_labels_step_aside_and_the_least_important_gives_way() -> None:
    board = Board(FONTS)
    crowd = [label(f"label {n}", 20 + n, 20, priority=n, leader=n < 3) for n in range(6)]
    left_out = place_labels(board, crowd, Rect(0, 0, 60, 40), Room(10))
    assert [x.text for x in left_out] == ["label 3", "label 4", "label 5"]
    texts = [p for p in board.primitives if isinstance(p, Text)]
    found = [text_box(t, FONTS) for t in texts]
    assert [t.text for t in texts] == ["label 0", "label 1", "label 2"]
    assert texts[0].at == (20, 20)
    for a, b in combinations(found, 2):
        assert not (a.along.overlaps(b.along) and a.levels.overlaps(b.levels))


def test_labels_stay_off_what_is_soft_while_there_is_another_spot() -> None:
    board, soft = Board(FONTS), Room(10)
    soft.take(Rect(19, 19, 21, 20.4))
    place_labels(board, [label("tie near", 20, 20, 0)], Rect(0, 0, 60, 40), soft)
    assert next(p for p in board.primitives if isinstance(p, Text)).at == (20, 23)


def test_a_leader_crosses_no_barrier_while_there_is_another_place() -> None:
    barrier = Rect(21, 0, 22, 40)
    for within, ends_left in ((Rect(0, 0, 60, 40), True), (Rect(19, 0, 60, 40), False)):
        board = Board(FONTS)
        board.room.take(Rect(18, 18.5, 22, 21.5))
        board.room.take(barrier)
        wanted = Label("bed 4: 2.33 m", Role.TEXT, (Spot((20, 20)),), (20, 20), 0, 2.0)
        assert place_labels(board, [wanted], within, Room(10), (barrier,)) == ()
        leader = next(p for p in board.primitives if isinstance(p, Line))
        assert (leader.b[0] < barrier.left) == ends_left
    walled = Board(FONTS)
    walled.room.take(Rect(18, 18.5, 22, 21.5))
    walled.room.take(barrier)
    assert place_labels(walled, [wanted], Rect(19, 0, 60, 40), Room(10), (), (barrier,)) == (wanted,), "never across a match line"


@given(st.lists(st.tuples(st.floats(2, 58), st.floats(2, 38)), max_size=12), st.integers(1, 5))
@settings(max_examples=40, deadline=None)
def test_labels_and_leaders_keep_clear_of_every_text(places: list[tuple[float, float]], count: int) -> None:
    """However crowded the board: no box meets another, no leader runs through a text, and what is not set is given back."""
    board, within = Board(FONTS), Rect(0, 0, 60, 40)
    for n, at in enumerate(places):
        board.text(Role.TEXT, at, f"T{n}", 2.0, "centre", "middle")
    fixed = len(board.primitives)
    wanted = [Label(f"R{n}  7.00 m", Role.TEXT, (), (10.0 + 9 * n, 20.0), 0, 2.0) for n in range(count)]
    left = place_labels(board, wanted, within, Room(10))
    set_now = [p for p in board.primitives[fixed:] if isinstance(p, Text)]
    assert sorted(t.text for t in set_now) == sorted({x.text for x in wanted} - {x.text for x in left})
    boxes = [text_box(p, FONTS) for p in board.primitives if isinstance(p, Text)]
    mine = boxes[len(boxes) - len(set_now) :]
    for box in mine:
        assert sum(box.along.overlaps(b.along) and box.levels.overlaps(b.levels) for b in boxes) == 1
        assert within.left <= box.left and box.right <= within.right and within.bottom <= box.bottom and box.top <= within.top
    leaders = [p for p in board.primitives if isinstance(p, Line)]
    assert len(leaders) == len(set_now)
    assert not [(line, b) for line in leaders for b in boxes if strikes(line.a, line.b, b)]


def test_a_label_is_set_wherever_a_place_is_free() -> None:
    """All of the board is taken but one hole, a little larger than the label, at the far end of its reach."""
    board, within = Board(FONTS), Rect(0, 0, 60, 40)
    for hole, found in ((Rect(44, 30, 57, 35), True), (Rect(44, 30, 52, 35), False)):
        board = Board(FONTS)
        for box in (
            Rect(0, 0, 60, hole.bottom),
            Rect(0, hole.top, 60, 40),
            Rect(0, 0, hole.left, 40),
            Rect(hole.right, 0, 60, 40),
        ):
            board.room.take(box)
        wanted = Label("MJ4 dpc", Role.TEXT, (), (5, 5), 0, 2.0)
        assert (place_labels(board, [wanted], within, Room(10)) == ()) == found


def test_a_short_table_is_not_parted_when_the_next_column_holds_it() -> None:
    columns = (Rect(0, 0, 90, 60), Rect(95, 0, 185, 60))
    for count, together in ((5, True), (12, False)):
        page = Page(Board(FONTS), columns)
        first = Table("First", (Column("id", 20),), tuple(Row((f"a{n}",)) for n in range(7)))
        second = Table("Second", (Column("id", 20),), tuple(Row((f"b{n}",)) for n in range(count)))
        flow([first, second], page, lambda: pytest.fail("one page is enough"))
        sides = {t.text: t.at[0] > 92 for t in written(page.board.primitives)}
        assert not any(sides[f"a{n}"] for n in range(7))
        parted = {sides[f"b{n}"] for n in range(count)}
        assert parted == ({True} if together else {False, True})
        assert ("Second (continued)" in sides) != together


def test_a_long_table_runs_on_to_further_pages_and_loses_no_row() -> None:
    pages = [Page(Board(FONTS), (Rect(0, 0, 90, 30), Rect(95, 10, 185, 30)))]

    def next_page() -> Page:
        pages.append(Page(Board(FONTS), (Rect(0, 0, 90, 60),)))
        return pages[-1]

    rows = tuple(Row((f"row {n}", "words that have to be wrapped " * (1 + n % 3)), f"s{n}") for n in range(25))
    flow([Table("Long", (Column("id", 20), Column("what", 70)), rows)], pages[0], next_page)
    texts = [p for page in pages for p in written(page.board.primitives)]
    assert [t.text for t in texts if t.text.startswith("row")] == [f"row {n}" for n in range(25)]
    assert len(pages) > 2
    assert sum(t.text == "Long" for t in texts) == 1
    for page in pages:
        inside = [text_box(t, FONTS) for t in written(page.board.primitives)]
        assert all(any(s.left <= b.left and b.right <= s.right and s.bottom <= b.bottom for s in page.spaces) for b in inside)
        assert not any(a.along.overlaps(b.along) and a.levels.overlaps(b.levels) for a, b in combinations(inside, 2))


def test_a_row_higher_than_any_space_still_ends() -> None:
    pages = [Page(Board(FONTS), (Rect(0, 0, 40, 20),))]

    def next_page() -> Page:
        pages.append(Page(Board(FONTS), (Rect(0, 0, 40, 20),)))
        return pages[-1]

    flow([Table("T", (Column("", 1),), (Row(("much " * 200,)), Row(("after",))))], pages[0], next_page)
    assert any(isinstance(p, Text) and p.text == "after" for page in pages for p in page.board.primitives)


def corner_leaf(span: Span, start: LeafEnd, end: LeafEnd) -> Leaf:
    unit = Unit("facing", "clay", 215, 65, 102.5, 10)
    flat = Profile(((0.0, 0.0), (7000.0, 0.0)))
    zones = (Zone(unit, Span(0, 2400)),)
    return Leaf("W1/outer", "W1", "outer", zones, "stretcher", 102.5, 0.0, span, start, end, flat, flat, (), True)


def test_words_after_figures_stand_apart_and_no_unit_name_is_broken() -> None:
    board = Board(FONTS)
    columns = (Column("unit", 24), Column("length", 12, "right"), Column("no.", 10, "right"), Column("on course", 40))
    rows = (Row(("dense_block_100", "215.6 to 328.8", "6", "215.6 on 11, 17: 4386; 326.3 on 11, 17: 3151")),)
    flow([Table("Cuts", columns, rows)], Page(board, (Rect(0, 0, 62, 100),)), lambda: Page(board, ()))
    texts = written(board.primitives)
    assert "dense_block_100" in [t.text for t in texts]
    number = next(text_box(t, FONTS) for t in texts if t.text == "6")
    first = next(text_box(t, FONTS) for t in texts if t.text.startswith("215.6 on"))
    assert first.left - number.right > 2.5


def test_a_label_says_less_rather_than_lead_across_a_barrier() -> None:
    """Left of a joint there is room for the short words only, right of it for the long ones."""
    board, within, barrier = Board(FONTS), Rect(0, 0, 100, 10), Rect(19, 0, 21, 10)
    for taken in (Rect(18, 0, 22, 10), Rect(2, 4.9, 6, 5.1)):
        board.room.take(taken)
    long = Label("beds 1, 2: 740 to 2850", Role.TEXT, (), (4, 5), 0, 2.0)
    assert not place_labels(board, [long._replace(short="beds 1, 2")], within, Room(10), [barrier])
    (said,) = [p for p in board.primitives if isinstance(p, Text)]
    assert said.text == "beds 1, 2" and text_box(said, FONTS).right < 19
    other = Board(FONTS)
    for taken in board.room.boxes[:2]:
        other.room.take(taken)
    assert not place_labels(other, [long], within, Room(10), [barrier])
    assert next(p for p in other.primitives if isinstance(p, Text)).text == long.text


@pytest.mark.parametrize(
    ("finish", "span_end", "inner_end"),
    [
        (LeafEnd("corner", 5897.5, 6000.0), 6000.0, 5897.5),
        (LeafEnd("corner", 6000.0, 6102.5), 6000.0, 6102.5),
        (LeafEnd("stopped", 6000.0, 6000.0), 6000.0, 6000.0),
    ],
    ids=["convex", "re-entrant", "stopped"],
)
def test_footprints_are_mitred_at_corners(finish: LeafEnd, span_end: float, inner_end: float) -> None:
    leaf = corner_leaf(Span(0, span_end), LeafEnd("stopped", 0, 0), finish)
    wall = Wall("W1", "", "t", (100.0, 0.0), (100.0, 6000.0), 6000.0, "face", (leaf.id,), None, 102.5, False, (), (), (), ())
    expected: tuple[Point, ...] = ((100, 0), (100, span_end), (-2.5, inner_end), (-2.5, 0))
    for point, want in zip(footprint(wall, leaf), expected, strict=True):
        assert point == pytest.approx(want)
