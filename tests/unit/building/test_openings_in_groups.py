"""Openings too close to build between: groups, the strips that fill them, and heads; shapely is the judge of areas."""

from __future__ import annotations

import json
import random
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from shapely.geometry import box
from shapely.ops import unary_union

from elevgen.building.model import Opening, OpeningGroup
from elevgen.building.openings import Buildable, group_openings, heads, voids_of
from elevgen.core.geometry import Rect, Span

LEAST = Buildable(pier=215.0, band=150.0)


def holes(*rects: tuple[float, float, float, float]) -> tuple[Opening, ...]:
    return tuple(Opening(f"O{n}", "window", Rect(*rect)) for n, rect in enumerate(rects, 1))


def grouped(openings: tuple[Opening, ...]) -> tuple[OpeningGroup, ...]:
    return group_openings("W", openings, LEAST)


def shape(group: OpeningGroup, openings: tuple[Opening, ...]) -> Any:
    return unary_union([box(r.left, r.bottom, r.right, r.top) for r in voids_of(group, openings)])


@pytest.mark.parametrize(("gap", "groups"), [(214.9, 1), (215.0, 2), (215.005, 2), (0.0, 1)])
def test_a_pier_of_just_the_least_width_parts_two_openings(gap: float, groups: int) -> None:
    openings = holes((1000, 900, 1800, 2100), (1800 + gap, 900, 3000 + gap, 2100))
    assert len(grouped(openings)) == groups


@pytest.mark.parametrize(("gap", "groups"), [(149.9, 1), (150.0, 2), (0.0, 1)])
def test_a_band_of_just_the_least_height_parts_two_openings(gap: float, groups: int) -> None:
    openings = holes((1000, 0, 1900, 900), (1300, 900 + gap, 2600, 2100 + gap))
    assert len(grouped(openings)) == groups


def test_near_openings_that_face_one_another_nowhere_stay_apart() -> None:
    assert len(grouped(holes((0, 0, 900, 1000), (950, 1050, 1800, 2000)))) == 2


def test_a_single_opening_is_a_group_without_strips() -> None:
    (group,) = grouped(holes((1000, 900, 1800, 2100)))
    assert (group.id, group.openings, group.clear, group.strips) == ("W/O1", ("O1",), Rect(1000, 900, 1800, 2100), ())


def test_side_by_side_with_different_heads_gets_a_pier_and_a_head() -> None:
    openings = holes((5352, 0, 6165, 2420), (417, 100, 5252, 2520))
    (group,) = grouped(openings)
    assert group.id == "W/O1+O2"
    assert [(s.kind, s.rect) for s in group.strips] == [
        ("pier", Rect(5252, 100, 5352, 2420)),
        ("head", Rect(5252, 2420, 6165, 2520)),
    ]
    assert group.strips[0].between == ("O1", "O2")
    assert heads(voids_of(group, openings)) == ((2520, Span(417, 6165)),)


def test_masonry_below_a_higher_sill_stays_where_it_can_be_built() -> None:
    openings = holes((0, 0, 900, 2100), (1000, 900, 2600, 2100))
    (group,) = grouped(openings)
    assert [(s.kind, s.rect) for s in group.strips] == [("pier", Rect(900, 900, 1000, 2100))]


def test_a_narrow_sill_between_two_doors_is_filled() -> None:
    openings = holes((0, 0, 900, 2100), (900, 1000, 1050, 2100), (1050, 0, 1900, 2100))
    (group,) = grouped(openings)
    assert [(s.kind, s.rect, s.between) for s in group.strips] == [("sill", Rect(900, 0, 1050, 1000), ("O1", "O2", "O3"))]


def test_an_opening_offset_under_another_is_carried_up_to_its_head() -> None:
    openings = holes((0, 0, 1000, 2000), (500, 2100, 2500, 3000))
    (group,) = grouped(openings)
    assert group.clear == Rect(0, 0, 2500, 3000)
    assert heads(voids_of(group, openings)) == ((3000, Span(0, 2500)),)
    assert [(s.kind, s.rect) for s in group.strips] == [
        ("band", Rect(500, 2000, 1000, 2100)),
        ("head", Rect(0, 2000, 500, 3000)),
    ]


def test_a_group_filled_up_to_near_a_third_opening_takes_it_in() -> None:
    """The head over the first reaches 2520; the third stands 100 above that but 200 above the first's own head."""
    openings = holes((0, 0, 900, 2420), (1000, 0, 3000, 2520), (100, 2620, 700, 3400))
    (group,) = grouped(openings)
    assert group.openings == ("O1", "O2", "O3")


def test_the_duplex_comes_out_as_its_builder_would_see_it(duplex: dict[str, tuple[Opening, ...]]) -> None:
    door, stair = grouped(duplex["South"])
    assert door.openings == ("O1", "O2") and door.clear == Rect(417, 0, 6165, 2520)
    assert stair.openings == ("O3", "O4", "O5", "O6") and stair.clear == Rect(4675, 3200, 8383, 5610)
    assert [(s.kind, s.rect) for s in stair.strips] == [
        ("pier", Rect(7475, 3200, 7564, 5610)),
        ("band", Rect(7564, 3959, 8383, 4026)),
        ("band", Rect(7564, 4785, 8383, 4851)),
    ]
    assert [len(group.openings) for group in grouped(duplex["East"])] == [1, 1, 1, 4]
    assert sum(len(g.openings) for openings in duplex.values() for g in grouped(openings)) == 26


@pytest.fixture(scope="module")
def duplex() -> dict[str, tuple[Opening, ...]]:
    spec = json.loads((Path(__file__).parents[2] / "data" / "duplex.json").read_text())
    walls = {}
    for wall in spec["walls"]:
        rects = [(o["at"], o["sill"], o["at"] + o["width"], o["sill"] + o["height"]) for o in wall["openings"]]
        walls[wall["name"]] = holes(*rects)
    return walls


def scattered(seed: int) -> tuple[Opening, ...]:
    """Openings that do not lie over one another, many of them too close."""
    pick = random.Random(seed)
    rects: list[Rect] = []
    while len(rects) < 9:
        left, bottom = pick.randrange(0, 7000, 35), pick.randrange(0, 5000, 45)
        rect = Rect(left, bottom, left + pick.randrange(300, 2100, 35), bottom + pick.randrange(300, 1500, 45))
        if not any(rect.along.overlaps(r.along) and rect.levels.overlaps(r.levels) for r in rects):
            rects.append(rect)
    return tuple(Opening(f"O{n}", "window", r) for n, r in enumerate(rects, 1))


@pytest.mark.parametrize("seed", range(25))
def test_voids_tile_their_group_and_leave_nothing_unbuildable(seed: int) -> None:
    openings = scattered(seed)
    groups = grouped(openings)
    assert sorted(o for g in groups for o in g.openings) == sorted(o.id for o in openings)
    shapes = [shape(group, openings) for group in groups]
    for group, hole in zip(groups, shapes, strict=True):
        voids = voids_of(group, openings)
        assert hole.area == pytest.approx(sum(void.area for void in voids), rel=1e-12)
        assert hole.bounds == pytest.approx((group.clear.left, group.clear.bottom, group.clear.right, group.clear.top))
        assert _no_slivers(voids, hole)
        for level, span in heads(voids):
            beside = box(span.start - 1, level + 0.1, span.end + 1, level + 0.2)
            assert hole.intersection(beside).area < 1e-6, "a head with nothing to bear on"
    for i, a in enumerate(shapes):
        for b in shapes[:i]:
            assert a.intersection(b).area == 0


def _no_slivers(voids: tuple[Rect, ...], hole: Any) -> bool:
    """True when whatever stands between two voids that face one another too closely is void as well."""
    for a in voids:
        for b in voids:
            levels, along = a.levels.common(b.levels), a.along.common(b.along)
            if levels and 0.1 < b.left - a.right < 215 and not hole.covers(box(a.right, levels.start, b.left, levels.end)):
                return False
            if along and 0.1 < b.bottom - a.top < 150 and not hole.covers(box(along.start, a.top, along.end, b.bottom)):
                return False
    return True


@pytest.mark.parametrize("seed", range(10))
def test_mirrored_openings_make_mirrored_strips(seed: int) -> None:
    openings = scattered(seed)
    mirrored = tuple(Opening(o.id, o.kind, Rect(-o.rect.right, o.rect.bottom, -o.rect.left, o.rect.top)) for o in openings)
    for group, image in zip(grouped(openings), grouped(mirrored), strict=True):
        assert group.openings == image.openings
        assert shape(group, openings).area == pytest.approx(shape(image, mirrored).area)
        assert sorted(s.rect.area for s in group.strips) == pytest.approx(sorted(s.rect.area for s in image.strips))


def test_where_the_rule_set_has_no_least_sizes_nothing_is_joined() -> None:
    openings = holes((0, 0, 900, 2100), (950, 0, 1800, 2100))
    assert len(group_openings("W", openings, Buildable(None, None))) == 2


def test_leaf_voids_stay_on_the_leaf(make: SimpleNamespace) -> None:
    wall = make.ring([(0, 0), (6000, 0), (6000, 4000), (0, 4000)])
    wall[0]["openings"] = [make.opening("O1", 130, 900, 900, 1200)]
    building = make.build(wall)
    assert building.leaf("W1/outer").voids == (Rect(130, 900, 1030, 2100),)
    assert building.leaf("W1/inner").voids == (Rect(177.5, 900, 1030, 2100),)
