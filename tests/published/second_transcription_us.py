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


def brick_beside() -> Iterator[Typed]:
    """Other figures on bricks."""
    note = "BIA Technical Note 18A"
    yield from typed(note, MOVE, spacing__normal__clay=(23 * 12 + 2) * IN, corner__kind="sum_round_corner")
    yield from typed(note, "sealant.", movement_capability=25)
    yield from typed("Masonry Construction magazine", MOVE, corner__within=10 * FT)
    beall = "Beall"
    yield from typed(beall, MOVE, spacing__normal__clay=20 * FT, spacing__with_openings__clay=20 * FT)
    yield from typed(beall, MOVE, width__nominal__clay=3 / 8 * IN)
    yield from typed(beall, "thumb.units.", block=5 / 4 / SF, half_brick=7 / SF)
    page = "consultant's web page"
    yield from typed(page, MOVE, corner__kind="half_spacing_each_side", spacing__normal__clay=20 * FT)
    yield from typed(page, MOVE, width__nominal__clay=1 / 2 * IN)
    yield from typed("TM 5-809-3", "movement.", moisture__high__clay=3 / 10, thermal__high__clay=4 * DEG_F)
    page = "engineering reference page"
    yield from typed(page, "thumb.", mortar__thousand__half_brick=14 * CF, units__half_brick=69 / 10 / SF)
    yield from typed("arithmetic on nominal sizes", "thumb.units.", half_brick=1 / (8 * 8 / 3 * IN**2 / 1e6))
    yield from typed("contractor's rule", "waste.", units=12)
    yield from typed("exam candidates", "waste.", units=20)


def block_beside() -> Iterator[Typed]:
    tek53 = "TEK 53"
    yield from alike(tek53, f"{MOVE}panel_ratio", BLOCK, 2)
    yield from alike(tek53, f"{MOVE}spacing.normal", BLOCK, 40 * FT)
    yield from alike("TEK 10-02D", f"{MOVE}panel_ratio", (DENSE,), 3 / 2)
    yield from alike("Masonry magazine, March 2003", "movement.thermal.high", BLOCK, 4 * DEG_F)
    yield from typed("NAVEDTRA 14045", "joint.", nominal=3 / 8 * IN)
    yield from typed("TEK 12-6", STEEL, lap=6 * IN)
    yield from typed("TMS 602", STEEL, lap=6 * IN)
    yield from typed("TMS 602", "tolerance.plumb.", beyond=1 / 2 * IN)
    yield from typed("UBC", STEEL, lap=12 * IN, stagger=24 * IN)
    yield from typed("ACI 530.1", STEEL, cover=1 / 2 * IN)
    yield from typed("MSJC", "perpend.", min=(3 - 2) / 8 * IN, max=(3 + 3) / 8 * IN)


def ties_and_weeps_beside() -> Iterator[Typed]:
    """Ties by the square feet each holds."""
    note, guide, forest = "BIA Technical Note 28", "guide specification", "model code text"
    for square_feet in (8 / 3, 13 / 4):
        yield from typed(note, "tie.", density=1 / (square_feet * SF))
    yield from typed(note, "tie.", embedment=2 * IN, spacing__horizontal=2 * FT, spacing__vertical=2 * FT)
    yield from typed(note, "weep.", spacing=16 * IN)
    yield from typed("BIA Technical Note 44B", "tie.", cover=5 / 8 * IN, embedment=7 / 4 * IN)
    yield from typed(guide, "tie.", density=1 / (4 * SF), spacing__horizontal=2 * FT, embedment=2 * IN)
    yield from typed(guide, "tie.edge.", distance=1 * FT, vertical=3 * FT)
    yield from typed(forest, "tie.", density=2 / (9 * SF), spacing__horizontal=3 * FT, spacing__vertical=2 * FT)
    yield from typed("HUD", "tie.", density=1 / (round(80 / 30, 2) * SF))
    yield from typed("City of Paris", "tie.spacing.", vertical=24 * IN)
    yield from typed("TMS 402, on an inspectors", "tie.edge.", distance=12 * IN)
    yield from typed("TMS 12", "weep.", spacing=33 * IN)


def sealants_and_temperatures_beside() -> Iterator[Typed]:
    handbook = "Construction Waterproofing Handbook"
    yield from typed(handbook, "", movement__temperature_range=150 / 1.8, sealant__movement_capability=100 / 4)
    yield from typed(handbook, "sealant.", width_to_depth=1)
    yield from typed("Handbook of Adhesives", "sealant.", depth__min=1 / 4 * IN, width_to_depth=1)
    yield from typed("Cornell", "movement.", temperature_range=130 / 1.8)
    yield from typed("Cornell", "movement.temperature.laying.", low=(60 - 32) / 1.8, high=(75 - 32) / 1.8)
    yield from typed("Cornell", MOVE, tolerance=3 / 16 * IN)
    yield from typed("architectural detailing textbook", "movement.", temperature_range=180 / 1.8)


def beside_from_memory() -> Iterator[Typed]:
    rows = {"3x3": (6, 4.5, 3), "4x3": (8, 6, 4.5), "6x3_5": (14, 9.5, 7), "two_6x3_5": (20, 12, 9.5)}
    for angle, feet in rows.items():
        for storeys, span in zip(("none", "one", "two"), feet, strict=True):
            if (angle, storeys) != ("two_6x3_5", "one"):
                yield from typed("IRC, from memory", f"{LINTEL}angle.{angle}.", **{storeys: span * FT})
    yield from typed("IRC, from memory", "tie.spacing.", horizontal=32 * IN, vertical=24 * IN)
    tms = "TMS 402, from memory"
    yield from typed(tms, "movement.", moisture__low__clay=3 / 10, moisture__high__clay=3 / 10, thermal__high__clay=4 * DEG_F)
    yield from typed(tms, "tie.", density=2 / (7 * SF), spacing__vertical=25 * IN)
    yield from typed("TMS 402, later, from memory", "bond.stack.", bed_spacing=4 * FT)
    yield from typed("range of clay bricks", "movement.moisture.", low__clay=2 / 10, high__clay=9 / 10)
    tek = "TEK 10-3 (engineered method), from memory"
    yield from typed(tek, "movement.", temperature_range=70 / 1.8)
    yield from alike(tek, f"{MOVE}panel_ratio", BLOCK, 5 / 2)
    yield from alike(tek, f"{MOVE}spacing.normal", BLOCK, 25 * FT)
    yield from alike("TEK 10-4", f"{MOVE}spacing.low_units", (DENSE,), 20 * FT)
    yield from typed("wire sizes", STEEL, wire__diameter=0.188 * IN)


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


ROWS = (
    *(*brick(), *block(), *angles(), *steel_ties_and_tolerances()),
    *(*brick_beside(), *block_beside(), *ties_and_weeps_beside(), *sealants_and_temperatures_beside()),
    *typed("IRC, on a forum", f"{LINTEL}angle.two_6x3_5.", one=12 * FT),
)
MEMORY = (*from_memory(), *beside_from_memory())
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
BORROWED = {"Belgian and Dutch": 1, "trade web page": 1}
"""Other figures the set shows as another set typed them, by document: how many."""
