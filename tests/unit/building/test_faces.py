"""The face of a leaf: outline and area judged by shapely, zones of units, stepped bases and gables."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from shapely.geometry import Polygon, box

from elevgen.building.outline import clipped, gross_area, leaf_outline, polygon_area
from elevgen.core.geometry import Rect, Span

GABLE = [[0, 2400], [3500, 4800], [8000, 2600]]
STEPPED = [[0, 2700], [3000, 2700], [3000, 3300], [8000, 3300]]
BASE = [[0, -300], [2500, -300], [2500, 150], [8000, 150]]


@pytest.mark.parametrize(
    ("base", "top", "face"),
    [
        (0, 2700, [(0, 0), (8000, 0), (8000, 2700), (0, 2700)]),
        (-150, GABLE, [(0, -150), (8000, -150), (8000, 2600), (3500, 4800), (0, 2400)]),
        (BASE, STEPPED, [(0, -300), (2500, -300), (2500, 150), (8000, 150), (8000, 3300), (3000, 3300), (3000, 2700), (0, 2700)]),
        (0, [[0, 0], [4000, 3000], [8000, 0]], [(0, 0), (8000, 0), (4000, 3000)]),
    ],
)
def test_the_outline_of_a_face(make: SimpleNamespace, base: object, top: object, face: list[tuple[float, float]]) -> None:
    leaf = make.build([make.wall("W", "solid", (0, 0), (8000, 0), base=base, top=top)]).leaf("W/outer")
    outline = leaf_outline(leaf)
    merged = Polygon(outline)
    assert merged.exterior.is_ccw and merged.is_valid
    assert merged.symmetric_difference(Polygon(face)).area < 1e-6
    assert len(outline) == len(set(outline))
    assert gross_area(leaf) == pytest.approx(Polygon(face).area, rel=1e-12)


def test_a_gable_keeps_its_slope_on_the_shorter_inner_leaf(make: SimpleNamespace) -> None:
    walls = make.ring([(0, 0), (8000, 0), (8000, 6000), (0, 6000)])
    walls[0]["top"] = GABLE
    inner = make.build(walls).leaf("W1/inner")
    whole = Polygon([(0, 0), (8000, 0), (8000, 2600), (3500, 4800), (0, 2400)])
    assert inner.span == Span(177.5, 8000 - 177.5)
    assert gross_area(inner) == pytest.approx(whole.intersection(box(177.5, 0, 7822.5, 9000)).area, rel=1e-12)
    assert inner.height == 4800


@pytest.mark.parametrize("host_top", [6000, 2900, 1500])
def test_a_wall_running_through_a_gable_takes_its_own_height_out_of_the_face(make: SimpleNamespace, host_top: float) -> None:
    host = make.wall("H", "solid", (3200, -2000), (3200, 2000), top=host_top)
    leaf = make.build([host, make.wall("W", "single", (0, 0), (8000, 0), base=BASE, top=GABLE)]).leaf("W/outer")
    whole = Polygon(leaf_outline(leaf))
    taken = whole.intersection(box(3060, 0, 3200, host_top))
    assert gross_area(leaf) == pytest.approx(whole.area - taken.area, rel=1e-12)
    assert taken.area > 140 * 1200


@pytest.mark.parametrize("seed", range(20))
def test_clipping_agrees_with_shapely(seed: int) -> None:
    outline = ((0, -300), (2500, -300), (2500, 150), (8000, 150), (8000, 2600), (3500, 4800), (0, 2400))
    x, y = (seed * 1377) % 8000 - 400, (seed * 911) % 4600 - 500
    rect = Rect(x, y, x + 150 + 97 * seed, y + 300 + 131 * seed)
    expected = Polygon(outline).intersection(box(rect.left, rect.bottom, rect.right, rect.top)).area
    assert polygon_area(clipped(outline, rect)) == pytest.approx(expected, rel=1e-9, abs=1e-6)


def test_zones_fill_the_leaf_from_the_lowest_base_to_the_highest_top(make: SimpleNamespace) -> None:
    def zones(**levels: object) -> list[tuple[str, float, float]]:
        leaf = make.build([make.wall("W", "mixed", (0, 0), (8000, 0), **levels)]).leaf("W/outer")
        return [(z.unit.name, z.levels.start, z.levels.end) for z in leaf.zones]

    assert zones(base=-150, top=2700) == [("brick", -150, 600), ("thick", 600, 2400), ("block", 2400, 2700)]
    assert zones(base=BASE, top=GABLE) == [("brick", -300, 600), ("thick", 600, 2400), ("block", 2400, 4800)]
    assert zones(base=700, top=2700) == [("thick", 700, 2400), ("block", 2400, 2700)]
    assert zones(base=600, top=2400) == [("thick", 600, 2400)]
    assert zones(base=0, top=450) == [("brick", 0, 450)]
    assert zones(base=2500, top=2900) == [("block", 2500, 2900)]


def test_a_leaf_is_as_thick_as_its_thickest_unit_and_takes_the_joint_of_the_set(make: SimpleNamespace) -> None:
    building = make.build([make.wall("W", "mixed", (0, 0), (8000, 0))])
    assert building.leaf("W/outer").thickness == 140
    assert building.leaf("W/inner").offset == 240
    assert [(u.name, u.joint, u.gauge) for u in building.units] == [("block", 8, 223), ("brick", 10, 75), ("thick", 10, 225)]


def test_a_unit_has_its_mass_where_it_is_told(make: SimpleNamespace) -> None:
    units = {name: {"material": "stone", "length": 390, "height": 190, "width": 90} for name in ("brick", "thick", "block")}
    units["thick"]["mass"] = 17.5
    building = make.build([make.wall("W", "mixed", (0, 0), (8000, 0))], units=units)
    assert [(u.name, u.mass) for u in building.units] == [("block", None), ("brick", None), ("thick", 17.5)]


def test_lines_on_face_and_on_centre(make: SimpleNamespace) -> None:
    def offsets(**more: object) -> list[float]:
        return [leaf.offset for leaf in make.build([make.wall("W", "cavity", (0, 0), (8000, 0), **more)]).leaves]

    assert offsets() == offsets(line="face") == [0, 177.5]
    assert offsets(line="centre") == [-138.75, 38.75]
