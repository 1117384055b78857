"""Leaves planned as a whole: laps over and under every opening, one place for broken bonds, blocks over brick."""

from __future__ import annotations

from itertools import pairwise, product
from pathlib import Path
from random import Random

import pytest

from elevgen import pipeline
from elevgen.building.model import LeafEnd, Unit, Zone
from elevgen.core.geometry import Rect, Span
from elevgen.result import Design

ROOT = Path(__file__).parents[3]


def irregular(random: Random) -> tuple[int, tuple[Rect, ...]]:
    """A length and two or three openings in it that keep no module, their heads and sills on courses of their own."""
    x, found = 0, []
    for _ in range(random.randint(2, 3)):
        x += random.randint(700, 2200)
        wide, bottom, high = random.randint(450, 1500), 75 * random.randint(2, 5), 75 * random.randint(4, 7) + 10
        found.append(Rect(x, bottom, x + wide, bottom + high))
        x += wide
    return x + random.randint(700, 2200), tuple(found)


def test_leaves_with_openings_anywhere_lap(leaf, laid):
    """Of 60 such leaves no more than one keeps a short lap, and that only one; laid course upon course, two in three did."""
    random = Random(4)
    short = []
    for _ in range(60):
        length, voids = irregular(random)
        ends = {}
        if random.random() < 0.5:
            ends["start"] = LeafEnd("corner", 102.5, 0, "W2/outer", "bonded", True)
            ends["finish"] = LeafEnd("corner", length - 102.5, length, "W3/outer", "bonded", random.random() < 0.5)
        short.append(laid(leaf(length=length, voids=voids, **ends)).short_laps)
    assert sorted(short)[-2] == 0
    assert max(short) <= 1


def test_a_window_between_quoins_does_not_part_the_bond(leaf, laid):
    """All on the module: no cut but halves, and the courses over the head carry on those under the sill."""
    found = laid(leaf(length=3365, voids=(Rect(1115, 300, 2250, 760),)))
    assert found.short_laps == 0
    assert {x for number in range(1, 15) for _, x, _ in found.pieces(number)} == {215, 102.5}
    assert found.pieces(3) == found.pieces(11)


def test_broken_bonds_stay_in_one_place(leaf, laid):
    """3,430 mm is no multiple of a half unit and too far off for the perpends: one broken bond, in the middle, all the way up."""
    block = Unit("block", "dense_concrete", 440, 215, 100, 10)
    found = laid(leaf(length=3430, height=2250, unit=block))
    places = []
    for course in found.work.courses:
        cut = [at + x / 2 for at, x, kind in found.pieces(course.number)[1:-1] if kind == "cut"]
        assert len(cut) <= 2
        places.append(sum(cut) / len(cut))
    assert all(abs(x - 1715) <= 450 for x in places)
    assert all(abs(a - b) <= 340 for a, b in pairwise(places))
    assert found.short_laps == 0
    assert len(found.coursing.patterns) == 2


def test_blocks_lap_the_brick_they_stand_on(leaf, laid, brick, block):
    """Three courses of brick under blocks, nothing else to keep: no perpend of the blocks over one of the bricks."""
    zones = (Zone(brick, Span(0, 225)), Zone(block, Span(225, 1125)))
    found = laid(leaf(length=4040, height=1125, zones=zones))
    assert min(abs(x - y) for x in found.lines(4) for y in found.lines(3)) > 53.7


@pytest.fixture(scope="module")
def studio() -> Design:
    return pipeline.design_file(ROOT / "specs" / "studio.json")


def broken_rules(design: Design, code: str) -> list[str]:
    return [f.where for f in design.findings if f.code == code and f.severity != "pass"]


def test_the_demo_laps_everywhere(studio: Design) -> None:
    assert broken_rules(studio, "lap") == []


def test_the_short_pieces_of_the_demo_cannot_be_helped(studio: Design) -> None:
    """In every stretch of them: of all rows of pieces that reach 215 mm, perpends 7 to 15 mm, no two lap a quarter of a block."""
    patterns = {p.id: p for p in studio.coursing.patterns if p.unit == "aircrete_block_100"}
    short = {name for name, p in patterns.items() if any(x.kind == "cut" and p.real(k) < 214.9 for k, x in enumerate(p.pieces))}
    piers = {(x.leaf, p.span.length) for x in studio.coursing.leaves for p in x.placements if p.pattern in short}
    assert {leaf for leaf, _ in piers} == set(broken_rules(studio, "piece-minimum"))
    for _, pier in piers:
        places: list[float] = []
        for pieces, tenths in product((1, 2, 3, 4), range(70, 151)):
            spare = pier - (pieces - 1) * tenths / 10 - pieces * 215
            if spare >= 0 and pier - (pieces - 1) * tenths / 10 <= pieces * 440:
                assert pieces == 2
                places += [215 + step * spare / 40 + tenths / 20 for step in range(41)]
        assert max(places) - min(places) < 110
