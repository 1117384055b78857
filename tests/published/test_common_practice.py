"""What every bricklayer would say of movement joints, read back from walls the product has designed.

Common practice, no source: nothing here is a published value, and nothing is put on the page of published values.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.result import Design
from elevgen.rules.book import RuleBook
from elevgen.spec.models import Spec

QUARTER = 215 / 4
DOOR = {"kind": "door", "width": 1810, "sill": 0, "height": 2100}
WINDOW = {"kind": "window", "width": 1210, "sill": 900, "height": 1200}


def designed(walls: Sequence[Mapping[str, Any]], unit: str = "brick_65") -> Design:
    """Walls of one leaf and 5.4 m high, so that only their length counts; their joints are placed."""
    spec = {
        "spec": 1,
        "leaves": {"masonry": {"zones": [{"unit": unit}]}},
        "wall_types": {"single": {"outer": "masonry"}},
        "walls": [{"id": f"W{n}", "type": "single", "base": 0, "top": 5400, **wall} for n, wall in enumerate(walls, 1)],
    }
    return pipeline.design(Spec.model_validate(spec), "practice")


def straight(length: float, unit: str = "brick_65", openings: Sequence[Mapping[str, Any]] = ()) -> Design:
    named = [{"id": f"O{n}", **opening} for n, opening in enumerate(openings, 1)]
    return designed([{"start": [0, 0], "end": [length, 0], "openings": named}], unit)


def places(design: Design) -> list[float]:
    return sorted(joint.at for joint in design.plan.joints)


def panels(design: Design, length: float) -> list[float]:
    return [b - a for a, b in pairwise([0.0, *places(design), length])]


@pytest.mark.parametrize("length", [23_390.0, 34_865.0, 46_790.0])
def test_clay_has_a_joint_every_10_to_12_m_common_practice_no_source(length: float) -> None:
    along = panels(straight(length), length)
    assert len(along) > 1
    assert all(10_000 <= panel <= 12_000 for panel in along)


def test_block_every_7_5_to_9_m_is_shown_beside_the_published_6_m_common_practice_no_source(uk: RuleBook) -> None:
    for key, default, practice in (("normal", 6000, 7500), ("limit", 9000, 9000)):
        name = f"movement_joint.spacing.{key}.dense_concrete"
        assert uk.get(name).number == default
        assert uk.get(name).status in ("read", "quoted")
        assert [s.number for s in uk.alternatives[name] if s.status == "practice"] == [practice]
    along = panels(straight(26_990, "dense_block_100"), 26_990)
    assert max(along) <= 6000, "the published one is built"


def test_aircrete_has_a_joint_every_6_m_common_practice_no_source() -> None:
    along = panels(straight(22_490, "aircrete_block_100"), 22_490)
    assert len(along) == 4
    assert max(along) <= 6000


def test_doors_and_windows_are_no_joints_common_practice_no_source() -> None:
    """A wall of 14 m of which doors leave no piece longer than 2 m has the joint it would have without them."""
    doors = [{**DOOR, "at": at} for at in (1347.5, 4722.5, 8097.5, 10797.5)]
    bare, pierced = straight(14_165), straight(14_165, openings=doors)
    assert len(bare.plan.joints) == len(pierced.plan.joints) == 1
    (joint,) = pierced.plan.joints
    assert not any(door["at"] <= joint.at <= door["at"] + DOOR["width"] for door in doors), "nor does it run through one"
    given = designed(
        [{"start": [0, 0], "end": [14_165, 0], "joints": [], "openings": [{"id": f"O{n}", **d} for n, d in enumerate(doors)]}]
    )
    assert [f.severity for f in given.findings if f.code == "joint-spacing"] != ["pass"]


def test_walls_tied_to_one_another_act_as_one_common_practice_no_source() -> None:
    """Two walls of 7 m round a corner are 14 m of masonry and are parted; apart they need nothing."""
    first, second = {"start": [0, 0], "end": [7_090, 0]}, {"start": [7_090, 0], "end": [7_090, 7_090]}
    away = {"start": [12_000, 0], "end": [12_000, 7_090]}
    assert len(designed([first, second]).plan.joints) >= 1
    assert not designed([first, away]).plan.joints


def test_joints_are_not_beside_openings_common_practice_no_source() -> None:
    """Where there is masonry to choose from, a joint keeps a brick and more from every reveal."""
    windows = [{**WINDOW, "at": at} for at in (2022.5, 9222.5, 11_922.5, 18_222.5)]
    design = straight(23_390, openings=windows)
    assert design.plan.joints
    reveals = [x for window in windows for x in (window["at"], window["at"] + window["width"])]
    assert min(abs(at - reveal) for at in places(design) for reveal in reveals) >= 225


@pytest.mark.parametrize("unit", ["brick_65", "dense_block_100"])
def test_two_rows_of_reinforcement_above_and_below_an_opening_common_practice_no_source(unit: str) -> None:
    """In the first beds there are, right across the opening and past it."""
    module = 75 if unit == "brick_65" else 225
    design = straight(5_390, unit, [{**WINDOW, "at": 2_022.5}])
    rows = [r for r in design.fittings.bed_reinforcement if r.span.start < 2_022.5 and r.span.end > 2_022.5 + 1210]
    over = sorted(r.level - 2100 for r in rows if r.level >= 2100)
    under = sorted(900 - r.level for r in rows if r.level < 900)
    assert len(over) == len(under) == 2
    assert over[1] - over[0] == pytest.approx(module)
    assert under[1] - under[0] == pytest.approx(module)
    assert max(over[0], under[0]) <= 2 * module


@pytest.mark.parametrize(("left", "width", "right"), [(1340.0, 1135.0, 1790.0), (1227.5, 1247.5, 2015.0)])
def test_perpends_lap_away_from_the_corners_of_openings_common_practice_no_source(
    draw: Any, left: float, width: float, right: float
) -> None:
    """Read off the drawing: in two courses over and two under it none is in line with a reveal, by a quarter of a brick."""
    window = {"id": "V1", **WINDOW, "at": left, "width": width}
    face = draw([{"start": [0, 0], "end": [left + width + right, 0], "top": 2_850, "openings": [window]}])["W1/outer"]
    under = [course for course in face.courses if course[0].top <= 901][-2:]
    over = [course for course in face.courses if course[0].bottom >= 2_099 and _whole(course)][:2]
    for course in (*under, *over):
        perpends = [(a.right + b.left) / 2 for a, b in pairwise(course)]
        assert min(abs(p - corner) for p in perpends for corner in (left, left + width)) >= QUARTER - 5.01, course[0].bottom


def _whole(course: Sequence[Any]) -> bool:
    """A course that runs over the opening without a gap in it."""
    return all(b.left - a.right < 20 for a, b in pairwise(course))
