"""Courses of up to 12 units over, under and between obstacles, against every row of pieces there is on a lattice.

1,200 layouts: perpends below and above, places to be kept clear of them, ends of one to three pieces; stretcher, header and
Flemish courses, bricks and blocks. Parts of a course, with open ends, are cut anew by `cleared`. Perpends are nominal, so that
every row stands on the lattice. The lattice of the oracle is twice as fine as that of the obstacles, so that it holds the middle
between any two perpends.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import NamedTuple

import pytest
from course_oracle import NEAR, Faults, can_be_cut, every_row, faults_of, fewest_faults
from random_courses import BLOCKS, FAMILIES, FINE, FLEMISH, HEADER, OPEN, STRETCHER, Family, end

from elevgen.coursing.part_course import BESIDE, cleared
from elevgen.coursing.setout import set_out
from elevgen.coursing.stretch import Layout, Limits, Pieces, Stretch

MANY = 300
TWO_CUTS = 4
"""As a price: one broken bond of two pieces."""


class Course(NamedTuple):
    """A stretch, what it was set out as, what is wrong with that and with the best there is."""

    stretch: Stretch
    pieces: Pieces
    found: Faults
    best: Faults

    @property
    def hidden(self) -> bool:
        return self.stretch.left.hidden + self.stretch.right.hidden > 0


def courses(family: Family, seed: int, count: int) -> list[Course]:
    random = Random(seed)
    closed = family._replace(ends=tuple(e for e in family.ends if not e.open))
    return [judged(family, closed.draw(random)) for _ in range(count)]


def judged(family: Family, stretch: Stretch) -> Course:
    limits = family.limits
    layout = set_out(stretch, limits)
    check_filled(stretch, layout)
    assert layout.perpend == limits.joint
    best = fewest_faults(stretch, limits, family.step / 2)
    return Course(stretch, tuple(layout.lengths), faults_of(layout.lengths, stretch, limits), best)


def check_filled(stretch: Stretch, layout: Layout) -> None:
    lengths = layout.lengths
    assert min(lengths) > 0
    assert sum(lengths) + layout.perpend * (len(lengths) - 1) == pytest.approx(stretch.length, abs=1e-6)


@pytest.fixture(scope="module", params=FAMILIES, ids=[f.name for f in FAMILIES])
def family(request: pytest.FixtureRequest) -> tuple[Family, list[Course]]:
    return request.param, courses(request.param, 1, MANY)


def worse(found: list[Course], depth: int = 4) -> list[Course]:
    """Those set out worse than the best, by the first so many kinds of fault."""
    return [c for c in found if c.found[:depth] > c.best[:depth]]


def lapping(found: list[Course]) -> list[Course]:
    """Those that some row of pieces laps everywhere."""
    return [c for c in found if c.best.laps == 0]


def test_no_row_does_better_where_all_laps_can_be_kept(family: tuple[Family, list[Course]]) -> None:
    """Laps, lengths, cuts and perpends in the way, at every layout but the following.

    Ends round a corner are below. A Flemish course with one broken bond keeps the order of its bond, so may have two cuts where
    one would do in no order. In a header course two or more pieces in a row of almost a whole unit are not thought of. A course
    of blocks over so many perpends that only the places near at hand are looked at may have some cuts more.
    """
    kind, every = family
    found = [c for c in lapping(every) if not c.hidden]
    assert len(found) > MANY // 4
    assert any(c.best.price % 2 for c in found), "no perpend in the way was dearer to move than to leave"
    dearer = worse(found)
    if kind is FLEMISH:
        dearer = [c for c in dearer if c.found[:3] != c.best[:3] or c.found.price > TWO_CUTS]
    if kind is HEADER:
        assert len(dearer) <= len(found) // 40
        assert all(c.found[:2] == c.best[:2] for c in dearer)
    elif kind is BLOCKS:
        assert all(len(c.stretch.below) > 20 and c.found[:3] == c.best[:3] for c in dearer)
        assert len(dearer) <= 1
    else:
        assert dearer == []


def test_the_least_lap_is_the_best_there_is(family: tuple[Family, list[Course]]) -> None:
    """Where every lap can be kept it is; where not, no more than need be are short (header courses: in 98 of 100; blocks: all but
    one over more perpends than are looked at)."""
    kind, found = family
    missed = worse(found, 1)
    assert all(c.found.laps == 0 for c in lapping(found))
    assert len(missed) <= (len(found) // 50 if kind is HEADER else int(kind is BLOCKS))


def test_no_row_beats_the_oracle(family: tuple[Family, list[Course]]) -> None:
    """Else the lattice would be too coarse to judge by; where laps must be short, places midway between perpends lie off it.

    A whole stretcher in a header course is none of its pieces there.
    """
    kind, found = family
    better = [c for c in lapping(found) if c.found < c.best and not c.hidden]
    assert all(not can_be_cut(max(c.pieces), 0.0, c.stretch, kind.limits) for c in better)
    assert len(better) <= (len(found) // 100 if kind is HEADER else 0)


def test_laps_that_must_be_short_lack_as_little_as_can_be(family: tuple[Family, list[Course]]) -> None:
    """In five of six; rows moved together until two short laps balance are not looked for."""
    _, every = family
    found = [c for c in every if c.best.laps and not c.hidden]
    assert len(found) > MANY // 20
    assert len(worse(found, 2)) <= len(found) // 6


@pytest.mark.parametrize("family_", [STRETCHER, BLOCKS], ids=["stretcher", "block"])
def test_ends_round_a_corner(family_: Family) -> None:
    """What is hidden counts: a piece that shows 150 mm of 250 is long enough."""
    found = [c for c in lapping(courses(family_, 2, MANY // 2)) if c.hidden]
    assert len(found) > 20
    assert worse(found) == []


def test_perpends_that_may_open_do_no_harm() -> None:
    """With perpends of 7 to 15 mm no worse than the best with nominal ones, where all laps can be kept with those."""
    random = Random(3)
    for family in (STRETCHER, BLOCKS):
        open_limits = family.limits._replace(narrow=7.0, wide=15.0)
        opened = 0
        for _ in range(80):
            stretch = family.draw(random)
            stretch = stretch._replace(below=stretch.below[:2], clear=stretch.clear[:1])
            best = fewest_faults(stretch, family.limits, family.step / 2)
            if best.laps or stretch.left.hidden or stretch.right.hidden or not (stretch.left.rows and stretch.right.rows):
                continue
            layout = set_out(stretch, open_limits)
            check_filled(stretch, layout)
            assert 7 - NEAR <= layout.perpend <= 15 + NEAR
            opened += layout.perpend != family.limits.joint
            assert faults_of(layout.lengths, stretch, family.limits._replace(joint=layout.perpend)) <= best, stretch
        assert opened > 0


def test_the_oracle_finds_what_looking_at_row_after_row_finds() -> None:
    """Short stretches on a coarse lattice of their own, every row of pieces one by one."""
    random = Random(8)
    limits = STRETCHER.limits._replace(least=90.0)
    ends = end((90.0, 40.0), (90.0,)), end((215.0,), (90.0,)), end((40.0,)), OPEN
    for repeat in ((), (90.0,)):
        coarse = Family("coarse", 25.0, limits, ends[:1] + ends[2:] if repeat else ends[1:], (9, 9, 4, 5, 3), repeat)
        drawn = (coarse.draw(random, 2) for _ in range(400))
        for stretch in [s for s in drawn if s.length < (400 if repeat else 500)][:12]:
            rows = list(every_row(stretch, limits, 25.0))
            assert len(rows) > 50
            assert min(faults_of(row, stretch, limits) for row in rows) == fewest_faults(stretch, limits, 25.0), stretch


class Part(NamedTuple):
    """Part of a course that may be cut anew, as it was and as it is."""

    stretch: Stretch
    before: Pieces
    after: Pieces


def parts(family: Family, stretch: Stretch) -> Iterator[Part]:
    """What `cleared` may change: so many pieces each side of every perpend in the way. The rest has to be as it was."""
    limits = family.limits
    course = set_out(stretch._replace(clear=()), limits)
    old, new = course.lengths, cleared(stretch, course, limits).lengths
    assert faults_of(new, stretch, limits) <= faults_of(old, stretch, limits)
    taken, shift = 0, 0
    for first, last in changeable(old, stretch, limits):
        assert old[taken:first] == pytest.approx(new[taken + shift : first + shift], abs=1e-6)
        start = sum(old[:first]) + first * limits.joint
        length = sum(old[first : last + 1]) + (last - first) * limits.joint
        count = next(k for k in range(1, len(new) + 1) if sum(new[first + shift :][:k]) + (k - 1) * limits.joint > length - NEAR)
        inside = Stretch(
            length,
            stretch.left if first == 0 else OPEN,
            stretch.right if last == len(old) - 1 else OPEN,
            tuple(b - start for b in stretch.below),
            stretch.repeat,
            stretch.link,
            tuple(c._replace(left=c.left - start, right=c.right - start) for c in stretch.clear),
        )
        yield Part(inside, tuple(old[first : last + 1]), tuple(new[first + shift : first + shift + count]))
        taken, shift = last + 1, shift + count - (last + 1 - first)
    assert old[taken:] == pytest.approx(new[taken + shift :], abs=1e-6)


def changeable(pieces: list[float], stretch: Stretch, limits: Limits) -> list[tuple[int, int]]:
    """First and last piece of each part."""
    found: list[tuple[int, int]] = []
    at = 0.0
    for k, length in enumerate(pieces[:-1]):
        line = at + length + limits.joint / 2
        at += length + limits.joint
        if any(c.left + NEAR < line < c.right - NEAR for c in stretch.clear):
            first, last = max(0, k + 1 - BESIDE), min(len(pieces) - 1, k + BESIDE)
            if found and first <= found[-1][1] + 1:
                first = found.pop()[0]
            found.append((first, last))
    return found


@pytest.mark.parametrize("kind", [*FAMILIES, FINE], ids=[f.name for f in (*FAMILIES, FINE)])
def test_part_of_a_course_is_cleared_as_well_as_can_be(kind: Family) -> None:
    """Never worse than before, and where laps can be kept as good as any row of pieces in that part (headers: see above)."""
    random = Random(5)
    compared = changed = dearer = 0
    for _ in range(40 if kind is FINE else 250):
        for inside, before, after in parts(kind, kind.draw(random)):
            found, best = faults_of(after, inside, kind.limits), fewest_faults(inside, kind.limits, kind.step / 2)
            assert found <= faults_of(before, inside, kind.limits)
            if best.laps or inside.left.hidden or inside.right.hidden:
                assert found.laps <= best.laps or kind is HEADER
                continue
            compared, changed = compared + 1, changed + (after != before)
            dearer += found > best
            assert found == best or kind is HEADER, inside
    assert compared > 5
    assert changed > compared / 5
    assert dearer <= compared // 20
