"""Every rule key, declared once: its unit, what kind of value it takes, and what it means.

Those of movement joints are in `joint_keys`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from elevgen.rules.joint_keys import joint_filling, joints_by_kind_of_wall, movement, movement_joints
from elevgen.rules.key import ANGLE_STOREYS, ANGLES, DPC_SHEETS, HEAVY_LINTELS, LINTEL_KINDS, MATERIALS, Key, number, per_material

__all__ = ["KEYS", "MATERIALS", "Key"]


def _reinforcement() -> Iterator[Key]:
    yield number("bed_reinforcement.courses_above", "nr", "beds reinforced above an opening", may_be_zero=True)
    yield number("bed_reinforcement.courses_below", "nr", "beds reinforced below an opening", may_be_zero=True)
    yield number("bed_reinforcement.reach", "mm", "how far reinforcement goes past a reveal")
    yield number("bed_reinforcement.lap", "mm", "least lap between two lengths")
    yield number("bed_reinforcement.cover", "mm", "mortar between reinforcement and the outer face")
    yield number("bed_reinforcement.joint_clearance", "mm", "how far short of a movement joint reinforcement stops")
    yield number("bed_reinforcement.wire.min", "mm", "least wire diameter")
    yield number("bed_reinforcement.stock_length", "mm", "length reinforcement is sold in")
    yield number("bed_reinforcement.merge_gap", "mm", "lengths in one bed that stand this near are made one", may_be_zero=True)


def _reinforcement_laid() -> Iterator[Key]:
    stem = "bed_reinforcement"
    yield number(f"{stem}.stagger", "mm", "least distance between laps in neighbouring reinforced beds", optional=True)
    yield number(
        f"{stem}.stagger.height", "mm", "reinforced beds this near are neighbours whose laps are staggered", optional=True
    )
    yield number(f"{stem}.parapet.spacing", "mm", "greatest distance between reinforced beds of a parapet", optional=True)
    meaning = "perpends one after another that lap too little before the bed between is reinforced"
    yield number(f"{stem}.short_laps", "nr", meaning, optional=True)
    yield number(f"{stem}.wire.diameter", "mm", "diameter of the long wires used", optional=True)
    yield number(f"{stem}.wire.number", "nr", "long wires side by side in a bed", optional=True)
    yield number(f"{stem}.wire.strength", "MPa", "stress at which the wires yield", optional=True)
    yield number(f"{stem}.masonry_tension", "MPa", "tension along its beds at which masonry cracks", optional=True)
    yield number(f"{stem}.bed_over_wire", "mm", "how much thicker than its wires a bed is at least", optional=True)
    yield number(f"{stem}.lap.diameters", "ratio", "least lap between two lengths, of the diameter of a wire", optional=True)
    meaning = "length in which a wire takes hold, of its diameter, for each unit of stress in it"
    yield number(f"{stem}.development.per_stress", "per_MPa", meaning, optional=True)
    yield number(f"{stem}.development.stress", "MPa", "stress in a wire that its laps are made for", optional=True)
    yield number(f"{stem}.development.min", "mm", "least length in which a wire takes hold", optional=True)
    meaning = "least steel in the beds of a leaf reinforced all over"
    yield number(f"{stem}.area.fraction", "ratio", f"{meaning}, of its section", optional=True)
    yield number(f"{stem}.area.per_height", "mm2/m", f"{meaning}, for each metre of its height", optional=True)


def _ties() -> Iterator[Key]:
    yield number("tie.spacing.horizontal", "mm", "greatest distance between ties along a bed")
    yield number("tie.spacing.vertical", "mm", "greatest distance between beds with ties")
    yield number("tie.edge.distance", "mm", "greatest distance of ties beside a reveal or movement joint from its edge")
    yield number("tie.edge.vertical", "mm", "greatest distance up the wall between ties beside a reveal or movement joint")
    yield number("tie.verge.horizontal", "mm", "greatest distance between ties along a verge")
    yield number("tie.verge.vertical", "mm", "greatest distance up the wall between ties at a verge")
    yield number("tie.top.vertical", "mm", "greatest distance of ties below a top that is neither free nor a verge")
    yield number("tie.free_top.distance", "mm", "greatest distance of ties below a free top")
    yield number("tie.free_top.horizontal", "mm", "greatest distance between ties along a free top")
    yield number("tie.edge.clear", "mm", "least distance of a tie from a reveal, a movement joint or the end of a leaf")
    yield number("tie.apart", "mm", "least distance between two ties in one bed")
    yield number("tie.slip.vertical", "mm", "greatest distance up the wall between slip ties across a movement joint")
    yield number("tie.embedment", "mm", "least length of a tie in each leaf")
    yield number("tie.cover", "mm", "least mortar between the end of a tie and the face of its leaf")
    yield number("tie.density", "per_m2", "least number of ties to a square metre")
    yield number("tie.partition.vertical", "mm", "greatest distance up the wall between ties of a partition")
    yield Key("tie.length", "mm", "bands", "length of tie by width of cavity (up to, length)")
    yield number("tie.beds.tolerance", "mm", "how far beds of two leaves may differ and still share a tie", may_be_zero=True)


def _lintels_and_damp_proofing() -> Iterator[Key]:
    yield number("lintel.bearing.short.simple", "mm", "least bearing over a short span, no tray")
    yield number("lintel.bearing.short.tray", "mm", "least bearing over a short span where the lintel carries a tray")
    yield number("lintel.bearing.long", "mm", "least bearing over a longer span")
    yield number("lintel.bearing.short_span", "mm", "longest clear span that counts as short")
    for kind in LINTEL_KINDS:
        words = kind.replace("_", " ")
        yield number(f"lintel.bearing.kind.{kind}", "mm", f"least bearing of a lintel of {words}", optional=True)
    yield number("lintel.length_step", "mm", "step in which lintels are made longer")
    for kind in HEAVY_LINTELS:
        yield number(f"lintel.density.{kind}", "kg/m3", f"greatest usual density of a lintel of {kind}")
    yield number("lintel.prop.spacing", "mm", "greatest distance between props under a concrete lintel that is built on")
    yield number("dpc.above_ground", "mm", "least height of the damp-proof course above ground")
    yield number("dpc.lap", "mm", "least lap between two lengths of damp-proof course")
    yield number("tray.past_lintel", "mm", "how far a cavity tray goes past the lintel or the closer")
    yield number("tray.rise", "mm", "least rise of a tray across the cavity")
    yield number("weep.spacing", "mm", "greatest distance between weep holes over a tray")
    yield number("weep.minimum", "nr", "least number of weep holes over an opening")
    yield number("dpc.roll_length", "mm", "length a damp-proof course is sold in")
    yield Key(
        "dpc.coping.barred", "word", "words", "what a damp-proof course under a coping must not be of", DPC_SHEETS, optional=True
    )
    yield number("cavity.below_dpc", "mm", "least depth of cavity left empty under the damp-proof course")
    yield number("tray.built_in", "mm", "how far a tray goes into the inner leaf")
    yield Key("tray.barred", "word", "words", "what a cavity tray must not be of", DPC_SHEETS, optional=True)
    yield number("tray.abutment.above", "mm", "least height of a tray above a lower roof that meets the wall")
    yield number("tray.step.length", "mm", "least length of a tray in a stepped row")
    yield number("tray.step.lap", "mm", "how far a stepped tray goes under the next one up")
    yield number("finish.above_dpc", "mm", "how far above the damp-proof course render begins")
    yield number("finish.mesh.length", "mm", "length of the mesh across the corner of an opening")
    yield number("finish.mesh.width", "mm", "width of the mesh across the corner of an opening")


def _lintel_loads() -> Iterator[Key]:
    stem = "lintel.load"
    yield number(f"{stem}.triangle.base", "ratio", "base of the load triangle over a lintel to its clear span")
    yield number(f"{stem}.triangle.angle", "deg", "angle at which the sides of the load triangle rise")
    yield number(f"{stem}.triangle.share", "ratio", "share of a load in the load triangle that the lintel carries")
    yield number(f"{stem}.zone.angle", "deg", "angle at which the sides of the zone round the load triangle rise")
    yield number(f"{stem}.zone.share", "ratio", "share of a load in that zone that the lintel carries", may_be_zero=True)
    yield number(f"{stem}.zone.masonry", "ratio", "share of the masonry in that zone that the lintel carries", may_be_zero=True)
    yield number(f"{stem}.spread.angle", "deg", "angle at which a load spreads on its way down through masonry")
    yield number(f"{stem}.span.one_storey", "mm", "longest clear span the load triangle is for, in one storey")
    yield number(f"{stem}.span.more_storeys", "mm", "longest clear span the load triangle is for, in more storeys")
    yield number(f"{stem}.storeys.max", "nr", "most storeys the load triangle is for")
    yield number(f"{stem}.storey_height.min", "mm", "heads of openings this far over datum and over one another make a storey")
    yield number(f"{stem}.side.min", "mm", "least masonry at each side of an opening over which masonry arches")
    yield number(f"{stem}.side.fraction", "ratio", "least masonry at each side of such an opening, of its clear span")
    yield number(f"{stem}.arching.angle", "deg", "angle at which the sides of the triangle rise under which masonry arches")
    yield number(f"{stem}.arching.above_apex", "mm", "least height of wall over the point of that triangle")
    yield number(f"{stem}.arching.bearing", "mm", "least bearing of a lintel over which masonry arches")
    yield number(f"{stem}.arching.cone", "deg", "angle of the sides of the cone in which a load at one point spreads")
    yield number(f"{stem}.mortar.density", "kg/m3", "greatest usual density of mortar, for the weight of masonry")


def _lintel_angles() -> Iterator[Key]:
    yield number("lintel.needed_over", "mm", "an opening no wider than this needs no lintel of its own", optional=True)
    for angle in ANGLES:
        for storeys in ANGLE_STOREYS:
            over = {"none": "less than a storey", "one": "one storey"}.get(storeys, f"{storeys} storeys")
            meaning = f"longest clear span of a loose steel angle, {_angle(angle)}, {over} over it"
            yield number(f"lintel.angle.{angle}.{storeys}", "mm", meaning, optional=True)


def _angle(name: str) -> str:
    """`two 6 x 3 1/2 in` of `two_6x3_5`."""
    return f"{name.replace('3_5', '3 1/2').replace('_', ' ').replace('x', ' x ')} in"


def _site_tolerances() -> Iterator[Key]:
    """What finished masonry may be out by, for who sets it out and who checks it: none of it is drawn."""
    for what, words, far in (("level", "a bed may be out of level", "length"), ("plumb", "a wall may be out of plumb", "height")):
        yield number(f"tolerance.{what}.per_metre", "mm_per_m", f"how far {words}, for each metre", optional=True)
        yield number(f"tolerance.{what}.{far}", "mm", f"{far} up to which that holds", optional=True)
        yield number(f"tolerance.{what}.beyond", "mm", f"how far {words} over more than that {far}", optional=True)


def _coursing() -> Iterator[Key]:
    yield number("bond.lap.fraction", "ratio", "least lap of a unit over the one below, of its length")
    for which, meaning in (("shallow", "units up to the height where the rule changes"), ("tall", "taller units")):
        yield number(f"bond.lap.{which}.height_fraction", "ratio", f"least lap of {meaning}, of their height", optional=True)
        yield number(f"bond.lap.{which}.min", "mm", f"least lap of {meaning}, however low they are", optional=True)
    yield number("bond.lap.shallow.height", "mm", "height of a unit past which the lap is another part of it", optional=True)
    yield number("bond.piece.min_fraction", "ratio", "least length of a cut piece, of a unit")
    yield number("bond.opening.clear", "mm", "distance perpends keep from the line of an opening's corner", may_be_zero=True)
    yield number("bond.opening.courses", "nr", "courses over a head and under a sill in which they keep it", may_be_zero=True)
    yield number("bond.lintel_end.clear", "mm", "distance perpends on a lintel keep from its ends", may_be_zero=True)
    yield number("bond.stack.bed_spacing", "mm", "greatest distance between reinforced beds where units do not lap")
    yield number("perpend.min", "mm", "least width of a perpend")
    yield number("perpend.max", "mm", "greatest width of a perpend")
    yield number("bed.tolerance", "mm", "how far a bed may differ from the average of eight")
    yield number("joint.nominal", "mm", "bed and perpend where a unit has none of its own")
    yield number("opening.pier.min", "mm", "narrowest masonry between two openings side by side")
    yield number("opening.pier.coordinated", "mm", "masonry beside an opening up to this long is a number of half units long")
    yield number("opening.strip.min", "mm", "lowest masonry between two openings over each other")
    yield number("coursing.split.min", "mm", "least height of a unit cut in height")


def _cutting_and_lifting() -> Iterator[Key]:
    yield number("cutting.saw", "mm", "what a saw takes away of a unit with each cut")
    yield number("lift.height", "mm", "height of a scaffold lift")
    yield number("lifting.mass", "kg", "heaviest unit one person lifts")
    yield from per_material("unit.density", "kg/m3", "greatest usual density of a unit")


def _packs() -> Iterator[Key]:
    """What materials are sold in, beside `dpc.roll_length` and `bed_reinforcement.stock_length`."""
    yield number("pack.sealant.cartridge", "ml", "sealant in a cartridge", optional=True)
    yield number("pack.sealant.foil_pack", "ml", "sealant in a foil pack", optional=True)


_WASTE = ("units", "mortar", "dpc", "ties", "bed_reinforcement", "sealant", "filler", "lintels", "finishes")


def _waste() -> Iterator[Key]:
    for item in _WASTE:
        yield number(f"waste.{item}", "percent", f"added to the order for waste, {item.replace('_', ' ')}", may_be_zero=True)


def _thumbs() -> Iterator[Key]:
    """Rules of thumb an estimator knows: shown beside what was measured, nothing rests on them. So they may be missing."""
    for wall, words in (("half_brick", "half-brick wall"), ("one_brick", "one-brick wall")):
        yield number(f"thumb.units.{wall}", "per_m2", f"rule of thumb: bricks to a square metre of {words}", optional=True)
        yield number(f"thumb.mortar.{wall}", "m3/m2", f"rule of thumb: mortar to a square metre of {words}", optional=True)
        yield number(
            f"thumb.mortar.thousand.{wall}", "m3/1000", f"rule of thumb: mortar to a thousand bricks of {words}", optional=True
        )
    yield number("thumb.units.block", "per_m2", "rule of thumb: blocks of the usual face to a square metre", optional=True)
    for thickness in ("100", "140", "215"):
        words = f"rule of thumb: mortar to a square metre of blocks {thickness} mm thick"
        yield number(f"thumb.mortar.block_{thickness}", "m3/m2", words, optional=True)
    yield number("thumb.mortar.mass.brick", "kg", "rule of thumb: mortar to a brick, waste in it", optional=True)
    yield number("thumb.mortar.mass.block_100", "kg", "rule of thumb: mortar to a block 100 mm thick, waste in it", optional=True)


def _all() -> Iterator[Key]:
    yield from movement_joints()
    yield from joints_by_kind_of_wall()
    yield from movement()
    yield from joint_filling()
    yield from _reinforcement()
    yield from _reinforcement_laid()
    yield from _ties()
    yield from _lintels_and_damp_proofing()
    yield from _lintel_loads()
    yield from _lintel_angles()
    yield from _coursing()
    yield from _site_tolerances()
    yield from _cutting_and_lifting()
    yield from _packs()
    yield from _waste()
    yield from _thumbs()


KEYS: Mapping[str, Key] = MappingProxyType({key.key: key for key in _all()})
"""Every key by name."""
