"""Checks of the plan: walls that meet askew, stand the wrong way round, or nearly meet; each with its repair."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import cos, radians, sin
from typing import Any

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
Point = tuple[float, float]


def ring(corners: Sequence[Point], kind: str = "cavity", first: int = 1) -> list[dict[str, Any]]:
    """Walls from corner to corner and back to the first."""
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return [wall(f"W{n}", a, b, kind) for n, (a, b) in enumerate(pairs, start=first)]


def wall(wall_id: str, start: Point, end: Point, kind: str = "cavity", top: float = 2700, **more: Any) -> dict[str, Any]:
    return {"id": wall_id, "type": kind, "start": list(start), "end": list(end), "top": top} | more


def turned(wall: dict[str, Any]) -> dict[str, Any]:
    return wall | {"start": wall["end"], "end": wall["start"]}


HOUSE: list[Point] = [(0, 0), (9300, 0), (9300, 3100), (5100, 3100), (5100, 7700), (0, 7700)]
INSIDE = 302.5


# corner-square


def bent(angle: float) -> list[dict[str, Any]]:
    """Two walls that leave their corner `angle` degrees apart."""
    x, y = -4000 * cos(radians(angle)), 4000 * sin(radians(angle))
    return [wall("A", (0, 0), (6000, 0), "garden"), wall("B", (6000, 0), (6000 + x, y), "garden")]


@pytest.mark.parametrize(
    ("angle", "warned"),
    [(90, False), (92.9, False), (93.1, True), (60, True), (135, True), (176.9, True), (177.1, False), (180, False)],
)
def test_corners_that_are_not_square(build: Build, found: Found, angle: float, warned: bool) -> None:
    findings = found(build(bent(angle)), "corner-square")
    assert [(f.severity, f.walls, f.measured) for f in findings] == (
        [("warn", ("A", "B"), pytest.approx(angle))] if warned else []
    )


def test_a_corner_is_named_once_for_both_leaves_and_at_the_angle_between_its_walls(build: Build, found: Found) -> None:
    askew = [(0.0, 0.0), (9300.0, 0.0), (9300.0, 6100.0), (1700.0, 6100.0)]
    findings = found(build(ring(askew)), "corner-square")
    assert {f.walls: round(f.measured or 0, 1) for f in findings} == {("W1", "W4"): 74.4, ("W3", "W4"): 105.6}
    assert not found(build(ring([*askew[:3], (0.0, 6100.0)])), "corner-square")


@pytest.mark.parametrize(("lean", "measured"), [(0, None), (900, 70.6), (-900, 70.6)])
def test_a_partition_that_leaves_its_host_askew(build: Build, found: Found, lean: float, measured: float | None) -> None:
    stem = wall("P", (2700, INSIDE), (2700 + lean, INSIDE + 2560), "partition")
    findings = found(build([*ring(HOUSE), stem]), "corner-square")
    assert [f.measured for f in findings] == ([] if measured is None else [pytest.approx(measured, abs=0.1)])


# outside-inside


def test_a_house_drawn_clockwise_is_named_once_with_all_its_walls(build: Build, found: Found) -> None:
    (finding,) = found(build([turned(w) for w in ring(HOUSE)]), "outside-inside")
    assert (finding.severity, finding.walls) == ("warn", ("W1", "W2", "W3", "W4", "W5", "W6"))
    assert not found(build(ring(HOUSE)), "outside-inside")


def test_one_wall_drawn_the_wrong_way_round(build: Build, found: Found) -> None:
    walls = ring(HOUSE)
    (finding,) = found(build([*walls[:4], turned(walls[4]), walls[5]]), "outside-inside")
    assert (finding.severity, finding.walls) == ("warn", ("W5",))
    assert "it encloses" in finding.text


def test_partitions_may_be_drawn_either_way(build: Build, found: Found) -> None:
    across = wall("P", (2700, INSIDE), (2700, 7700 - INSIDE), "partition")
    stub = wall("Q", (0 + INSIDE, 3400), (1500, 3400), "partition")
    for partitions in ([across, stub], [turned(across), turned(stub)]):
        assert not found(build([*ring(HOUSE), *partitions]), "outside-inside")


def test_a_courtyard_has_its_outside_within_and_a_hut_in_it_has_not(build: Build, found: Found) -> None:
    outer = ring([(0, 0), (21000, 0), (21000, 17000), (0, 17000)])
    court = [turned(w) for w in ring([(5000, 5000), (15000, 5000), (15000, 11000), (5000, 11000)], first=5)]
    hut = ring([(8000, 7000), (11000, 7000), (11000, 9000), (8000, 9000)], first=9)
    assert not found(build([*outer, *court]), "outside-inside")
    assert not found(build([*outer, *court, *hut]), "outside-inside")


def test_walls_that_enclose_nothing_have_no_inside(build: Build, found: Found) -> None:
    walls = ring(HOUSE)[:-1]
    for drawn in (walls, [turned(w) for w in walls]):
        assert not found(build(drawn), "outside-inside")


def test_single_leaf_walls_round_a_garden_are_only_noted(build: Build, found: Found) -> None:
    garden = ring([(0, 0), (9000, 0), (9000, 5000), (0, 5000)], kind="garden")
    assert [f.severity for f in found(build([turned(w) for w in garden]), "outside-inside")] == ["note"]
    assert not found(build(garden), "outside-inside")


# nearly-meets


@pytest.mark.parametrize(("short", "noted"), [(0, False), (40, True), (149.9, True), (150.1, False), (800, False)])
def test_a_partition_that_stops_short_of_a_wall(build: Build, found: Found, short: float, noted: bool) -> None:
    partition = wall("P", (2700, INSIDE), (2700, 7700 - INSIDE - short), "partition")
    findings = found(build([*ring(HOUSE), partition]), "nearly-meets")
    assert [(f.severity, f.walls, f.measured) for f in findings] == ([("note", ("P",), pytest.approx(short))] if noted else [])
    assert all("the end of P nearly meets W5" in f.text for f in findings)


def test_a_partition_that_stops_short_of_the_end_of_another(build: Build, found: Found) -> None:
    """Side by side, 60 mm along and 80 mm across: 100 mm from corner to corner."""
    walls = [
        wall("A", (0, 0), (3000, 0), "partition", line="face"),
        wall("B", (3060, 180), (6000, 180), "partition", line="face"),
    ]
    findings = found(build(walls), "nearly-meets")
    assert [(f.where, f.measured) for f in findings] == [("A end", pytest.approx(100)), ("B start", pytest.approx(100))]


def test_walls_over_one_another_do_not_nearly_meet(build: Build, found: Found) -> None:
    low = wall("A", (0, 0), (3000, 0), "garden", top=900)
    high = wall("B", (3160, -1000), (3160, 1000), "garden", base=2000, top=3000)
    assert not found(build([low, high]), "nearly-meets")
    assert found(build([low, high | {"base": 0}]), "nearly-meets")


# wall-meets-opening


@pytest.mark.parametrize(
    ("at", "top", "warned"),
    [(2700, 2700, True), (2351, 2700, True), (2350, 2700, False), (3451, 2700, False), (2700, 850, False)],
    ids=["in it", "1 mm in", "touching", "past it", "under its sill"],
)
def test_a_partition_that_ends_in_an_opening(build: Build, found: Found, at: float, top: float, warned: bool) -> None:
    """A 100 mm partition against a wall with an opening from 2400 to 3400, its sill at 900."""
    holed, *others = ring(HOUSE)
    holed["openings"] = [{"id": "O1", "kind": "window", "at": 2400, "width": 1000, "sill": 900, "height": 1200}]
    findings = found(
        build([holed, *others, wall("P", (at, INSIDE), (at, INSIDE + 2560), "partition", top)]), "wall-meets-opening"
    )
    named = [(f.severity, f.walls, f.leaves, f.openings) for f in findings]
    assert named == ([("warn", ("W1", "P"), ("W1/inner",), ("O1",))] if warned else [])
