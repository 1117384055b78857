"""Cuts: the table adds up to what is cut, sizes are those of the patterns, figures stand in the pieces they are of."""

import re
from collections import Counter
from math import ceil, hypot

import pytest
from reading import built, courses_of

from elevgen.core.geometry import Rect
from elevgen.drawing.compose import compose
from elevgen.drawing.cut_marks import CutOnFace, cuts_on_face, stacks
from elevgen.drawing.facts import LeafFacts, leaf_facts
from elevgen.drawing.scene import Line, Role, Scene, Text, View
from elevgen.drawing.schedule_cuts import cut_table
from elevgen.result import Design


@pytest.fixture(scope="module")
def gable() -> Design:
    """A thick wall with closers, an opening off the bond, a sloping top and a course that has to be cut in height."""
    opening = {"id": "A", "kind": "window", "at": 1285, "width": 913, "sill": 610, "height": 987}
    top = [[0, 1800], [2515, 2900], [5030, 1800]]
    wall: dict[str, object] = {"id": "W1", "start": [0, 0], "end": [5030, 0], "openings": [opening], "top": top}
    return built([wall, {"id": "W2", "start": [5030, 0], "end": [5030, 2777], "top": 1830}], "english")


@pytest.fixture(params=["studio", "gable", "duplex"])
def design(request: pytest.FixtureRequest) -> Design:
    made: Design = request.getfixturevalue(request.param)
    return made


def cells_of(facts: LeafFacts) -> list[tuple[str, ...]]:
    return [row.cells for row in cut_table(facts).rows]


def test_the_numbers_add_up_to_what_is_cut(design: Design) -> None:
    for facts in leaf_facts(design):
        number: Counter[str] = Counter()
        for unit, _, _, count, _ in cells_of(facts):
            number[unit.removesuffix(", closer")] += int(count)
        assert number == {count.unit: count.cut for count in facts.coursing.counts if count.cut}


def test_every_size_cut_in_the_patterns_is_listed_with_its_number(design: Design) -> None:
    for facts in leaf_facts(design):
        wanted: Counter[float] = Counter()
        for placement in facts.coursing.placements:
            pattern = design.coursing.pattern(placement.pattern)
            for n, piece in enumerate((*pattern.pieces, *pattern.unseen)):
                if piece.kind == "cut" or (piece.kind == "full" and pattern.split):
                    wanted[ceil(pattern.real(n) * 10 - 0.001) / 10] += piece.deep
        listed: Counter[float] = Counter()
        for _, length, height, count, where in cells_of(facts):
            if height == "slope":
                continue
            lengths = [float(x) for x in re.findall(r"(?:^|; )([\d.]+) on (?=\d)", where)] or [float(length)]
            assert len(lengths) == 1 or float(length.split(" to ")[0]) == min(lengths)
            if len(lengths) == 1:
                listed[lengths[0]] += int(count)
            else:
                assert sum(wanted[x] for x in set(lengths)) >= int(count), "few of each share a row"
                listed.update(dict.fromkeys(lengths, 0))
        assert set(listed) == set(wanted)
        assert all(wanted[x] >= number for x, number in listed.items())


def test_most_come_first(design: Design) -> None:
    for facts in leaf_facts(design):
        many = [int(c[3]) for c in cells_of(facts) if " on " not in c[4] and c[2] != "slope"]
        assert many == sorted(many, reverse=True)


def test_where_a_cut_is_said_to_be_there_is_one(design: Design) -> None:
    for facts in leaf_facts(design):
        at: dict[int, list[tuple[float, float]]] = {}
        for cut in cuts_on_face(facts):
            at.setdefault(cut.course, []).append((cut.box.left, cut.length))
        for _, length, height, _, where in cells_of(facts):
            if height == "slope" or " on " in where or "cut in height" in where:
                continue
            for courses in re.findall(r"(?:^|; )([\d, …-]+): ", where):
                for course in courses_of(courses):
                    assert any(size == pytest.approx(float(length)) for _, size in at[course]), (facts.leaf.id, where)


@pytest.fixture(scope="module")
def scene(studio: Design) -> Scene:
    return compose(studio)


def figures_in(view: View) -> list[tuple[Text, float]]:
    texts = [p for p in view.primitives if isinstance(p, Text) and p.role is Role.MARK and re.fullmatch(r"[\d.]+", p.text)]
    return [(text, float(view.scale)) for text in texts]


def test_a_figure_stands_in_or_beside_a_piece_of_that_length(studio: Design, scene: Scene) -> None:
    for facts in leaf_facts(studio):
        cuts = list(cuts_on_face(facts))
        low = facts.face.bottom
        view = scene.view(facts.leaf.id)
        leaders = [p for p in view.primitives if isinstance(p, Line) and p.role is Role.MARK and p.source == facts.leaf.id]
        for text, scale in figures_in(view):
            if text.at[1] < low:
                continue
            reach = 4 * scale
            led_from = [text.at, *(p.a for p in leaders if hypot(p.b[0] - text.at[0], p.b[1] - text.at[1]) < 8 * scale)]
            near = [c for c in cuts if any(_near(c.box, at, reach) for at in led_from)]
            assert any(abs(c.length - float(text.text)) <= 0.51 for c in near), (facts.leaf.id, text)


def _near(box: Rect, at: tuple[float, float], reach: float) -> bool:
    return box.left - reach <= at[0] <= box.right + reach and box.bottom - reach <= at[1] <= box.top + reach


def test_most_blocks_that_are_cut_say_so_themselves(studio: Design, scene: Scene) -> None:
    facts = next(f for f in leaf_facts(studio) if f.leaf.id == "W1/inner")
    written = [t for t, _ in figures_in(scene.view("W1/inner")) if t.at[1] > facts.face.bottom]
    assert len(written) > 0.5 * len(list(cuts_on_face(facts)))


def test_cuts_over_one_another_in_alternate_courses_are_one_stack() -> None:
    def cut(course: int, left: float, length: float) -> CutOnFace:
        return CutOnFace(course, Rect(left, course * 75.0, left + length, course * 75 + 65.0), length)

    given = [cut(n, 2809.5, 102.5) for n in (2, 4, 6, 8)] + [cut(n, 2809.5, 102.5) for n in (12, 14)]
    given += [cut(3, 2809.5, 158.8), cut(3, 4000.0, 102.5), cut(5, 4000.4, 102.5)]
    found = sorted([c.course for c in stack] for stack in stacks(given))
    assert found == [[2, 4, 6, 8], [3], [3, 5], [12, 14]]


def test_a_stack_of_which_no_piece_has_room_is_marked_beside_or_with_a_leader(studio: Design, scene: Scene) -> None:
    """Left of MJ3 ties lie in the beds of every cut: no figure fits in a piece, one stands near and is led to the stack."""
    facts = next(f for f in leaf_facts(studio) if f.leaf.id == "W1/inner")
    (stack,) = [s for s in stacks(list(cuts_on_face(facts))) if len(s) > 3 and abs(s[0].box.right - 3159) < 2]
    box = Rect(stack[0].box.left, stack[0].box.bottom, stack[0].box.right, stack[-1].box.top)
    primitives = scene.view("W1/inner").primitives
    inside = [t for t, _ in figures_in(scene.view("W1/inner")) if any(_near(c.box, t.at, 0.0) for c in stack)]
    leaders = [p for p in primitives if isinstance(p, Line) and p.role is Role.MARK and _near(box, p.a, 0.0)]
    assert not inside and len(leaders) == 1
