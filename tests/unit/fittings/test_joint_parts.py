"""What a movement joint takes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from elevgen.building.model import Unit, Zone
from elevgen.core.figures import METRIC
from elevgen.core.geometry import Span
from elevgen.core.sourced import Sourced
from elevgen.fittings.beds import beds
from elevgen.fittings.filler_words import filler_words
from elevgen.fittings.joint_parts import joint_parts
from elevgen.fittings.slip_ties import slip_ties
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Override

CONCRETE = Unit("concrete", "dense_concrete", 440, 215, 100, 10)
AIRCRETE = Unit("aircrete", "aircrete", 440, 215, 100, 10)


def parts(made, reader, side="outer", internal=False, thickness=None, slip=None, units=()):
    leaf = made.leaf(side)
    if internal:
        leaf = replace(leaf, exposed=False)
    if thickness is not None:
        leaf = replace(leaf, thickness=thickness)
    if units:
        levels = [(-150, 600), (600, 2700)] if len(units) == 2 else [(-150, 2700)]
        leaf = replace(leaf, zones=tuple(Zone(u, Span(*span)) for u, span in zip(units, levels, strict=True)))
    wall = replace(made.wall, slip_ties=slip)
    joint = made.plan.joints[0]
    return joint_parts(joint, wall, leaf, slip_ties(joint, leaf, beds(made.courses(side)), reader), reader)


def without(reader, *keys):
    values = {k: v for k, v in reader.book.values.items() if k not in keys}
    return RuleReader(replace(reader.book, values=values))


@pytest.mark.parametrize(
    ("width", "depth", "rod"), [(7.0, 7.0, 10), (10.0, 10.0, 13), (16.0, 10.0, 20), (17.0, 10.0, 25), (26.0, 13.0, 40)]
)
def test_sealant_is_half_as_deep_as_wide_never_under_the_least_never_deeper_than_wide(yard, reader, width, depth, rod):
    """Backer rod from memory: the smallest size sold that is at least 1.25 of the width."""
    found = parts(yard.wall(9000, joints=[3000], joint_width=width), reader)
    assert (found.sealant_width, found.sealant_depth) == (width, depth)
    assert (found.backer_diameter, found.bond_breaker) == (rod, "rod")
    assert (found.filler_width, found.filler_depth) == (width, 102.5 - depth - rod), "behind the sealant and its rod"
    assert found.length == 2850, "its full height, base -150 to top 2700"
    assert found.sealant_litres == pytest.approx(2850 * width * depth / 1e6)
    assert found.sealant_per_metre == width * depth


def test_faces_in_sight(yard, reader):
    cavity, single = yard.wall(9000, joints=[3000]), yard.wall(9000, joints=[3000], cavity=None)
    assert parts(cavity, reader).sealant_faces == 1
    assert parts(cavity, reader, "inner").sealant_faces == 1
    assert parts(single, reader).sealant_faces == 1
    both = parts(single, reader, internal=True)
    assert (both.sealant_faces, both.filler_depth) == (2, 42.5)


@pytest.mark.parametrize(
    ("thickness", "internal", "breaker", "filler"),
    [(30, False, "rod", 0), (29, False, "tape", 19), (60, True, "rod", 0), (59, True, "tape", 39)],
)
def test_tape_where_there_is_no_depth_for_a_rod(yard, reader, thickness, internal, breaker, filler):
    """16 mm joint: sealant 10 and a rod of 20 on each face in sight."""
    found = parts(yard.wall(9000, joints=[3000], cavity=None), reader, internal=internal, thickness=thickness)
    assert found.bond_breaker == breaker
    assert found.backer_diameter == (20 if breaker == "rod" else None)
    assert found.filler_depth == filler


def test_tape_where_no_rod_is_sold_that_wide(yard, reader):
    found = parts(yard.wall(9000, joints=[3000], joint_width=41), reader)
    assert (found.backer_diameter, found.bond_breaker) == (None, "tape")
    own = load_book("uk", (Override(rule="backer_rod.sizes", value=60, reason="from the merchant", by="builder"),))
    assert parts(yard.wall(9000, joints=[3000], joint_width=41), RuleReader(own)).backer_diameter == 60


def test_what_is_not_covered_is_none_not_nought(yard, reader):
    made = yard.wall(9000, joints=[3000])
    assert parts(made, without(reader, "backer_rod.oversize")).backer_diameter is None
    bare = parts(made, without(reader, "backer_rod.oversize", "backer_rod.sizes"))
    assert (bare.backer_diameter, bare.bond_breaker) == (None, None)
    assert parts(made, without(reader, "sealant.depth.min")).sealant_depth == 8
    assert parts(made, without(reader, "sealant.depth.min", "sealant.width_to_depth")) is None
    assert parts(made, without(reader, "filler.allowed.clay")).filler is None


def test_clay_is_filled_with_what_gives_and_never_with_what_does_not(yard, reader):
    """Lyons (read): cellular polyethylene, polyurethane, foam rubber. Eden note (read): no hemp, fibreboard or cork."""
    found = parts(yard.wall(9000, joints=[3000]), reader)
    assert found.filler == ("polyethylene_foam", "polyurethane_foam", "foam_rubber")
    assert found.filler_barred == ("hemp", "fibreboard", "cork")
    assert found.filler_strip is None
    assert {"filler.allowed.clay", "filler.barred.clay"} <= set(found.basis)
    assert filler_words(METRIC, found) == ("polyethylene foam, polyurethane foam or foam rubber, never hemp, fibreboard or cork")


def test_a_leaf_of_two_materials_is_filled_with_what_suits_both(yard, reader):
    made = yard.wall(9000, joints=[3000])
    both = parts(made, reader, units=(yard.brick, CONCRETE))
    assert both.filler == ("polyethylene_foam",)
    assert both.filler_barred == ("hemp", "fibreboard", "cork")
    assert both.filler_strip is None, "clay takes its filler as wide as the joint"
    unknown = parts(made, reader, units=(yard.brick, AIRCRETE))
    assert unknown.filler is None, "no document names a filler for aircrete"
    assert filler_words(METRIC, unknown) == "what the maker of the units allows, never hemp, fibreboard or cork"
    corked = Sourced("filler.allowed.dense_concrete", ("cork", "hemp"), "word", "", "", "", "practice")
    book = replace(reader.book, values={**reader.book.values, corked.key: corked})
    none = parts(made, RuleReader(book), units=(yard.brick, CONCRETE))
    assert none.filler == ()
    assert filler_words(METRIC, none).startswith("nothing that suits every material of the leaf")


def test_slip_ties_are_counted_only_where_somebody_has_asked_for_them(yard, reader):
    """LABC Warranty (read): 300 mm up the wall. Brick beds at 75 mm from -150 to 2700: every fourth, nine of them."""
    made = yard.wall(9000, joints=[3000])
    untold, asked, declined = (parts(made, reader, slip=slip) for slip in (None, True, False))
    assert (untold.slip_ties, asked.slip_ties, declined.slip_ties) == (None, 9, 0)
    assert "tie.slip.vertical" in asked.basis
    assert "tie.slip.vertical" not in untold.basis
    assert parts(made, without(reader, "tie.slip.vertical"), slip=True).slip_ties is None


def test_slip_ties_in_block_lie_in_every_bed(yard, reader):
    """Beds at 225 mm: every second would leave 450."""
    made = yard.wall(9000, joints=[3000])
    joint, inner, block = made.plan.joints[0], made.leaf("inner"), beds(made.courses("inner"))
    levels = [bed.middle for bed in block]
    ties = slip_ties(joint, inner, block, reader)
    assert [tie.level for tie in ties] == [level for level in levels if 2700 - level > 75]
    assert {(tie.at, tie.kind, tie.leaf) for tie in ties} == {(3000, "slip", "W1/inner")}
    short = replace(joint, levels=Span(-150, 149))
    assert slip_ties(short, inner, block, reader) == (), "no bed is needed in less than 300 mm"
