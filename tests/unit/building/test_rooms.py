"""Which walls are internal: decided by the rooms the wall lines enclose; shapely's polygonize is the judge."""

from __future__ import annotations

import random
from types import SimpleNamespace
from typing import Any

import pytest
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import polygonize, unary_union

MAIN = [(0, 0), (9000, 0), (9000, 6000), (0, 6000)]


def internal(building: Any) -> set[str]:
    return {w.id for w in building.walls if w.internal}


def test_rooms_of_an_extension_count_and_a_free_wall_does_not(make: SimpleNamespace) -> None:
    extension = [
        make.wall("E1", "single", (9000, 1000), (13000, 1000)),
        make.wall("E2", "single", (13000, 1000), (13000, 5000)),
        make.wall("E3", "single", (13000, 5000), (9000, 5000)),
        make.wall("E4", "single", (9000, 3100), (12900, 3100)),
        make.wall("G1", "single", (0, 3000), (-4000, 3000)),
        make.wall("G2", "single", (20000, 0), (20000, 4000)),
    ]
    building = make.build([*make.ring(MAIN), *extension])
    assert internal(building) == {"E4"} | {"W2"}  # the middle of W2 has a room on both hands
    assert building.wall("E4").line == "centre" and building.wall("E2").line == "face"
    assert [building.leaf(f"{w}/outer").exposed for w in ("E2", "E4", "G1", "W1")] == [True, False, True, True]


def test_a_house_of_single_leaves_stands_on_its_faces(make: SimpleNamespace) -> None:
    walls = [*make.ring(MAIN, kind="solid"), make.wall("P", "solid", (4000, 100), (4000, 5900))]
    building = make.build([{**walls[4], "id": "P"}, *walls[:4]])
    assert internal(building) == {"P"}
    assert {w.id: w.line for w in building.walls} == {"P": "centre", **{f"W{n}": "face" for n in range(1, 5)}}


def test_a_line_the_spec_gives_is_kept(make: SimpleNamespace) -> None:
    partition = make.wall("P", "solid", (4000, 100), (4000, 5900), line="face")
    building = make.build([*make.ring(MAIN), partition])
    assert internal(building) == {"P"} and building.wall("P").line == "face" and building.leaf("P/outer").offset == 0


def test_a_cavity_party_wall_is_internal_and_keeps_its_face_line(make: SimpleNamespace) -> None:
    building = make.build([*make.ring(MAIN), make.wall("P", "cavity", (4000, 277.5), (4000, 5722.5))])
    assert internal(building) == {"P"} and building.wall("P").line == "face"
    assert not building.leaf("P/outer").exposed
    assert {m.host for m in building.meetings if m.kind == "tee"} == {"W1/inner", "W3/inner"}


@pytest.mark.parametrize("seed", range(12))
def test_rooms_agree_with_polygonize(make: SimpleNamespace, seed: int) -> None:
    """Random walls on a coarse grid, drawn in either direction, on their centre lines."""
    pick = random.Random(seed)
    nodes = [(x, y) for x in range(4) for y in range(4)]
    steps = [((x, y), (x + dx, y + dy)) for x, y in nodes for dx, dy in ((1, 0), (0, 1)) if max(x + dx, y + dy) < 4]
    lines = [line[:: pick.choice((1, -1))] for line in steps if pick.random() < 0.75]
    ends = [tuple((3000.0 * x, 2500.0 * y) for x, y in line) for line in lines]
    building = make.build([make.wall(f"W{n}", "solid", *line, line="centre") for n, line in enumerate(ends)])
    rooms = list(polygonize(unary_union([LineString(line) for line in ends])))
    indoors = [room for room in rooms if not _a_yard(room, ends)]
    expected = {f"W{n}" for n, line in enumerate(ends) if all(_in_one_of(indoors, side) for side in _sides(line))}
    assert internal(building) == expected


Line = tuple[tuple[float, float], ...]


def _sides(line: Line) -> tuple[Point, Point]:
    """A point on the left and one on the right of the middle of a line."""
    (x0, y0), (x1, y1) = line
    left = (-(y1 - y0) / 10, (x1 - x0) / 10)
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    return Point(x + left[0], y + left[1]), Point(x - left[0], y - left[1])


def _in_one_of(rooms: list[Any], point: Point) -> bool:
    return any(room.contains(point) for room in rooms)


def _a_yard(room: Any, ends: list[Line]) -> bool:
    """True when every wall round the room has its right hand turned to it."""
    inner = Polygon(room.exterior)
    round_it = [line for line in ends if inner.exterior.covers(LineString(line))]
    return not any(inner.contains(_sides(line)[0]) for line in round_it)
