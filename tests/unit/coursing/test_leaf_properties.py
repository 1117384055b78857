"""What holds of every leaf, on whole designs of walls nobody drew: every bond, both builds, bricks and blocks.

A sample here; thousands in tests/bench (`test_coursing_oracle_bench`).
"""

from __future__ import annotations

from collections import Counter

import pytest
from buildings import mirrored
from hypothesis import given, settings
from hypothesis import strategies as st
from leaf_measures import NEAR, Laid, face, impossible_pieces, in_the_way, lap_lack, leaves_of, misfilled, shortest_lack
from random_leaves import BONDS, UNITS, designed, random_wall

from elevgen import pipeline
from elevgen.bonds import Brick, load_bond
from elevgen.coursing.setout import set_out
from elevgen.coursing.stretch import End, Limits, Stretch
from elevgen.result import Design
from elevgen.spec.vocabulary import Vocabulary


@pytest.fixture(scope="module")
def words() -> Vocabulary:
    return pipeline.vocabulary()


@settings(max_examples=45, deadline=None, derandomize=True)
@given(seed=st.integers(0, 10**6))
def test_any_wall(seed: int, words: Vocabulary) -> None:
    spec = random_wall(seed)
    design = designed(spec, words)
    if design is not None:
        judge(design)
        same_in_a_mirror(design, designed(mirrored(spec), words))


@pytest.mark.parametrize("bond", BONDS)
@pytest.mark.parametrize("build", ["half_brick", "one_brick"])
def test_every_bond_and_build(bond: str, build: str, words: Vocabulary) -> None:
    """A brick and a unit of one's own each, so that none is left out by chance."""
    for seed, unit in ((11, "brick_65"), (29, "odd")):
        design = designed(random_wall(seed, unit=unit, bond=bond, build=build), words)
        assert design is not None
        assert {(leaf.bond, leaf.build) for leaf in design.building.leaves} == {(bond, build)}
        judge(design)


def test_the_same_spec_twice(words: Vocabulary) -> None:
    for seed in (4, 18, 42):
        one, two = (designed(random_wall(seed), words) for _ in range(2))
        assert one is not None and two is not None
        assert one.coursing == two.coursing
        assert one.findings == two.findings


@pytest.mark.parametrize("bond", ["flemish", "flemish_garden_wall", "english_garden_wall_3", "english_garden_wall_5"])
def test_a_gable_in_a_bond_of_rows(bond: str) -> None:
    """Just past one stretcher from a stopped end or a corner to where the slope cuts the course off."""
    limits = Limits(215.0, 10.0, 7.0, 15.0, 53.75, 102.5, 20.0)
    for number in range(6):
        motif = load_bond(bond).course(number, True, Brick(215.0, 102.5, 10.0, 102.5))
        for rows in (motif.ends, motif.through, motif.returned):
            stretch = Stretch(225.0, End(rows), End((), raking=True), (), motif.repeat, motif.link)
            layout = set_out(stretch, limits)
            assert sum(layout.lengths) + (len(layout.lengths) - 1) * layout.perpend + sum(layout.rests) == pytest.approx(225.0)


def test_the_walls_are_of_every_kind() -> None:
    """What the properties are tried on: none of it missing."""
    kinds = Counter(kind for seed in range(200) for kind in _kinds(random_wall(seed)))
    expected = {*BONDS, *UNITS, "half_brick", "one_brick", "stepped base", "top with points", "opening", "joint", "W0", "W2"}
    assert {kind for kind, times in kinds.items() if times >= 5} >= expected


def _kinds(spec: dict) -> set[str]:
    leaf, wall = spec["leaves"]["a"], spec["walls"][0]
    found = {leaf["bond"], leaf["build"], leaf["zones"][0]["unit"], *(w["id"] for w in spec["walls"][1:])}
    given_ = ("stepped base", wall["base"] != 0), ("top with points", isinstance(wall["top"], list))
    return found | {name for name, has in (*given_, ("opening", wall["openings"]), ("joint", wall["joints"])) if has}


def judge(design: Design) -> None:
    """Every property of every leaf."""
    for laid in leaves_of(design):
        fills_its_face(laid)
        says_what_it_lacks(laid)


def fills_its_face(laid: Laid) -> None:
    assert misfilled(laid) == []
    assert impossible_pieces(laid) == []
    area = face(laid).area
    assert laid.work.unit_area + laid.work.mortar_area == pytest.approx(area, rel=1e-6, abs=1)


def says_what_it_lacks(laid: Laid) -> None:
    """Laps, pieces and perpends keep their rules, or the check warns of this leaf (this opening) and says why."""
    if laid.leaf.bond != "stack":
        assert bool(laid.told("lap")) == (lap_lack(laid) > NEAR)
    assert bool(laid.told("piece-minimum")) == (shortest_lack(laid) > NEAR)
    for opening, near in () if laid.leaf.bond == "stack" else in_the_way(laid).items():
        found = [f for name in opening.split("+") for f in laid.told("perpend-at-opening", name)]
        assert [f.severity for f in found[:1]] == ["warn"], (opening, near)
        assert all("too near in" in f.text and len(f.text.rpartition(": ")[2]) > 20 for f in found)


def same_in_a_mirror(design: Design, image: Design | None) -> None:
    assert image is not None
    one, two = ({work.leaf: work.counts for work in d.coursing.leaves} for d in (design, image))
    assert one == two
