"""What a movement joint takes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from elevgen.fittings.joint_parts import joint_parts
from elevgen.rules.book import RuleReader


def parts(made, reader, side="outer", internal=False):
    leaf = made.leaf(side)
    if internal:
        leaf = replace(leaf, exposed=False)
    return joint_parts(made.plan.joints[0], made.wall, leaf, reader)


@pytest.mark.parametrize(("width", "depth"), [(10.0, 10.0), (16.0, 10.0), (20.0, 10.0), (26.0, 13.0)])
def test_sealant_is_half_as_deep_as_wide_and_never_under_the_least(yard, reader, width, depth):
    found = parts(yard.wall(9000, joints=[3000], joint_width=width), reader)
    assert (found.sealant_width, found.sealant_depth) == (width, depth)
    assert (found.filler_width, found.filler_depth) == (width, 102.5 - depth)
    assert found.backer_diameter == width * 1.25
    assert found.length == 2850, "its full height, base -150 to top 2700"
    assert found.sealant_litres == pytest.approx(2850 * width * depth / 1e6)


def test_faces_in_sight(yard, reader):
    cavity, single = yard.wall(9000, joints=[3000]), yard.wall(9000, joints=[3000], cavity=None)
    assert parts(cavity, reader).sealant_faces == 1
    assert parts(cavity, reader, "inner").sealant_faces == 1
    assert parts(single, reader).sealant_faces == 1
    both = parts(single, reader, internal=True)
    assert (both.sealant_faces, both.filler_depth) == (2, 82.5)


def test_what_is_not_covered_is_none_not_nought(yard, reader):
    made = yard.wall(9000, joints=[3000])

    def without(*keys):
        values = {k: v for k, v in reader.book.values.items() if k not in keys}
        return RuleReader(replace(reader.book, values=values))

    assert parts(made, without("backer_rod.oversize")).backer_diameter is None
    assert parts(made, without("sealant.depth.min")).sealant_depth == 8
    assert parts(made, without("sealant.depth.min", "sealant.width_to_depth")) is None
