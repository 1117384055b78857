"""Second transcription of the us set, typed again from the references in inches, feet, millionths to the degree Fahrenheit."""

from __future__ import annotations

from collections.abc import Iterator

from second_transcription import AAC, CF, DENSE, FT, IN, LIGHT, SF, Typed, alike, typed

MOVE, STEEL, LINTEL = "movement_joint.", "bed_reinforcement.", "lintel."
BLOCK = (DENSE, LIGHT)
PSI = 4.4482216152605 / 25.4**2
DEG_F = 1.8 / 1000
"""A millionth to the degree Fahrenheit, in mm to the metre and kelvin."""


def brick() -> Iterator[Typed]:
    """BIA Technical Notes 18, 18A and 28; Beall."""
    note = "BIA Technical Note 18A"
    yield from typed(note, f"{MOVE}spacing.", normal__clay=25 * FT, limit__clay=25 * FT, with_openings__clay=20 * FT)
    yield from typed(note, MOVE, corner__kind="one_side_within", corner__within=10 * FT)
    yield from typed(note, f"{MOVE}parapet.", spacing__clay=15 * FT, reinforced_every=8 * IN)
    yield from typed(note, "sealant.", movement_capability=50)
    yield from typed("Beall", MOVE, free_standing__spacing__clay=20 * FT, width__nominal__clay=4 / 8 * IN)
    yield from typed(note, f"{MOVE}with_openings.", number=2, width=0, height=0)
    yield from alike("TM 5-809-3", "movement.reversible.low", ("clay",), 0)
    yield from alike("TM 5-809-3", "movement.reversible.high", ("clay",), 0)
    yield from typed("BIA Technical Note 18", "movement.", moisture__high__clay=5 / 10, thermal__high__clay=4 * DEG_F)
    yield from typed("TM 5-809-3", "movement.moisture.", low__clay=3 / 10)
    yield from typed("architectural detailing textbook", "movement.thermal.", low__clay=3.6 * DEG_F)
    yield from typed("BIA Technical Note 18 on", "movement.", temperature_range=100 / 1.8)
    yield from typed("BIA Technical Note 28", "", weep__spacing=2 * FT)


def block() -> Iterator[Typed]:
    """TEK 10-2B, 10-02D; Masonry magazine."""
    tek = "TEK 10-2B"
    for stem, value in (("spacing.normal", 25 * FT), ("spacing.limit", 25 * FT), ("panel_ratio", 3 / 2)):
        yield from alike(tek, f"{MOVE}{stem}", BLOCK, value)
    yield from alike(tek, f"{MOVE}spacing.steel", BLOCK, 0.025 * IN**2 / 0.3048)
    yield from alike(tek, f"{MOVE}at_opening.both_sides", BLOCK, 6 * FT)
    yield from typed(tek, MOVE, at_opening__instead="reinforced_beds", corner__fraction=1 / 2)
    yield from alike(tek, f"{MOVE}corner.kind", BLOCK, "half_spacing_each_side")
    yield from alike("TEK 10-02D", f"{MOVE}spacing.low_units", BLOCK, 20 * FT)
    yield from typed("TEK 10-02D", MOVE, low_units__height=4 * IN)
    yield from (row for end in ("low", "high") for row in alike("Masonry magazine", f"movement.reversible.{end}", BLOCK, 0))
    yield from typed(tek, STEEL, area__per_height=0.025 * IN**2 / 0.3048)
    yield from alike("Masonry magazine, March 2003", "movement.thermal.low", BLOCK, 4 * DEG_F)
    yield from alike("Masonry magazine, March 2003", "movement.moisture.high", BLOCK, -25 / 100)
    yield from typed("Masonry magazine", "thumb.units.", block=112.5 / 100 / SF)
    yield from typed("trade web pages", "thumb.units.", half_brick=675 / 100 / SF)


def angles() -> Iterator[Typed]:
    """CABO table in Beall, by angle: feet with less than one storey over it, one, two."""
    rows = {"3x3": (6, 3.5, 3), "4x3": (8, 5, 3), "6x3_5": (14, 8, 3.5), "two_6x3_5": (20, 11, 5)}
    for angle, feet in rows.items():
        for storeys, span in zip(("none", "one", "two"), feet, strict=True):
            yield from typed("CABO", f"{LINTEL}angle.{angle}.", **{storeys: span * FT})
    yield from typed("CABO", f"{LINTEL}bearing.kind.", concrete=8 * IN)
    book = "IRC in Modern Masonry"
    yield from typed(book, f"{LINTEL}bearing.", long=4 * IN, short__simple=4 * IN, short__tray=4 * IN)
    yield from typed(book, LINTEL, needed_over=2 * FT - IN / 16)


def steel_ties_and_tolerances() -> Iterator[Typed]:
    yield from typed("2003 IBC in TEK 12-6", f"{STEEL}development.", min=6 * IN, per_stress=0.0015 / PSI)
    yield from typed("TMS 602", STEEL, lap=8 * IN)
    yield from typed("ACI 530.1", STEEL, cover=5 / 8 * IN)
    yield from typed("ACI 530-99", "bond.", lap__fraction=1 / 4, stack__bed_spacing=18 * IN)
    yield from typed("TMS 602", "", joint__nominal=3 / 8 * IN, bed__tolerance=1 / 8 * IN)
    level = 1 / 4 * IN / 3.048
    yield from typed("TMS 602", "tolerance.level.", per_metre=level, beyond=1 / 2 * IN, length=20 * FT)
    yield from typed("TMS 602", "tolerance.plumb.", per_metre=level, beyond=3 / 8 * IN, height=10 * FT)
    yield from typed("TMS 402", "tie.", cover=5 / 8 * IN, embedment=3 / 2 * IN)
    yield from typed("TMS 402, older", "tie.spacing.", horizontal=32 * IN, vertical=18 * IN)
    yield from typed("IRC", "tie.", density=1 / (2.67 * SF))
    yield from typed("model code text", "tie.edge.", distance=1 * FT, vertical=3 * FT)
    yield from typed("Cornell", "", movement_joint__tolerance=1 / 8 * IN, sealant__capability_of="installed_width")
    yield from typed("Handbook of Adhesives", "sealant.width.", min=1 / 4 * IN)
    yield from typed("architectural detailing textbook", "sealant.", width_to_depth=2, width__max=2 * IN)
    yield from typed("trade web page", "perpend.", min=1 / 4 * IN, max=3 / 4 * IN)
    yield from typed("trade web page", "pack.sealant.", cartridge=10.1 * 29.5735, foil_pack=20 * 29.5735)


def from_memory() -> Iterator[Typed]:
    tms = "TMS 402, from memory"
    yield from alike(tms, "movement.thermal.high", BLOCK, 4.5 * DEG_F)
    yield from alike(tms, "movement.thermal", (AAC,), 4.5 * DEG_F)
    yield from typed("NCMA TEK", STEEL, courses_above=2, courses_below=2, reach=24 * IN)
    yield from alike("TEK 10-3", "movement.moisture.low", BLOCK, -(0.25 + 0.3))
    yield from alike("TEK 10-2,", f"{MOVE}at_opening.one_side", BLOCK, 0)
    yield from typed("estimating practice", "waste.", units=5)
    yield from typed("wire sizes", STEEL, wire__diameter=0.148 * IN)
    yield from typed("BIA Technical Note 10", "thumb.mortar.", half_brick=5.5 * CF / (100 * SF), thousand__half_brick=8.1 * CF)


ROWS = (*brick(), *block(), *angles(), *steel_ties_and_tolerances())
MEMORY = tuple(from_memory())
FOAMS = ("polyethylene_foam", "foam_rubber")
EVERY_SIXTEEN = ("merge_gap", "parapet.spacing", "stagger", "stagger.height")
PRACTICE: dict[str, object] = {
    **dict.fromkeys((f"{STEEL}{name}" for name in EVERY_SIXTEEN), 16 * IN),
    f"{STEEL}stock_length": 10 * FT,
    "dpc.roll_length": 75 * FT,
    "lift.height": 4 * FT,
    "lifting.mass": 50 * 0.45359237,
    "bond.lintel_end.clear": 0,
    "bond.opening.clear": 1 * IN,
    "bond.piece.min_fraction": 2 / 4,
    "coursing.split.min": 3 / 4 * IN,
    "cutting.saw": 1 / 8 * IN,
    "dpc.above_ground": 6 * IN,
    "dpc.lap": 6 * IN,
    **{f"filler.allowed.{material}": FOAMS for material in ("clay", *BLOCK)},
    "finish.mesh.length": 12 * IN,
    "finish.mesh.width": 8 * IN,
    f"{LINTEL}bearing.short_span": 4 * FT,
    f"{LINTEL}load.storey_height.min": 6 * FT,
    f"{LINTEL}prop.spacing": 4 * FT,
    "movement.temperature.laying.high": (90 - 32) / 1.8,
    "movement.temperature.laying.low": (40 - 32) / 1.8,
    **dict.fromkeys((f"{MOVE}at_opening.within", f"{MOVE}beside_corner.clear", f"{MOVE}beside_opening.clear"), 2 * FT),
    f"{MOVE}change_of_height": 4 * 8 * IN,
    f"{MOVE}change_of_thickness": 2 * IN,
    f"{MOVE}short_return.flag": 3 * FT,
    **{f"{MOVE}width.nominal.{material}": 3 / 8 * IN for material in BLOCK},
    "opening.pier.coordinated": (6 * 8 - 3 / 8) * IN,
    "opening.pier.min": (8 - 3 / 8) * IN,
    "opening.strip.min": 8 * IN,
    "backer_rod.sizes": tuple(eighths / 8 * IN for eighths in (2, 3, 4, 5, 6, 7, 8, 10, 12, 16)),
    "sealant.depth.min": 3 / 8 * IN,
    "tie.apart": 4 * IN,
    "tie.beds.tolerance": 3 / 8 * IN,
    "tie.edge.clear": 3 / 4 * IN,
    "tie.partition.vertical": 16 * IN,
    "tie.free_top.distance": 1 * FT,
    "tie.free_top.horizontal": 2 * FT,
    "tie.top.vertical": 1 * FT,
    "weep.minimum": 2,
    "tray.abutment.above": 8 * IN,
    "tray.built_in": 4 * IN,
    "tray.past_lintel": 4 * IN,
    "tray.rise": 8 * IN,
    "tray.step.lap": 3 * IN,
    "tray.step.length": 8 * IN,
}
"""Common practice, no source: where it is not the uk set's."""
