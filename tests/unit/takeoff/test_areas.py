"""Faces shared out exactly: voids, movement joints, slopes, zones."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from elevgen.building.model import Leaf, Profile
from elevgen.core.geometry import Rect, Span
from elevgen.pipeline import design_file
from elevgen.result import Design
from elevgen.takeoff.areas import joint_area, leaf_area, masonry_area, shared_face


def test_units_mortar_joints_openings_and_strips_make_up_the_face(small_design: Design) -> None:
    for leaf in small_design.building.leaves:
        area = leaf_area(small_design, leaf)
        parts = area.units + area.mortar + area.movement_joints + area.openings + area.strips
        assert parts == pytest.approx(area.gross, rel=1e-6)
    outer = leaf_area(small_design, small_design.building.leaves[0])
    assert (outer.gross, outer.openings, outer.movement_joints) == (1004.5 * 300, 235 * 150, 12 * 300)
    assert outer.net == outer.gross - 235 * 150


def test_a_strip_is_kept_apart_from_the_openings(small_design: Design) -> None:
    strip = Rect(450.0, 75.0, 516.0, 225.0)
    leaf = small_design.building.leaves[0]
    leaf = replace(leaf, voids=(*leaf.voids, strip), strips=(strip,))
    area = leaf_area(small_design, leaf)
    assert (area.openings, area.strips) == (235 * 150, 66 * 150)


def test_a_wall_running_through_is_no_part_of_the_face(small_design: Design) -> None:
    through = Rect(800.0, 0.0, 900.0, 300.0)
    leaf = small_design.building.leaves[0]
    crossed = replace(leaf, voids=(*leaf.voids, through), crossings=(through,))
    area = leaf_area(small_design, crossed)
    assert (area.gross, area.strips) == (pytest.approx(904.5 * 300), 0)
    assert masonry_area(crossed) == pytest.approx(area.net)


def gable(leaf: Leaf) -> Leaf:
    """300 high at the start, 900 at 400 along, 500 at the far end; the base steps up 50 at 600."""
    top = Profile(((0.0, 300.0), (400.0, 900.0), (1004.5, 500.0)))
    base = Profile(((0.0, 0.0), (600.0, 0.0), (600.0, 50.0), (1004.5, 50.0)))
    return replace(leaf, top=top, base=base)


def test_bands_of_a_stepped_gable_add_up_to_its_face(small_design: Design) -> None:
    leaf = gable(small_design.building.leaves[0])
    whole = 400 * 600 + 604.5 * 700 - 404.5 * 50 - 235 * 150
    levels = (0.0, 20.0, 130.0, 300.0, 777.0, 900.0)
    bands = [masonry_area(leaf, levels=Span(a, b)) for a, b in pairwise(levels)]
    assert masonry_area(leaf) == pytest.approx(whole, rel=1e-12)
    assert sum(bands) == pytest.approx(whole, rel=1e-9)
    assert bands[0] == pytest.approx(600 * 20)  # under the step only the first 600 is there


def test_a_joint_under_a_slope_takes_its_width_times_its_middle_height(small_design: Design) -> None:
    leaf = gable(small_design.building.leaves[0])
    at_671 = 900 - 400 * (671 - 400) / 604.5 - 50
    assert joint_area(leaf, small_design.plan.joints) == pytest.approx(12 * at_671)


def test_a_given_joint_through_an_opening_does_not_take_the_opening_twice(small_design: Design) -> None:
    leaf = small_design.building.leaves[0]
    through = replace(small_design.plan.joints[0], at=300.0)
    assert joint_area(leaf, (through,)) == pytest.approx(12 * 150)
    touching = replace(through, id="J2", at=306.0)
    assert joint_area(leaf, (through, touching)) == pytest.approx(18 * 150)


def test_the_cavity_is_the_face_both_leaves_share(small_design: Design) -> None:
    building = small_design.building
    shared = shared_face(building, building.walls[0])
    assert shared is not None and masonry_area(shared) == pytest.approx(665 * 300 - 235 * 150)


def test_openings_and_strips_of_a_real_building_are_told_apart() -> None:
    """Its openings lie on the face whole and do not overlap; what else is left out is strips."""
    design = design_file(Path(__file__).parents[2] / "data" / "duplex.json")
    seen = 0
    for leaf in design.building.leaves:
        area, wall = leaf_area(design, leaf), design.building.wall(leaf.wall)
        assert area.openings == pytest.approx(sum(opening.rect.area for opening in wall.openings))
        assert area.strips == pytest.approx(sum(strip.rect.area for group in wall.groups for strip in group.strips))
        seen += bool(area.strips)
    assert seen
