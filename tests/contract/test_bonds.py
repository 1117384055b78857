"""What every bond file owes, run on whatever the folder holds: rows of pieces, closers, whole courses, laps, grid.

Whole courses are put together here from the lengths a bond gives, by the rule `Motif` states, and nothing of the coursing.
The quarter of a unit as least lap: Concrete Society (read). Closers second from the end, headers over the middle of stretchers:
common practice, no source. Sizes in which a unit is two, three or four ends long with a joint between each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import accumulate, product
from typing import Any, NamedTuple

import pytest

from elevgen.bonds import Brick, Motif, bond_names, load_bond
from elevgen.checks.bond_unit import PARTS, WITHOUT_HEADERS
from elevgen.checks.stack_bond import UNLAPPED
from elevgen.core.geometry import Span

INCH = 25.4
METRIC = Brick(215.0, 102.5, 10.0, 102.5)
MODULAR = Brick(7.625 * INCH, 3.625 * INCH, 0.375 * INCH, 3.625 * INCH)
LARGE = Brick(230.0, 110.0, 10.0, 110.0)
BLOCK = Brick(390.0, 190.0, 10.0, 190.0)
THREE_TO_ONE = Brick(290.0, 140.0, 10.0, 90.0)
FOUR_TO_ONE = Brick(440.0, 215.0, 10.0, 100.0)
SIZES = {"metric": METRIC, "modular": MODULAR, "230x110": LARGE, "390x190": BLOCK}
OWN_SIZES = {"third": {"290x90": THREE_TO_ONE}, "quarter": {"440x100": FOUR_TO_ONE}}
CASES = [pytest.param(name, brick, id=f"{name}-{k}") for name in bond_names() for k, brick in OWN_SIZES.get(name, SIZES).items()]
GIVE = {"440x100": 3.0}
"""Four ends and three joints are 430 mm, not 440: perpends take up so much, either way; elsewhere nothing has to give (mm)."""
EACH = 0.01
found = pytest.mark.parametrize("name", bond_names())
sized = pytest.mark.parametrize(("name", "brick"), CASES)


def motifs(name: str, brick: Brick) -> list[Motif]:
    bond = load_bond(name)
    return [bond.course(k, through, brick) for k in range(bond.PERIOD) for through in (True, False)]


def near(a: float, b: float) -> bool:
    return abs(a - b) <= EACH


# ---- the file and what it says of itself


def test_the_bonds_there_are() -> None:
    """Those the issue names: stretcher, English, Flemish, header, garden walls, third, quarter, stack."""
    assert set(bond_names()) >= {
        *("stretcher", "english", "flemish", "header", "third", "quarter", "stack"),
        *("english_garden_wall_3", "english_garden_wall_5", "flemish_garden_wall"),
    }


def test_an_unknown_bond_is_refused() -> None:
    with pytest.raises(ModuleNotFoundError):
        load_bond("herringbone_of_nowhere")


@found
def test_a_bond_goes_by_its_file_name_and_says_what_it_is(name: str) -> None:
    bond = load_bond(name)
    assert name == bond.NAME
    assert " bond" in bond.TITLE
    assert "_" not in bond.TITLE
    assert bond.THICKNESS in ("half_brick", "one_brick")
    assert isinstance(bond.HEADERS, bool)
    assert isinstance(bond.LAPS, bool)
    assert bond.__doc__


@sized
def test_courses_come_round_after_the_period_and_not_before(name: str, brick: Brick) -> None:
    """Corners take turns, so that it is even."""
    bond = load_bond(name)
    assert bond.PERIOD % 2 == 0
    for first in (True, False):
        courses = [bond.course(k, first == (k % 2 == 0), brick) for k in range(4 * bond.PERIOD)]
        assert courses[: -bond.PERIOD] == courses[bond.PERIOD :]
        assert all(courses[:-k] != courses[k:] for k in range(2, bond.PERIOD, 2))


@pytest.mark.parametrize("brick", SIZES.values(), ids=SIZES)
def test_parts_of_a_unit_and_their_joints_make_it_up(brick: Brick) -> None:
    assert 2 * brick.half + brick.joint == pytest.approx(brick.length)
    assert 2 * brick.closer + brick.joint == pytest.approx(brick.header)
    assert brick.three_quarter + brick.joint + brick.closer == pytest.approx(brick.length)
    for parts in (2, 3, 4):
        for count in range(1, parts):
            rest = brick.part(parts - count, parts)
            assert brick.part(count, parts) + brick.joint + rest == pytest.approx(brick.length)
    assert brick.part(1, 2) == pytest.approx(brick.half)


# ---- rows of pieces


@sized
def test_rows_are_pieces_a_unit_gives(name: str, brick: Brick) -> None:
    for motif in motifs(name, brick):
        assert motif.repeat
        for rows in (motif.ends, motif.through, motif.returned):
            assert rows
            assert len(set(rows)) == len(rows)
            assert all(rows)
        for row in (motif.repeat, motif.link, *motif.ends, *motif.through, *motif.returned):
            assert all(0 < piece <= brick.length + EACH for piece in row)


@sized
def test_what_repeats_and_links_is_whole_and_headers_show_only_where_the_bond_says_so(name: str, brick: Brick) -> None:
    bond = load_bond(name)
    for motif in motifs(name, brick):
        inner = {round(piece, 3) for piece in (*motif.repeat, *motif.link)}
        assert inner <= {round(brick.length, 3), round(brick.header, 3)}
    shown = {piece for motif in motifs(name, brick) for piece in motif.repeat}
    assert any(near(piece, brick.header) for piece in shown) == bond.HEADERS


@sized
def test_closers_stand_second_from_the_end_and_nowhere_else(name: str, brick: Brick) -> None:
    """After a header, or in English garden walls after the quoin stretcher; beyond a return they come first, after its header."""
    bond = load_bond(name)

    def closers(row: Sequence[float]) -> list[int]:
        return [k for k, piece in enumerate(row) if near(piece, brick.closer)]

    for motif in motifs(name, brick):
        assert not closers((*motif.repeat, *motif.link))
        for row in (*motif.ends, *motif.through):
            assert closers(row) in ([], [1])
            if closers(row):
                quoin = brick.length if name.startswith("english_garden") and row in motif.through else brick.header
                assert near(row[0], quoin)
        for row in motif.returned:
            assert closers(row) in ([], [0])
    closed = any(closers(row) for motif in motifs(name, brick) for row in (*motif.ends, *motif.through, *motif.returned))
    assert closed == (bond.HEADERS and name != "header")


# ---- whole courses over one another


class Whole(NamedTuple):
    """A course as laid: its length, where its pieces end before its last, as centre lines, and how its two ends are."""

    length: float
    lines: tuple[float, ...]
    pieces: tuple[float, ...]

    def stretched(self, length: float, joint: float, give: float) -> Whole | None:
        """The same to another length, perpends taking up the difference; None where they may not give so much."""
        each = (length - self.length) / max(len(self.lines), 1)
        if abs(each) > max(give, EACH / 10):
            return None
        ends = accumulate(self.pieces[:-1], lambda at, piece: at + joint + each + piece)
        return Whole(length, tuple(end + (joint + each) / 2 for end in ends), self.pieces)


def put_together(pieces: Sequence[float], joint: float) -> Whole:
    ends = list(accumulate(pieces, lambda at, piece: at + joint + piece))
    return Whole(ends[-1], tuple(end + joint / 2 for end in ends[:-1]), tuple(pieces))


def end_rows(motif: Motif, how: str, course: int, brick: Brick) -> list[tuple[float, ...]]:
    """What may end a course there, from the outside inwards: `even` corners run through in courses 0, 2, 4..., `odd` in the
    others; between, the end of a unit from round the corner shows first, or of as many as lie abreast there."""
    if how == "stopped":
        return list(motif.ends)
    if (how == "even") == (course % 2 == 0):
        return list(motif.through)
    return [(*(brick.width,) * motif.abreast, *row) for row in motif.returned]


@cache
def whole_courses(name: str, brick: Brick, ends: tuple[str, str], course: int, most: float) -> tuple[Whole, ...]:
    """Every course that can be put together between two such ends up to a length: a row, repeats, link, repeats, a row."""
    first = next((how for how in ends if how != "stopped"), "even")
    motif = load_bond(name).course(course, (first == "even") == (course % 2 == 0), brick)
    found = {}
    pitch = sum(motif.repeat) + len(motif.repeat) * brick.joint
    for left, right in product(*(end_rows(motif, how, course, brick) for how in ends)):
        for before, after in product(range(int(most // pitch) + 1), repeat=2):
            pieces = (*left, *motif.repeat * before, *motif.link, *motif.repeat[::-1] * after, *right[::-1])
            made = put_together(pieces, brick.joint)
            if made.length <= most + EACH:
                found[tuple(round(line, 2) for line in (*made.lines, made.length))] = made
    return tuple(found.values())


def lap(one: Whole, other: Whole) -> float:
    return min((abs(a - b) for a in one.lines for b in other.lines), default=float("inf"))


def courses_of(name: str, brick: Brick, ends: tuple[str, str], length: float, most: float) -> list[list[Whole]]:
    """For each course of a period all that fill a wall of this length."""
    give = GIVE["440x100"] if brick == FOUR_TO_ONE else 0.0
    period = range(load_bond(name).PERIOD)
    made = [[c.stretched(length, brick.joint, give) for c in whole_courses(name, brick, ends, k, most)] for k in period]
    return [[c for c in courses if c is not None] for courses in made]


def bonded(courses: Sequence[Sequence[Whole]], least: float) -> list[Whole] | None:
    """One of each that all lap the next by so much, the last the first again; None if there are none."""
    for first in courses[0]:
        ways: list[list[Whole]] = [[first]]
        for options in courses[1:]:
            best: dict[Whole, list[Whole]] = {}
            for way, one in product(ways, options):
                if lap(way[-1], one) >= least - EACH:
                    best.setdefault(one, [*way, one])
            ways = list(best.values())
        for way in ways:
            if lap(way[-1], first) >= least - EACH:
                return way
    return None


def lengths_of(name: str, brick: Brick, ends: tuple[str, str]) -> tuple[list[float], float]:
    """The lengths its first course may have, over as much as its pieces repeat after four repeats and over four units; and
    the greatest of them."""
    motif = load_bond(name).course(0, True, brick)
    pitch = sum(motif.repeat) + len(motif.repeat) * brick.joint
    low = 4 * max(pitch, brick.length + brick.joint)
    most = low + 2 * max(pitch, brick.length + brick.joint)
    found = {round(c.length, 4) for c in whole_courses(name, brick, ends, 0, most) if low <= c.length}
    return sorted(found), most


def by_case(case: Any, reason: str, expected: bool, *more: Any) -> Any:
    """The case, expected to fail if so said."""
    marks = [pytest.mark.xfail(reason=reason)] if expected else []
    return pytest.param(*case.values, *more, id="-".join((case.id, *more)), marks=marks)


ENDS = tuple(product(("even", "odd", "stopped"), repeat=2))
BETWEEN = [pytest.param(*case.values, *ends, id="-".join((case.id, *ends))) for case in CASES for ends in ENDS]


@pytest.mark.parametrize(("name", "brick", "left", "right"), BETWEEN)
def test_whole_courses_lap_by_a_quarter_of_the_unit_between_any_two_ends(name: str, brick: Brick, left: str, right: str) -> None:
    """At lengths that suit the bond, which come at least as often as its pieces repeat, or twice a unit."""
    least = brick.length / 4 if load_bond(name).LAPS else 0.0
    lengths, most = lengths_of(name, brick, (left, right))
    assert [length for length in lengths if bonded(courses_of(name, brick, (left, right), length, most), least)]


@pytest.mark.parametrize("brick", SIZES.values(), ids=SIZES)
@pytest.mark.parametrize("ends", ENDS, ids="-".join)
def test_perpends_of_stack_bond_stand_in_line(brick: Brick, ends: tuple[str, str]) -> None:
    """All of every course but the one beside the end of a unit from round a corner; a half beyond it makes up the unit."""
    lengths, most = lengths_of("stack", brick, ends)
    module = brick.length + brick.joint
    for length in lengths:
        for options in courses_of("stack", brick, ends, length, most):
            assert len(options) == 1
            (course,) = options
            lines = list(course.lines)
            for at, first in ((brick.width + brick.joint / 2, 0), (length - brick.width - brick.joint / 2, -1)):
                if course.pieces[first] == pytest.approx(brick.width):
                    lines.remove(pytest.approx(at))
            assert lines == pytest.approx([k * module - brick.joint / 2 for k in range(1, len(lines) + 1)])
            assert length == pytest.approx((len(lines) + 1) * module - brick.joint)


@pytest.mark.parametrize("name", [name for name in bond_names() if load_bond(name).HEADERS])
def test_headers_stand_over_the_middle_of_stretchers_and_the_quoin_has_its_closer(name: str) -> None:
    """One wall between corners, read piece by piece: the closer (header bond: the three-quarter) makes the offset."""
    lengths, most = lengths_of(name, METRIC, ("even", "even"))
    way = next(w for length in lengths if (w := bonded(courses_of(name, METRIC, ("even", "even"), length, most), 53.75)))
    pieces = [tuple(round(piece, 2) for piece in course.pieces) for course in way]
    returned = [course for course in pieces if course[0] == 102.5]
    if name == "header":
        assert all(course[0] == course[-1] == 158.75 for course in pieces if course not in returned)
    elif name.startswith("english_garden"):
        closed = [course for course in pieces if 46.25 in course]
        assert all(course[1] == course[-2] == 46.25 for course in closed)
        assert len(closed) == 1
    else:
        assert all(course[1] == course[-2] == 46.25 for course in returned)
    assert returned


def test_bonds_in_words() -> None:
    """What the trade says of each, piece by piece, metric brick, between stopped ends; common practice, no source."""
    head, whole, closer = 102.5, 215.0, 46.25

    def some(name: str, course: int, *starts: float) -> bool:
        made = whole_courses(name, METRIC, ("stopped", "stopped"), course, 3500.0)
        return any(c.pieces[: len(starts)] == pytest.approx(starts) for c in made if len(c.pieces) > len(starts))

    assert some("stretcher", 0, whole, whole)
    assert some("stretcher", 0, head, whole)
    assert some("english", 0, whole, whole, whole)
    assert some("english", 1, head, closer, head, head)
    assert some("flemish", 0, whole, head, whole, head)
    assert some("flemish", 1, head, closer, whole, head, whole)
    assert some("flemish_garden_wall", 0, whole, head, whole, whole, whole, head)
    assert some("flemish_garden_wall", 1, head, closer, whole, whole, head, whole, whole, whole, head)
    assert some("header", 1, 158.75, head, head)
    for stretchers in (3, 5):
        name = f"english_garden_wall_{stretchers}"
        kinds = [load_bond(name).course(k, k % 2 == 0, METRIC).repeat for k in range(2 * stretchers + 2)]
        assert kinds == ([(whole,)] * stretchers + [(head,)]) * 2


# ---- the grid


@sized
def test_a_unit_is_a_whole_number_of_steps_of_the_grid(name: str, brick: Brick) -> None:
    grid = load_bond(name).grid(Span(317.0, 9000.0), brick.length, brick.joint)
    steps = (brick.length + brick.joint) / grid.step
    assert steps == pytest.approx(round(steps))
    assert grid.line(1) - grid.origin == pytest.approx(grid.step)
    assert grid.line(round(steps)) == pytest.approx(317.0 + brick.length + brick.joint / 2)


def ends_and_perpends(name: str, brick: Brick, most: float) -> Iterator[float]:
    """Where perpends stand, and a movement joint may, in walls without a broken bond that start and stop afresh."""
    ends = "stopped", "stopped"
    for length in sorted({round(c.length, 4) for c in whole_courses(name, brick, ends, 0, most)}):
        if way := bonded(courses_of(name, brick, ends, length, most), brick.length / 4 if load_bond(name).LAPS else 0.0):
            yield length + brick.joint / 2
            yield from (line for course in way for line in course.lines)


GAPS = "every half unit is more than a bond with three stretchers between headers has perpends at: two in seven are at none"


@pytest.mark.parametrize(("name", "brick"), [by_case(case, GAPS, case.values[0] == "flemish_garden_wall") for case in CASES])
def test_lines_of_the_grid_are_where_perpends_of_some_course_stand(name: str, brick: Brick) -> None:
    """From three units off the start on, over the three units after."""
    unit = brick.length + brick.joint
    grid = load_bond(name).grid(Span(0.0, 9000.0), brick.length, brick.joint)
    stand = sorted(ends_and_perpends(name, brick, 8.2 * unit))
    lines = [line for k in range(1, 40) if 2.9 * unit <= (line := grid.line(k)) <= 6.1 * unit]
    assert lines
    assert [line for line in lines if not any(near(line, at) for at in stand)] == []


def test_the_checks_know_which_bonds_lap_and_which_have_headers() -> None:
    """Checks share no code with the bonds: the few names they go by are held to the files here."""
    assert {name for name in bond_names() if not load_bond(name).LAPS} == {UNLAPPED}
    assert {name for name in bond_names() if not load_bond(name).HEADERS} == set(WITHOUT_HEADERS)
    assert set(PARTS) < set(WITHOUT_HEADERS)
