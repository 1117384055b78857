"""The keys of movement joints: where they stand, what they take up, what they are filled with."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.rules.key import (
    CAPABILITY_OF,
    COLOURS,
    CORNER_KINDS,
    FILLERS,
    INSTEAD_OF_JOINTS,
    MATERIALS,
    OLD_TO_NEW_KINDS,
    UNLIKE_KINDS,
    Key,
    RuleUnit,
    number,
    per_material,
)


def movement_joints() -> Iterator[Key]:
    """Where movement joints stand, how wide they are nominally, and their sealant."""
    yield from per_material("movement_joint.spacing.normal", "mm", "usual greatest length of wall between movement joints")
    yield from per_material(
        "movement_joint.spacing.limit", "mm", "length of wall between movement joints never exceeded", optional=True
    )
    for every in ("450", "225"):
        stem = f"movement_joint.spacing.reinforced_{every}"
        meaning = f"greatest length of wall between movement joints where beds no more than {every} mm apart are reinforced"
        yield from per_material(stem, "mm", meaning)
        yield from per_material(f"{stem}.over_140", "mm", f"{meaning}, thicker than 140 mm", optional=True)
        yield number(f"{stem}.limit.clay", "mm", f"{meaning}, never exceeded, clay", optional=True)
    yield from per_material("movement_joint.width.nominal", "mm", "width of a movement joint at the normal spacing")
    yield number("movement_joint.width.per_metre.clay", "mm_per_m", "width of a joint in clay for each metre of spacing")
    yield Key("movement_joint.corner.kind", "word", "word", "how the first joint off a corner is limited", CORNER_KINDS)
    yield number("movement_joint.corner.fraction", "ratio", "greatest distance from a corner to its first joint, of the spacing")
    yield from per_material("movement_joint.panel_ratio", "ratio", "greatest length of a panel to its height")
    yield from per_material(
        "movement_joint.panel_ratio.warn", "ratio", "length to height a stricter document allows a panel", optional=True
    )
    yield number("movement_joint.short_return.clay", "mm", "a return in clay shorter than this needs a joint")
    yield number("movement_joint.short_return.flag", "mm", "a return shorter than this is pointed out")
    yield number("movement_joint.beside_opening.clear", "mm", "distance a joint prefers to keep from a reveal", may_be_zero=True)
    yield number("movement_joint.beside_corner.clear", "mm", "distance a joint prefers to keep from an outer corner")
    yield number("movement_joint.parapet.fraction", "ratio", "spacing in a parapet, of the normal spacing")
    yield number("movement_joint.parapet.corner", "mm", "distance from a corner to the first joint in a parapet")
    yield number("movement_joint.free_standing.fraction", "ratio", "spacing in a free-standing wall, of the normal spacing")
    yield number("movement_joint.free_standing.spacing.clay", "mm", "greatest spacing in a free-standing wall of clay")
    yield number("movement_joint.change_of_height", "mm", "a step in a wall's top or base higher than this needs a joint")
    yield number("movement_joint.change_of_thickness", "mm", "a change of thickness in line greater than this needs a joint")
    yield Key("movement_joint.unlike_materials", "word", "word", "materials that need a joint where they meet", UNLIKE_KINDS)
    yield Key("movement_joint.old_to_new", "word", "word", "what old masonry and new need where they meet", OLD_TO_NEW_KINDS)
    yield number("sealant.width_to_depth", "ratio", "width of a sealant bead to its depth")
    yield number("sealant.depth.min", "mm", "least depth of a sealant bead")
    yield number("backer_rod.oversize", "ratio", "diameter of the backer rod to the width of the joint")


def movement() -> Iterator[Key]:
    """How masonry moves by temperature and moisture."""
    yield from _ranged("movement.thermal", "mm/m/K", "movement by temperature")
    yield from _ranged("movement.moisture", "mm/m", "movement by moisture that stays, growth positive", signed=True)
    yield from _ranged("movement.reversible", "mm/m", "movement by moisture that comes and goes", may_be_zero=True)
    yield number("movement.temperature_range", "K", "range of temperature of the masonry")
    yield number("movement.temperature_range.inside", "K", "range of temperature of masonry out of the weather", optional=True)
    yield number("movement.temperature.air.hottest", "degC", "hottest the air gets in the shade", optional=True, signed=True)
    yield number("movement.temperature.air.coldest", "degC", "coldest the air gets", optional=True, signed=True)
    for colour in COLOURS:
        meaning = f"how much hotter than the air the sun makes a wall, {colour} colour"
        yield number(f"movement.temperature.sun.{colour}", "K", meaning, optional=True, may_be_zero=True)
    yield number("movement.temperature.laying.low", "degC", "coldest that masonry is laid", optional=True, signed=True)
    yield number("movement.temperature.laying.high", "degC", "hottest that masonry is laid", optional=True, signed=True)
    yield Key("movement.colour", "word", "word", "colour a leaf is taken to have unless it is told", COLOURS, optional=True)
    yield number("movement.other", "mm", "other movement a joint has to take, such as that of a frame", optional=True)


def _ranged(stem: str, unit: RuleUnit, meaning: str, *, signed: bool = False, may_be_zero: bool = False) -> Iterator[Key]:
    """A property of each material as a range, `<stem>.low.<material>` to `.high.`, and as the one figure of the product used.

    The product's figure takes the place of the range: sets seldom have one, overrides do.
    """
    for end, words in (("low.", "least"), ("high.", "greatest"), ("", "of the product used")):
        for material in MATERIALS:
            said = f"{meaning}, {words}, {material.replace('_', ' ')}"
            key = f"{stem}.{end}{material}"
            yield number(key, unit, said, optional=not end, signed=signed, may_be_zero=may_be_zero)


def joint_filling() -> Iterator[Key]:
    """What a joint is sealed and filled with, and how closely it is built."""
    yield number("movement_joint.tolerance", "mm", "how much narrower than drawn a joint may be built", may_be_zero=True)
    yield number("movement_joint.left_open", "mm", "what must be left of a joint when it has closed", optional=True)
    yield number("sealant.movement_capability", "percent", "how far the sealant may move, of the width of the joint")
    yield Key("sealant.capability_of", "word", "word", "which width the sealant's movement is a share of", CAPABILITY_OF)
    yield number("sealant.width.min", "mm", "narrowest joint a sealant fills")
    yield number("sealant.width.max", "mm", "widest joint a sealant spans")
    yield number("sealant.depth.max_to_width", "ratio", "greatest depth of a sealant bead to its width")
    yield Key("backer_rod.sizes", "mm", "sizes", "diameters in which backer rod is sold")
    for material in MATERIALS:
        words = material.replace("_", " ")
        yield Key(f"filler.allowed.{material}", "word", "words", f"what a joint may be filled with, {words}", FILLERS)
    for material in MATERIALS:
        words = material.replace("_", " ")
        meaning = f"what a joint must not be filled with, {words}"
        yield Key(f"filler.barred.{material}", "word", "words", meaning, FILLERS, optional=True)
    yield from per_material("filler.strip_to_width", "ratio", "thickness of the strip to the joint it fills", optional=True)


def joints_by_kind_of_wall() -> Iterator[Key]:
    """Rules some countries have for walls with openings, low units, steel, corners of their own. Optional, every one of them."""
    stem = "movement_joint"
    for material in MATERIALS:
        words = f"how the first joint off a corner is limited, where it is not as for the others, {material.replace('_', ' ')}"
        yield Key(f"{stem}.corner.kind.{material}", "word", "word", words, CORNER_KINDS, optional=True)
    yield number(f"{stem}.corner.within", "mm", "distance from a corner within which one of its walls has a joint", optional=True)
    meaning = "distance a joint prefers to keep from a corner, of the wall's height"
    yield number(f"{stem}.corner.height_fraction", "ratio", meaning, optional=True)
    meaning = "greatest length of wall between movement joints in a wall with openings"
    yield from per_material(f"{stem}.spacing.with_openings", "mm", meaning, optional=True)
    yield number(f"{stem}.with_openings.number", "nr", "openings from which a wall counts as one with openings", optional=True)
    for side, words in (("width", "wide"), ("height", "high")):
        meaning = f"an opening up to this {words} does not make a wall one with openings"
        yield number(f"{stem}.with_openings.{side}", "mm", meaning, optional=True, may_be_zero=True)
    meaning = "greatest length of wall between movement joints where units are low"
    yield from per_material(f"{stem}.spacing.low_units", "mm", meaning, optional=True)
    yield number(f"{stem}.low_units.height", "mm", "a unit up to this high is low", optional=True)
    meaning = "least steel in the beds, for each metre of height, without which the spacing does not hold"
    yield from per_material(f"{stem}.spacing.steel", "mm2/m", meaning, optional=True)
    yield from per_material(f"{stem}.parapet.spacing", "mm", "greatest length of parapet between movement joints", optional=True)
    meaning = "a parapet whose beds are reinforced this near together keeps the spacing of the wall"
    yield number(f"{stem}.parapet.reinforced_every", "mm", meaning, optional=True)
    yield from _at_openings(f"{stem}.at_opening")
    yield number(f"{stem}.high_wall.height", "mm", "a wall higher than this has wider joints", optional=True)
    yield number(f"{stem}.high_wall.width", "mm", "least width of a joint in a wall that high", optional=True)
    meaning = "a step in a wall's top or base that is more than this of its height needs a joint"
    yield number(f"{stem}.change_of_height.fraction", "ratio", meaning, optional=True)


def _at_openings(stem: str) -> Iterator[Key]:
    for sides, words in (("one_side", "a joint near one side"), ("both_sides", "a joint near each side")):
        for material in MATERIALS:
            meaning = f"an opening wider than this has {words}, {material.replace('_', ' ')}"
            yield number(f"{stem}.{sides}.{material}", "mm", meaning, optional=True, may_be_zero=True)
    yield number(f"{stem}.within", "mm", "how near an opening a joint that it asks for stands", optional=True)
    meaning = "what lets an opening do without the joints it asks for"
    yield Key(f"{stem}.instead", "word", "word", meaning, INSTEAD_OF_JOINTS, optional=True)
