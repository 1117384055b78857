"""Every rule key, declared once: its unit, what kind of value it takes, and what it means.

Lengths are stored in millimetres; a rule file may write them in m, mm, in or ft.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

Kind = Literal["number", "word", "bands", "sizes", "words"]
RuleUnit = Literal[
    "mm", "ml", "mm_per_m", "ratio", "nr", "per_m2", "percent", "mm/m/K", "mm/m", "K", "degC", "kg", "kg/m3", "deg", "word",
    "MPa", "mm2/m", "per_MPa", "m3/m2", "m3/1000",
]  # fmt: skip

MATERIALS = ("clay", "calcium_silicate", "dense_concrete", "lightweight_concrete", "aircrete", "stone")
"""The materials keys are made for, as the spec spells them."""

LINTEL_KINDS = ("pressed_steel", "steel_angle", "concrete", "stone")
HEAVY_LINTELS = ("concrete", "stone")
"""Kinds of lintel that are solid: how heavy one is follows from its size."""
"""What lintels are, as the spec spells it."""

CORNER_KINDS = ("half_spacing_each_side", "sum_round_corner", "one_side_within")
UNLIKE_KINDS = ("clay_with_shrinking", "any_two", "none")
"""Which materials part where they meet: clay, which grows, from what shrinks (concrete, calcium silicate); any two; none."""
OLD_TO_NEW_KINDS = ("joint", "none")
COLOURS = ("light", "medium", "dark")
"""How much of the sun's heat a wall takes up: pale brick or render, common red or buff, dark red to black."""
CAPABILITY_OF = ("installed_width", "closed_width")
"""The width of a joint that a sealant's movement capability is a share of: as sealed, or when the joint is at its narrowest."""
DPC_SHEETS = ("polyethylene", "bitumen", "pitch_polymer", "metal")
FILLERS = ("polyethylene_foam", "polyurethane_foam", "foam_rubber", "hemp", "fibreboard", "cork")


class Key(NamedTuple):
    """One rule a set can have a value for.

    `choices` are the words allowed; `may_be_zero` is True where 0 is a rule too, `signed` where less than 0 is;
    `optional` where a set that has no value leaves nothing unchecked.
    """

    key: str
    unit: RuleUnit
    kind: Kind
    meaning: str
    choices: tuple[str, ...] = ()
    may_be_zero: bool = False
    optional: bool = False
    signed: bool = False


def _number(
    key: str, unit: RuleUnit, meaning: str, *, may_be_zero: bool = False, optional: bool = False, signed: bool = False
) -> Key:
    return Key(key, unit, "number", meaning, may_be_zero=may_be_zero, optional=optional, signed=signed)


def _per_material(stem: str, unit: RuleUnit, meaning: str, *, optional: bool = False) -> Iterator[Key]:
    for material in MATERIALS:
        yield _number(f"{stem}.{material}", unit, f"{meaning}, {material.replace('_', ' ')}", optional=optional)


def _movement_joints() -> Iterator[Key]:
    yield from _per_material("movement_joint.spacing.normal", "mm", "usual greatest length of wall between movement joints")
    yield from _per_material(
        "movement_joint.spacing.limit", "mm", "length of wall between movement joints never exceeded", optional=True
    )
    for every in ("450", "225"):
        stem = f"movement_joint.spacing.reinforced_{every}"
        meaning = f"greatest length of wall between movement joints where beds no more than {every} mm apart are reinforced"
        yield from _per_material(stem, "mm", meaning)
        yield from _per_material(f"{stem}.over_140", "mm", f"{meaning}, thicker than 140 mm", optional=True)
        yield _number(f"{stem}.limit.clay", "mm", f"{meaning}, never exceeded, clay", optional=True)
    yield from _per_material("movement_joint.width.nominal", "mm", "width of a movement joint at the normal spacing")
    yield _number("movement_joint.width.per_metre.clay", "mm_per_m", "width of a joint in clay for each metre of spacing")
    yield Key("movement_joint.corner.kind", "word", "word", "how the first joint off a corner is limited", CORNER_KINDS)
    yield _number("movement_joint.corner.fraction", "ratio", "greatest distance from a corner to its first joint, of the spacing")
    yield from _per_material("movement_joint.panel_ratio", "ratio", "greatest length of a panel to its height")
    yield from _per_material(
        "movement_joint.panel_ratio.warn", "ratio", "length to height a stricter document allows a panel", optional=True
    )
    yield _number("movement_joint.short_return.clay", "mm", "a return in clay shorter than this needs a joint")
    yield _number("movement_joint.short_return.flag", "mm", "a return shorter than this is pointed out")
    yield _number("movement_joint.beside_opening.clear", "mm", "distance a joint prefers to keep from a reveal")
    yield _number("movement_joint.beside_corner.clear", "mm", "distance a joint prefers to keep from an outer corner")
    yield _number("movement_joint.parapet.fraction", "ratio", "spacing in a parapet, of the normal spacing")
    yield _number("movement_joint.parapet.corner", "mm", "distance from a corner to the first joint in a parapet")
    yield _number("movement_joint.free_standing.fraction", "ratio", "spacing in a free-standing wall, of the normal spacing")
    yield _number("movement_joint.free_standing.spacing.clay", "mm", "greatest spacing in a free-standing wall of clay")
    yield _number("movement_joint.change_of_height", "mm", "a step in a wall's top or base higher than this needs a joint")
    yield _number("movement_joint.change_of_thickness", "mm", "a change of thickness in line greater than this needs a joint")
    yield Key("movement_joint.unlike_materials", "word", "word", "materials that need a joint where they meet", UNLIKE_KINDS)
    yield Key("movement_joint.old_to_new", "word", "word", "what old masonry and new need where they meet", OLD_TO_NEW_KINDS)
    yield _number("sealant.width_to_depth", "ratio", "width of a sealant bead to its depth")
    yield _number("sealant.depth.min", "mm", "least depth of a sealant bead")
    yield _number("backer_rod.oversize", "ratio", "diameter of the backer rod to the width of the joint")


def _movement() -> Iterator[Key]:
    yield from _ranged("movement.thermal", "mm/m/K", "movement by temperature")
    yield from _ranged("movement.moisture", "mm/m", "movement by moisture that stays, growth positive", signed=True)
    yield from _ranged("movement.reversible", "mm/m", "movement by moisture that comes and goes", may_be_zero=True)
    yield _number("movement.temperature_range", "K", "range of temperature of the masonry")
    yield _number("movement.temperature_range.inside", "K", "range of temperature of masonry out of the weather", optional=True)
    yield _number("movement.temperature.air.hottest", "degC", "hottest the air gets in the shade", optional=True, signed=True)
    yield _number("movement.temperature.air.coldest", "degC", "coldest the air gets", optional=True, signed=True)
    for colour in COLOURS:
        meaning = f"how much hotter than the air the sun makes a wall, {colour} colour"
        yield _number(f"movement.temperature.sun.{colour}", "K", meaning, optional=True, may_be_zero=True)
    yield _number("movement.temperature.laying.low", "degC", "coldest that masonry is laid", optional=True, signed=True)
    yield _number("movement.temperature.laying.high", "degC", "hottest that masonry is laid", optional=True, signed=True)
    yield Key("movement.colour", "word", "word", "colour a leaf is taken to have unless it is told", COLOURS, optional=True)
    yield _number("movement.other", "mm", "other movement a joint has to take, such as that of a frame", optional=True)


def _ranged(stem: str, unit: RuleUnit, meaning: str, *, signed: bool = False, may_be_zero: bool = False) -> Iterator[Key]:
    """A property of each material as a range, `<stem>.low.<material>` to `.high.`, and as the one figure of the product used.

    The product's figure takes the place of the range: sets seldom have one, overrides do.
    """
    for end, words in (("low.", "least"), ("high.", "greatest"), ("", "of the product used")):
        for material in MATERIALS:
            said = f"{meaning}, {words}, {material.replace('_', ' ')}"
            key = f"{stem}.{end}{material}"
            yield _number(key, unit, said, optional=not end, signed=signed, may_be_zero=may_be_zero)


def _joint_filling() -> Iterator[Key]:
    yield _number("movement_joint.tolerance", "mm", "how much narrower than drawn a joint may be built", may_be_zero=True)
    yield _number("movement_joint.left_open", "mm", "what must be left of a joint when it has closed", optional=True)
    yield _number("sealant.movement_capability", "percent", "how far the sealant may move, of the width of the joint")
    yield Key("sealant.capability_of", "word", "word", "which width the sealant's movement is a share of", CAPABILITY_OF)
    yield _number("sealant.width.min", "mm", "narrowest joint a sealant fills")
    yield _number("sealant.width.max", "mm", "widest joint a sealant spans")
    yield _number("sealant.depth.max_to_width", "ratio", "greatest depth of a sealant bead to its width")
    yield Key("backer_rod.sizes", "mm", "sizes", "diameters in which backer rod is sold")
    for material in MATERIALS:
        words = material.replace("_", " ")
        yield Key(f"filler.allowed.{material}", "word", "words", f"what a joint may be filled with, {words}", FILLERS)
    for material in MATERIALS:
        words = material.replace("_", " ")
        meaning = f"what a joint must not be filled with, {words}"
        yield Key(f"filler.barred.{material}", "word", "words", meaning, FILLERS, optional=True)
    yield from _per_material("filler.strip_to_width", "ratio", "thickness of the strip to the joint it fills", optional=True)


def _reinforcement() -> Iterator[Key]:
    yield _number("bed_reinforcement.courses_above", "nr", "beds reinforced above an opening", may_be_zero=True)
    yield _number("bed_reinforcement.courses_below", "nr", "beds reinforced below an opening", may_be_zero=True)
    yield _number("bed_reinforcement.reach", "mm", "how far reinforcement goes past a reveal")
    yield _number("bed_reinforcement.lap", "mm", "least lap between two lengths")
    yield _number("bed_reinforcement.cover", "mm", "mortar between reinforcement and the outer face")
    yield _number("bed_reinforcement.joint_clearance", "mm", "how far short of a movement joint reinforcement stops")
    yield _number("bed_reinforcement.wire.min", "mm", "least wire diameter")
    yield _number("bed_reinforcement.stock_length", "mm", "length reinforcement is sold in")
    yield _number("bed_reinforcement.merge_gap", "mm", "lengths in one bed that stand this near are made one", may_be_zero=True)


def _reinforcement_laid() -> Iterator[Key]:
    stem = "bed_reinforcement"
    yield _number(f"{stem}.stagger", "mm", "least distance between laps in neighbouring reinforced beds", optional=True)
    yield _number(
        f"{stem}.stagger.height", "mm", "reinforced beds this near are neighbours whose laps are staggered", optional=True
    )
    yield _number(f"{stem}.parapet.spacing", "mm", "greatest distance between reinforced beds of a parapet", optional=True)
    meaning = "perpends one after another that lap too little before the bed between is reinforced"
    yield _number(f"{stem}.short_laps", "nr", meaning, optional=True)
    yield _number(f"{stem}.wire.diameter", "mm", "diameter of the long wires used", optional=True)
    yield _number(f"{stem}.wire.number", "nr", "long wires side by side in a bed", optional=True)
    yield _number(f"{stem}.wire.strength", "MPa", "stress at which the wires yield", optional=True)
    yield _number(f"{stem}.masonry_tension", "MPa", "tension along its beds at which masonry cracks", optional=True)
    yield _number(f"{stem}.bed_over_wire", "mm", "how much thicker than its wires a bed is at least", optional=True)
    yield _number(f"{stem}.lap.diameters", "ratio", "least lap between two lengths, of the diameter of a wire", optional=True)
    meaning = "length in which a wire takes hold, of its diameter, for each unit of stress in it"
    yield _number(f"{stem}.development.per_stress", "per_MPa", meaning, optional=True)
    yield _number(f"{stem}.development.stress", "MPa", "stress in a wire that its laps are made for", optional=True)
    yield _number(f"{stem}.development.min", "mm", "least length in which a wire takes hold", optional=True)
    meaning = "least steel in the beds of a leaf reinforced all over"
    yield _number(f"{stem}.area.fraction", "ratio", f"{meaning}, of its section", optional=True)
    yield _number(f"{stem}.area.per_height", "mm2/m", f"{meaning}, for each metre of its height", optional=True)


def _ties() -> Iterator[Key]:
    yield _number("tie.spacing.horizontal", "mm", "greatest distance between ties along a bed")
    yield _number("tie.spacing.vertical", "mm", "greatest distance between beds with ties")
    yield _number("tie.edge.distance", "mm", "greatest distance of ties beside a reveal or movement joint from its edge")
    yield _number("tie.edge.vertical", "mm", "greatest distance up the wall between ties beside a reveal or movement joint")
    yield _number("tie.verge.horizontal", "mm", "greatest distance between ties along a verge")
    yield _number("tie.verge.vertical", "mm", "greatest distance up the wall between ties at a verge")
    yield _number("tie.top.vertical", "mm", "greatest distance of ties below a top that is neither free nor a verge")
    yield _number("tie.free_top.distance", "mm", "greatest distance of ties below a free top")
    yield _number("tie.free_top.horizontal", "mm", "greatest distance between ties along a free top")
    yield _number("tie.edge.clear", "mm", "least distance of a tie from a reveal, a movement joint or the end of a leaf")
    yield _number("tie.apart", "mm", "least distance between two ties in one bed")
    yield _number("tie.slip.vertical", "mm", "greatest distance up the wall between slip ties across a movement joint")
    yield _number("tie.embedment", "mm", "least length of a tie in each leaf")
    yield _number("tie.cover", "mm", "least mortar between the end of a tie and the face of its leaf")
    yield _number("tie.density", "per_m2", "least number of ties to a square metre")
    yield _number("tie.partition.vertical", "mm", "greatest distance up the wall between ties of a partition")
    yield Key("tie.length", "mm", "bands", "length of tie by width of cavity (up to, length)")
    yield _number("tie.beds.tolerance", "mm", "how far beds of two leaves may differ and still share a tie", may_be_zero=True)


def _lintels_and_damp_proofing() -> Iterator[Key]:
    yield _number("lintel.bearing.short.simple", "mm", "least bearing over a short span, no tray")
    yield _number("lintel.bearing.short.tray", "mm", "least bearing over a short span where the lintel carries a tray")
    yield _number("lintel.bearing.long", "mm", "least bearing over a longer span")
    yield _number("lintel.bearing.short_span", "mm", "longest clear span that counts as short")
    for kind in LINTEL_KINDS:
        words = kind.replace("_", " ")
        yield _number(f"lintel.bearing.kind.{kind}", "mm", f"least bearing of a lintel of {words}", optional=True)
    yield _number("lintel.length_step", "mm", "step in which lintels are made longer")
    for kind in HEAVY_LINTELS:
        yield _number(f"lintel.density.{kind}", "kg/m3", f"greatest usual density of a lintel of {kind}")
    yield _number("lintel.prop.spacing", "mm", "greatest distance between props under a concrete lintel that is built on")
    yield _number("dpc.above_ground", "mm", "least height of the damp-proof course above ground")
    yield _number("dpc.lap", "mm", "least lap between two lengths of damp-proof course")
    yield _number("tray.past_lintel", "mm", "how far a cavity tray goes past the lintel or the closer")
    yield _number("tray.rise", "mm", "least rise of a tray across the cavity")
    yield _number("weep.spacing", "mm", "greatest distance between weep holes over a tray")
    yield _number("weep.minimum", "nr", "least number of weep holes over an opening")
    yield _number("dpc.roll_length", "mm", "length a damp-proof course is sold in")
    yield Key(
        "dpc.coping.barred", "word", "words", "what a damp-proof course under a coping must not be of", DPC_SHEETS, optional=True
    )
    yield _number("cavity.below_dpc", "mm", "least depth of cavity left empty under the damp-proof course")
    yield _number("tray.built_in", "mm", "how far a tray goes into the inner leaf")
    yield Key("tray.barred", "word", "words", "what a cavity tray must not be of", DPC_SHEETS, optional=True)
    yield _number("tray.abutment.above", "mm", "least height of a tray above a lower roof that meets the wall")
    yield _number("tray.step.length", "mm", "least length of a tray in a stepped row")
    yield _number("tray.step.lap", "mm", "how far a stepped tray goes under the next one up")
    yield _number("finish.above_dpc", "mm", "how far above the damp-proof course render begins")
    yield _number("finish.mesh.length", "mm", "length of the mesh across the corner of an opening")
    yield _number("finish.mesh.width", "mm", "width of the mesh across the corner of an opening")


def _lintel_loads() -> Iterator[Key]:
    stem = "lintel.load"
    yield _number(f"{stem}.triangle.base", "ratio", "base of the load triangle over a lintel to its clear span")
    yield _number(f"{stem}.triangle.angle", "deg", "angle at which the sides of the load triangle rise")
    yield _number(f"{stem}.triangle.share", "ratio", "share of a load in the load triangle that the lintel carries")
    yield _number(f"{stem}.zone.angle", "deg", "angle at which the sides of the zone round the load triangle rise")
    yield _number(f"{stem}.zone.share", "ratio", "share of a load in that zone that the lintel carries", may_be_zero=True)
    yield _number(f"{stem}.zone.masonry", "ratio", "share of the masonry in that zone that the lintel carries", may_be_zero=True)
    yield _number(f"{stem}.spread.angle", "deg", "angle at which a load spreads on its way down through masonry")
    yield _number(f"{stem}.span.one_storey", "mm", "longest clear span the load triangle is for, in one storey")
    yield _number(f"{stem}.span.more_storeys", "mm", "longest clear span the load triangle is for, in more storeys")
    yield _number(f"{stem}.storeys.max", "nr", "most storeys the load triangle is for")
    yield _number(f"{stem}.storey_height.min", "mm", "heads of openings this far over datum and over one another make a storey")
    yield _number(f"{stem}.side.min", "mm", "least masonry at each side of an opening over which masonry arches")
    yield _number(f"{stem}.side.fraction", "ratio", "least masonry at each side of such an opening, of its clear span")
    yield _number(f"{stem}.arching.angle", "deg", "angle at which the sides of the triangle rise under which masonry arches")
    yield _number(f"{stem}.arching.above_apex", "mm", "least height of wall over the point of that triangle")
    yield _number(f"{stem}.arching.bearing", "mm", "least bearing of a lintel over which masonry arches")
    yield _number(f"{stem}.arching.cone", "deg", "angle of the sides of the cone in which a load at one point spreads")
    yield _number(f"{stem}.mortar.density", "kg/m3", "greatest usual density of mortar, for the weight of masonry")


def _coursing() -> Iterator[Key]:
    yield _number("bond.lap.fraction", "ratio", "least lap of a unit over the one below, of its length")
    for which, meaning in (("shallow", "units up to the height where the rule changes"), ("tall", "taller units")):
        yield _number(f"bond.lap.{which}.height_fraction", "ratio", f"least lap of {meaning}, of their height", optional=True)
        yield _number(f"bond.lap.{which}.min", "mm", f"least lap of {meaning}, however low they are", optional=True)
    yield _number("bond.lap.shallow.height", "mm", "height of a unit past which the lap is another part of it", optional=True)
    yield _number("bond.piece.min_fraction", "ratio", "least length of a cut piece, of a unit")
    yield _number("bond.opening.clear", "mm", "distance perpends keep from the line of an opening's corner", may_be_zero=True)
    yield _number("bond.opening.courses", "nr", "courses over a head and under a sill in which they keep it", may_be_zero=True)
    yield _number("bond.lintel_end.clear", "mm", "distance perpends on a lintel keep from its ends", may_be_zero=True)
    yield _number("bond.stack.bed_spacing", "mm", "greatest distance between reinforced beds where units do not lap")
    yield _number("perpend.min", "mm", "least width of a perpend")
    yield _number("perpend.max", "mm", "greatest width of a perpend")
    yield _number("bed.tolerance", "mm", "how far a bed may differ from the average of eight")
    yield _number("joint.nominal", "mm", "bed and perpend where a unit has none of its own")
    yield _number("opening.pier.min", "mm", "narrowest masonry between two openings side by side")
    yield _number("opening.pier.coordinated", "mm", "masonry beside an opening up to this long is a number of half units long")
    yield _number("opening.strip.min", "mm", "lowest masonry between two openings over each other")
    yield _number("coursing.split.min", "mm", "least height of a unit cut in height")


def _cutting_and_lifting() -> Iterator[Key]:
    yield _number("cutting.saw", "mm", "what a saw takes away of a unit with each cut")
    yield _number("lift.height", "mm", "height of a scaffold lift")
    yield _number("lifting.mass", "kg", "heaviest unit one person lifts")
    yield from _per_material("unit.density", "kg/m3", "greatest usual density of a unit")


def _packs() -> Iterator[Key]:
    """What materials are sold in, beside `dpc.roll_length` and `bed_reinforcement.stock_length`."""
    yield _number("pack.sealant.cartridge", "ml", "sealant in a cartridge", optional=True)
    yield _number("pack.sealant.foil_pack", "ml", "sealant in a foil pack", optional=True)


_WASTE = ("units", "mortar", "dpc", "ties", "bed_reinforcement", "sealant", "filler", "lintels", "finishes")


def _waste() -> Iterator[Key]:
    for item in _WASTE:
        yield _number(f"waste.{item}", "percent", f"added to the order for waste, {item.replace('_', ' ')}", may_be_zero=True)


def _thumbs() -> Iterator[Key]:
    """Rules of thumb an estimator knows: shown beside what was measured, nothing rests on them. So they may be missing."""
    for wall, words in (("half_brick", "half-brick wall"), ("one_brick", "one-brick wall")):
        yield _number(f"thumb.units.{wall}", "per_m2", f"rule of thumb: bricks to a square metre of {words}", optional=True)
        yield _number(f"thumb.mortar.{wall}", "m3/m2", f"rule of thumb: mortar to a square metre of {words}", optional=True)
        yield _number(
            f"thumb.mortar.thousand.{wall}", "m3/1000", f"rule of thumb: mortar to a thousand bricks of {words}", optional=True
        )
    yield _number("thumb.units.block", "per_m2", "rule of thumb: blocks 440 by 215 to a square metre", optional=True)
    for thickness in ("100", "140", "215"):
        words = f"rule of thumb: mortar to a square metre of blocks {thickness} mm thick"
        yield _number(f"thumb.mortar.block_{thickness}", "m3/m2", words, optional=True)
    yield _number("thumb.mortar.mass.brick", "kg", "rule of thumb: mortar to a brick, waste in it", optional=True)
    yield _number(
        "thumb.mortar.mass.block_100", "kg", "rule of thumb: mortar to a block 100 mm thick, waste in it", optional=True
    )


def _all() -> Iterator[Key]:
    yield from _movement_joints()
    yield from _movement()
    yield from _joint_filling()
    yield from _reinforcement()
    yield from _reinforcement_laid()
    yield from _ties()
    yield from _lintels_and_damp_proofing()
    yield from _lintel_loads()
    yield from _coursing()
    yield from _cutting_and_lifting()
    yield from _packs()
    yield from _waste()
    yield from _thumbs()


KEYS: Mapping[str, Key] = MappingProxyType({key.key: key for key in _all()})
"""Every key by name."""
