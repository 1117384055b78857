"""The first two courses set out dry: what the words say, read back along a tape, is where the coursing has its perpends."""

import re
from random import Random

import pytest
from reading import built, places_of

from elevgen.core.geometry import Span
from elevgen.drawing.board import Board
from elevgen.drawing.dry_courses import dry_courses, dry_table
from elevgen.drawing.dry_strip import draw_dry_courses
from elevgen.drawing.elevation import elevation
from elevgen.drawing.facts import LeafFacts, leaf_facts
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Polyline, Role
from elevgen.result import Design

BONDS = ("stretcher", "flemish", "english", "flemish_garden_wall", "english_garden_wall_3", "header", "stack", "third")


def random_wall(seed: int) -> Design:
    """A wall of odd lengths with a door and a window, in one of the bonds; now and then a joint, and a return at its end."""
    random = Random(seed)
    length = random.uniform(3200, 13900)
    door = random.uniform(700, 1400)
    openings = [{"id": "D", "kind": "door", "at": door, "width": 910, "sill": random.choice([-225, 0]), "height": 2100}]
    if length > 5000:
        openings.append({"id": "W", "kind": "window", "at": length - 1900, "width": 1210, "sill": 600, "height": 1050})
    walls: list[dict[str, object]] = [{"id": "W1", "start": [0, 0], "end": [length, 0], "openings": openings}]
    if random.random() < 0.5:
        walls.append({"id": "W2", "start": [length, 0], "end": [length, random.uniform(1500, 4000)]})
    if random.random() < 0.4:
        walls[0]["joints"] = [{"at": door + 1700}]
    return built(walls, BONDS[seed % len(BONDS)])


def laid(design: Design, facts: LeafFacts, course: int) -> list[tuple[Span, list[float], list[tuple[float, float]]]]:
    """Of each stretch of a course: where it is, the middles of its perpends, (start, length) of its cuts; from the patterns."""
    found = []
    for placement in facts.coursing.placements:
        if placement.course == course:
            pattern, start = design.coursing.pattern(placement.pattern), placement.span.start
            perpends = [start + p.at + p.width / 2 for p in pattern.perpends]
            cuts = [(start + p.at, pattern.real(n)) for n, p in enumerate(pattern.pieces) if p.kind == "cut"]
            found.append((placement.span, perpends, cuts))
    return sorted(found)


@pytest.mark.parametrize("seed", range(28))
def test_the_words_say_where_every_perpend_and_cut_comes(seed: int) -> None:
    design = random_wall(seed)
    for facts in leaf_facts(design):
        rows = [row.cells for row in dry_table(facts).rows if row.cells[0] != "mark"]
        wanted = [(n, *stretch) for n in (1, 2) for stretch in laid(design, facts, n)]
        assert len(rows) == len(wanted) > 0
        for (course, begins, ends, middles, pieces), (number, span, perpends, cuts) in zip(rows, wanted, strict=True):
            assert course == f"{number}"
            assert float(begins.split()[0]) == pytest.approx(span.start, abs=0.06)
            assert float(ends.split()[0]) == pytest.approx(span.end, abs=0.06)
            assert places_of(middles) == pytest.approx(perpends, abs=0.51), facts.leaf.id
            said, cut = cuts_said(pieces, span), sorted(cuts)
            assert [at for at, _ in said] == pytest.approx([at for at, _ in cut], abs=0.61)
            assert [length for _, length in said] == pytest.approx([length for _, length in cut], abs=0.101)


def cuts_said(words: str, span: Span) -> list[tuple[float, float]]:
    """Where each cut begins and how long it is. The last one ends where the stretch does."""
    found = []
    for part in re.split("; (?=cut|return)", words):
        kind, _, rest = part.partition(" ")
        size, _, where = rest.partition(" ")
        for place in re.split(" and (?=at |last)", where) if kind == "cut" else []:
            at = {"first": [span.start], "last": [span.end - float(size)]}
            found += [(x, float(size)) for x in at.get(place) or places_of(place.removeprefix("at "))]
    return sorted(found)


def test_ends_are_named_after_what_stands_there() -> None:
    walls: list[dict[str, object]] = [
        {
            "id": "W1",
            "start": [0, 0],
            "end": [8990, 0],
            "joints": [{"at": 3500}],
            "openings": [
                {"id": "D7", "kind": "door", "at": 1340, "width": 910, "sill": -225, "height": 2100},
                {"id": "W9", "kind": "window", "at": 5990, "width": 1135, "sill": 600, "height": 1050},
            ],
        },
        {"id": "W2", "start": [8990, 0], "end": [8990, 4000]},
    ]
    facts = leaf_facts(built(walls))[0]
    table = dry_table(facts)
    first = [row.cells for row in table.rows if row.cells[0] == "1"]
    assert [cells[1].split()[1] for cells in first] == ["end", "D7", "MJ1"]
    assert [cells[2].split()[1] for cells in first] == ["D7", "MJ1", "corner"]
    assert table.rows[-1].cells[3] == "W9 5990 to 7125", "the door's reveals are ends already"


def test_a_stepped_base_has_its_first_two_courses_on_each_level() -> None:
    base = [[0, -225], [3365, -225], [3365, -675], [8990, -675]]
    design = built([{"id": "W1", "start": [0, 0], "end": [8990, 0], "base": base}])
    (facts,) = leaf_facts(design)
    stretches = dry_courses(facts)
    assert {s.course for s in stretches if s.span.end <= 3365.01} == {7, 8}
    assert {s.course for s in stretches if s.span.start >= 3364.99} == {1, 2}
    for stretch in stretches:
        (whole,) = [x for x in laid(design, facts, stretch.course) if x[0].contains(stretch.span.middle)]
        assert list(stretch.middles) == pytest.approx([at for at in whole[1] if stretch.span.contains(at)])
    at_step = [name for s in stretches for at, name in ((s.span.start, s.begins), (s.span.end, s.ends)) if abs(at - 3365) < 1]
    assert at_step == ["step"] * 4


def test_the_strip_shows_the_pieces_where_they_come_and_leaves_out_what_is_too_small() -> None:
    (facts,) = leaf_facts(built([{"id": "W1", "start": [0, 0], "end": [4327, 0]}], "flemish"))
    board = Board(Fonts(), 20, facts.leaf.id)
    lowest = draw_dry_courses(board, facts, -1000.0)
    pieces = [p for p in board.primitives if isinstance(p, Polyline) and p.role in (Role.UNIT, Role.CUT_UNIT)]
    drawn = {(round(min(x for x, _ in p.points), 1), round(max(x for x, _ in p.points), 1)) for p in pieces}
    wanted = {(round(p.span.start, 1), round(p.span.end, 1)) for s in dry_courses(facts) for p in s.pieces}
    assert drawn == wanted and len(pieces) == sum(len(s.pieces) for s in dry_courses(facts))
    assert min(y for p in pieces for _, y in p.points) == pytest.approx(lowest) and lowest < -1000
    small = Board(Fonts(), 100, facts.leaf.id)
    assert draw_dry_courses(small, facts, -1000.0) == -1000.0 and not small.primitives


def test_the_strip_goes_where_the_paper_has_no_room_for_it() -> None:
    (facts,) = leaf_facts(built([{"id": "W1", "start": [0, 0], "end": [4327, 0]}]))
    whole = elevation(facts, Fonts(), 20, ())
    short = type(whole.extents)(0.0, 0.0, 400.0, whole.extents.height / 20 - 5)
    less = elevation(facts, Fonts(), 20, (), rooms=(short,))
    assert any(getattr(p, "text", "") == "course 1" for p in whole.primitives)
    assert not any(getattr(p, "text", "") == "course 1" for p in less.primitives)
    assert less.extents.height <= short.height * 20
