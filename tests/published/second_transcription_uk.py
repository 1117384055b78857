"""Second transcription of the uk set: figures typed again from the references, in other units, by document.

Nothing here was copied from the rule files. Lengths are in metres, bricks, courses or inches, shares in per cent, coefficients
per million, ranges as middle and half width. What is from memory there is under `MEMORY`, and proves only that it was typed
alike twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan, degrees
from typing import Any

from second_transcription import AAC, CM, CS, DENSE, IN, LIGHT, M, Typed
from typed_practice import PRACTICE, PRACTICE_BESIDE

BRICK, COURSE = 225.0, 75.0
"""A brick and its joint along, a course and its bed up (Technical Information Sheet 9, read; bricklaying glossary, quoted)."""
JOINTS, TIES, STEEL, LINTEL, LOAD = "movement_joint.", "tie.", "bed_reinforcement.", "lintel.bearing.", "lintel.load."


def spacings(document: str, stem: str, **metres: float) -> Iterator[Typed]:
    for material, value in metres.items():
        yield Typed(document, f"{JOINTS}{stem}.{material}", value * M)


def table_of_two_thicknesses() -> Iterator[Typed]:
    """Data Pack table 7.1, rows of none / 450 / 225 for walls of 140, then what a thicker one has more."""
    pack = "Civil & Structural Designers Data Pack"
    rows = {
        CS: ((8, 12, 14), (0, 2, 2)),
        DENSE: ((8, 12, 14), (0, 2, 2)),
        LIGHT: ((6, 10, 12), (0, 2, 2)),
        AAC: ((6, 10, 12), (0, 2, 2)),
    }
    for material, (thin, more) in rows.items():
        for every, metres, extra in zip((450, 225), thin[1:], more[1:], strict=True):
            yield Typed(pack, f"{JOINTS}spacing.reinforced_{every}.{material}", metres * M)
            yield Typed(pack, f"{JOINTS}spacing.reinforced_{every}.over_140.{material}", (metres + extra) * M)
        yield Typed(pack, f"{JOINTS}spacing.normal.{material}", thin[0] * M)
    for every, metres in ((450, 20), (225, 24)):
        yield Typed(pack, f"{JOINTS}spacing.reinforced_{every}.clay", metres * M)
    yield Typed(pack, f"{JOINTS}spacing.normal.clay", 15 * M)
    yield Typed(pack, f"{STEEL}wire.diameter", 4)
    yield Typed(pack, f"{JOINTS}unlike_materials", "clay_with_shrinking")


def pocket_book() -> Iterator[Typed]:
    book = "Structural Engineer's Pocket Book"
    yield from spacings(book, "spacing.normal", clay=12, calcium_silicate=7.5, dense_concrete=6, stone=6)
    yield from spacings(book, "spacing.limit", calcium_silicate=9, dense_concrete=7)
    yield from spacings(book, "spacing.reinforced_450", clay=15, dense_concrete=15)
    yield from spacings(book, "spacing.reinforced_225", clay=18, dense_concrete=18)
    yield from spacings(book, "spacing.reinforced_450.limit", clay=18)
    yield from spacings(book, "spacing.reinforced_225.limit", clay=20)
    for material, centimetres in {"clay": 1.6, CS: 1, DENSE: 1, "stone": 1}.items():
        yield Typed(book, f"{JOINTS}width.nominal.{material}", centimetres * CM)
    for material, length_to_height in {"clay": 3, CS: 3, "stone": 3, DENSE: 2}.items():
        yield Typed(book, f"{JOINTS}panel_ratio.{material}", length_to_height)
    yield from (Typed(book, f"{JOINTS}panel_ratio.warn.{material}", 2) for material in (DENSE, LIGHT))
    yield Typed(book, f"{JOINTS}corner.fraction", 1 / 2)
    yield Typed(book, f"{JOINTS}corner.kind", "half_spacing_each_side")


def nhbc() -> Iterator[Typed]:
    yield from spacings(
        "NHBC", "spacing.normal", clay=12, calcium_silicate=7.5, dense_concrete=6, lightweight_concrete=6, aircrete=6
    )
    yield from spacings("NHBC", "spacing.limit", clay=15, calcium_silicate=9)
    rows: dict[str, Any] = {
        f"{JOINTS}width.nominal.clay": 1.6 * CM,
        f"{JOINTS}width.nominal.{CS}": 1 * CM,
        f"{JOINTS}parapet.fraction": 50 / 100,
        f"{JOINTS}parapet.corner": 1.5 * M,
        f"{TIES}spacing.horizontal": 4 * BRICK,
        f"{TIES}spacing.vertical": 6 * COURSE,
        f"{TIES}edge.distance": BRICK,
        f"{TIES}edge.vertical": 4 * COURSE,
        f"{TIES}verge.horizontal": BRICK,
        f"{TIES}verge.vertical": 4 * COURSE,
        f"{TIES}embedment": 5 * CM,
        f"{TIES}partition.vertical": 0.3 * M,
        f"{STEEL}lap": BRICK,
        f"{STEEL}cover": 2 * CM,
        f"{STEEL}courses_above": 2,
        f"{STEEL}courses_below": 2,
        f"{STEEL}reach": 0.6 * M,
        f"{LINTEL}short_span": 1.2 * M,
        f"{LINTEL}short.simple": 10 * CM,
        f"{LINTEL}short.tray": 15 * CM,
        f"{LINTEL}long": 15 * CM,
        "cavity.below_dpc": 3 * COURSE,
        "dpc.above_ground": 2 * COURSE,
        "dpc.coping.barred": ("polyethylene",),
        "tray.barred": ("polyethylene",),
        "tolerance.level.length": 5 * M,
        "tolerance.level.per_metre": 8 / 5,
        "tolerance.level.beyond": 1.2 * CM,
        "tolerance.plumb.height": 3 * M,
        "tolerance.plumb.per_metre": 8 / 3,
        "tolerance.plumb.beyond": 1.2 * CM,
    }
    yield from (Typed("NHBC", key, value) for key, value in rows.items())
    yield Typed("PD 6697 in NHBC", f"{TIES}free_top.distance", BRICK)
    yield Typed("PD 6697 in NHBC", f"{TIES}free_top.horizontal", 0.3 * M)


def labc() -> Iterator[Typed]:
    yield from (Typed("LABC", f"{JOINTS}panel_ratio.{material}", 3) for material in ("clay", CS, DENSE, LIGHT, AAC))
    rows: dict[str, Any] = {
        f"{JOINTS}short_return.clay": 3 * BRICK,
        f"{LINTEL}kind.pressed_steel": 0.15 * M,
        f"{LINTEL}short.simple": 0.1 * M,
        "lintel.prop.spacing": 1.2 * M,
        f"{TIES}density": 5 / 2,
        f"{TIES}slip.vertical": 4 * COURSE,
        "tray.past_lintel": 2.5 * CM,
        "tray.rise": 2 * COURSE,
        "weep.spacing": 4 * BRICK,
        "perpend.min": 0.7 * CM,
        "bed.tolerance": 0.5 * CM,
    }
    yield from (Typed("LABC", key, value) for key, value in rows.items())


def others_on_joints() -> Iterator[Typed]:
    yield from spacings("Brick Development", "spacing.normal", clay=12)
    yield Typed("Brick Development", f"{JOINTS}width.nominal.clay", 1.6 * CM)
    yield from spacings("Materials for Architects", "spacing.limit", clay=15)
    yield from spacings("Materials for Architects", "free_standing.spacing", clay=7)
    yield from spacings("Concrete Block Association", "spacing.normal", dense_concrete=6)
    yield from spacings("Concrete Block Association", "spacing.limit", dense_concrete=9)
    yield from spacings("Building Construction Handbook", "spacing.limit", lightweight_concrete=6)
    yield from spacings("Building Construction Handbook", "spacing.normal", clay=12)
    yield from spacings("Eden", "spacing.normal", aircrete=6, lightweight_concrete=6)
    yield from spacings("Eden", "spacing.limit", lightweight_concrete=9)
    yield from spacings("Concrete Society", "spacing.normal", dense_concrete=9, aircrete=6)
    yield from spacings("EN 1996-2", "spacing.normal", clay=12, calcium_silicate=8, dense_concrete=6, stone=12)
    yield from spacings("BS 5628-3", "spacing.normal", aircrete=6)
    yield from spacings("UK NA to EN 1996-2", "spacing.normal", dense_concrete=9)
    yield Typed("BS 5628-3", f"{JOINTS}panel_ratio.warn.{AAC}", 2)
    yield from (Typed("Eden", f"{JOINTS}width.nominal.{material}", 1 * CM) for material in (LIGHT, AAC))
    yield Typed("Eden", f"{JOINTS}width.per_metre.clay", 13 / 10)
    yield Typed("Eden", f"{JOINTS}short_return.flag", 1 * M)
    yield Typed("Eden", "filler.barred.clay", ("hemp", "fibreboard", "cork"))
    yield Typed("Materials for Architects", "filler.allowed.clay", ("polyethylene_foam", "polyurethane_foam", "foam_rubber"))
    for material in (CS, DENSE, LIGHT):
        yield Typed("Concrete Block Association", f"filler.allowed.{material}", ("polyethylene_foam",))
        yield Typed("Concrete Block Association", f"filler.strip_to_width.{material}", 13 / 10)
    yield Typed("Concrete Block Association", "sealant.width_to_depth", 1.0 / 0.5)


def sealing_and_bond() -> Iterator[Typed]:
    rows: dict[tuple[str, str], Any] = {
        ("architectural detailing textbook", "sealant.width.min"): 0.6 * CM,
        ("architectural detailing textbook", "sealant.width.max"): 5 * CM,
        ("sealant guideline", "sealant.depth.min"): 1 * CM,
        ("sealant guideline", "sealant.depth.max_to_width"): 100 / 100,
        ("Technical Information Sheet 9", "joint.nominal"): BRICK - 215,
        ("Concrete Society", "bond.lap.fraction"): 53.75 / 215,
        ("masonry rules of Poland", "bond.lap.shallow.height"): 25 * CM,
        ("masonry rules of Poland", "bond.lap.shallow.height_fraction"): 86 / 215,
        ("masonry rules of Poland", "bond.lap.shallow.min"): 4 * CM,
        ("masonry rules of Poland", "bond.lap.tall.height_fraction"): 20 / 100,
        ("masonry rules of Poland", "bond.lap.tall.min"): 10 * CM,
        ("bricklaying textbook", "bond.piece.min_fraction"): 50 / 100,
        ("brick tutorial", "opening.pier.coordinated"): 4.5 * BRICK - 10,
        ("standard mechanics", f"{STEEL}masonry_tension"): 3 / 10,
        ("standard mechanics", f"{STEEL}wire.strength"): 5 * 100,
    }
    yield from (Typed(document, key, value) for (document, key), value in rows.items())


def loads_over_openings() -> Iterator[Typed]:
    """BS 5977-1 by the heights its angles make, the American method by the heights its examples have."""
    bs = "BS 5977-1"
    base = (0.8 + 0.08) / 0.8
    rows: dict[str, Any] = {
        "triangle.base": base,
        "triangle.angle": degrees(atan(0.55 / (base / 2))),
        "zone.angle": round(degrees(atan(0.9526 / (base / 2))), 2),
        "triangle.share": 100 / 100,
        "zone.share": 50 / 100,
        "zone.masonry": 0,
        "spread.angle": degrees(atan(1)),
        "span.one_storey": 4.5 * M,
        "span.more_storeys": 3.6 * M,
        "storeys.max": 3,
        "side.min": 0.6 * M,
        "side.fraction": 0.8 / 4,
    }
    yield from (Typed(bs, f"{LOAD}{key}", value) for key, value in rows.items())
    yield Typed("TEK 17-1B", f"{LOAD}arching.above_apex", 8 * IN)
    yield Typed("TEK 17-1B", f"{LOAD}arching.bearing", 4 * IN)
    yield Typed("TEK 17-1B", f"{LOAD}arching.angle", degrees(atan(1)))
    yield Typed("Taly", f"{LOAD}arching.cone", round(degrees(atan(4 / (4.62 / 2)))))


def movement() -> Iterator[Typed]:
    """Ranges by their middle and half their width: thermal per million and kelvin, moisture in mm to the metre."""
    table, en = "Construction Materials", "EN 1996-1-1"
    thermal = {
        table: {"clay": (6.5, 1.5), CS: (11, 3), DENSE: (9, 3), LIGHT: (10, 2), AAC: (8, 0), "stone": (7.5, 4.5)},
        en: {"clay": (6, 2), CS: (9, 2), DENSE: (9, 3), LIGHT: (9, 3), AAC: (8, 1)},
    }
    for document, rows in thermal.items():
        for material, (middle, half) in rows.items():
            yield Typed(document, f"movement.thermal.low.{material}", (middle - half) / 1000)
            yield Typed(document, f"movement.thermal.high.{material}", (middle + half) / 1000)
    shrinks = {CS: (0.25, 0.15), DENSE: (0.4, 0.2), LIGHT: (0.4, 0.2), AAC: (0.7, 0.2)}
    swells = {"clay": (0.2, 0), CS: (0.3, 0.2), DENSE: (0.3, 0.1), LIGHT: (0.45, 0.15), AAC: (0.25, 0.05), "stone": (0.4, 0.3)}
    for material, (middle, half) in shrinks.items():
        yield Typed(table, f"movement.moisture.low.{material}", -(middle + half))
        yield Typed(table, f"movement.moisture.high.{material}", -(middle - half))
    for material, (middle, half) in swells.items():
        yield Typed(table, f"movement.reversible.low.{material}", middle - half)
        yield Typed(table, f"movement.reversible.high.{material}", middle + half)
    yield Typed("Materials for Architects", "movement.moisture.high.clay", 0.1 / 100 * 1000)
    yield Typed("Austrian clay association", "movement.temperature_range", 2 * 30)
    yield Typed("BIA Technical Note 18 on", "movement.temperature_range", 56)
    for colour, steps in (("light", 0), ("medium", 1), ("dark", 2)):
        yield Typed("EN 1991-1-5", f"movement.temperature.sun.{colour}", 18 + 12 * steps)


def tie_lengths() -> Iterator[Typed]:
    """PD 6697: from 200 mm for cavities to 75 in steps of 25, each 125 mm longer than the widest cavity of its band."""
    yield Typed("PD 6697", f"{TIES}length", tuple((75.0 + 25 * n, 200.0 + 25 * n) for n in range(10)))
    yield Typed("PD 6697", f"{TIES}density", 5 / 2)


def rules_of_thumb() -> Iterator[Typed]:
    """Worked out again from sizes, not typed: what is not brick or block in a square metre is mortar."""
    sums, pages = "arithmetic", "trade web pages"

    def mortar(length: float, height: float, width: float, across: int = 1, thick: float = 0) -> float:
        wall = (thick or width) / 1000
        solid = across * length * height * width / 1e9 / ((length + 10) * (height + 10) / 1e6)
        return wall - solid

    for width in (100, 140, 215):
        yield Typed(sums, f"thumb.mortar.block_{width}", round(mortar(440, 215, width), 5))
    half, whole = mortar(215, 65, 102.5), mortar(215, 65, 102.5, 2, 215)
    bricks = 1e6 / (BRICK * COURSE)
    yield Typed(sums, "thumb.mortar.half_brick", round(half, 4))
    yield Typed(sums, "thumb.mortar.one_brick", round(whole, 4))
    yield Typed(sums, "thumb.mortar.thousand.half_brick", round(1000 * half / bricks, 3))
    yield Typed(sums, "thumb.mortar.thousand.one_brick", round(1000 * whole / (2 * bricks), 3))
    yield Typed(sums, "thumb.units.block", round(1e6 / (450 * 225), 3))
    yield Typed(pages, "thumb.units.half_brick", 5 * 12)
    yield Typed(pages, "thumb.units.one_brick", 10 * 12)
    yield Typed("bricklaying textbook", "thumb.mortar.mass.brick", 1)
    yield Typed("bricklaying textbook", "thumb.mortar.mass.block_100", 9 / 4)
    yield Typed("UK how-to site", "waste.units", 1 / 20 * 100)


def from_memory() -> Iterator[Typed]:
    en = "EN 1996-1-1"
    for material, (low, high) in {
        "clay": (-20, 100),
        CS: (-40, -10),
        DENSE: (-60, -10),
        LIGHT: (-100, -20),
        AAC: (-40, 20),
    }.items():
        yield Typed(en, f"movement.moisture.low.{material}", low / 100)
        yield Typed(en, f"movement.moisture.high.{material}", high / 100)
    yield Typed(en, "movement.moisture.low.stone", -40 / 100)
    yield Typed(en, "movement.moisture.high.stone", 70 / 100)
    rows: dict[tuple[str, str], Any] = {
        (en, "perpend.max"): 1.5 * CM,
        (en, f"{STEEL}area.fraction"): 0.03 / 100,
        (en, f"{STEEL}bed_over_wire"): 0.5 * CM,
        ("backer rod", "backer_rod.oversize"): 125 / 100,
        ("backer rod", "backer_rod.sizes"): (6, 10, 13, *(5 * n for n in (3, 4, 5, 6, 8, 10))),
        ("damp-proof course practice", "dpc.lap"): 10 * CM,
        ("rendering practice", "finish.above_dpc"): 2 * COURSE,
        ("guidance on handling", "lifting.mass"): 20,
        ("NHBC", "weep.minimum"): 2,
        ("ISO 11600", "sealant.capability_of"): "installed_width",
    }
    rows |= {
        ("BS 6093 and BS 6213", "sealant.capability_of"): "closed_width",
        ("NHBC", "bed.tolerance"): 0.5 * CM,
        ("NHBC", "tray.rise"): 14 * CM,
        ("PD 6697", f"{JOINTS}spacing.limit.clay"): 15 * M,
        ("PD 6697", f"{JOINTS}width.per_metre.clay"): 13 / 10,
        ("UK NA to EN 1996-2", f"{JOINTS}spacing.limit.{CS}"): 9 * M,
        ("UK NA to EN 1996-2", f"{JOINTS}spacing.normal.clay"): 15 * M,
        ("UK NA to EN 1996-2", f"{JOINTS}spacing.normal.stone"): 20 * M,
    }
    wastes = {"bed_reinforcement": 5, "dpc": 5, "filler": 10, "lintels": 0, "mortar": 10, "sealant": 10, "ties": 5}
    rows |= {("estimating practice", f"waste.{name}"): percent for name, percent in wastes.items()}
    yield from (Typed(document, key, value) for (document, key), value in rows.items())


def others_beside() -> Iterator[Typed]:
    """Other figures the set shows beside its own."""
    rows: dict[tuple[str, str], Any] = {
        ("LABC Warranty, tolerances", "tolerance.level.length"): 5 * M,
        ("LABC Warranty, tolerances", "tolerance.level.per_metre"): 10 / 5,
        ("LABC Warranty, tolerances", "tolerance.level.beyond"): 1.5 * CM,
        ("DIN 1053-1", "bond.lap.shallow.height_fraction"): 40 / 100,
        ("NF DTU 20.1", "bond.lap.shallow.height_fraction"): 40 / 100,
        ("masonry rules of Poland", "perpend.max"): 1.5 * CM,
        ("National Building Code", "bond.stack.bed_spacing"): 46 * CM,
        ("Materials for Architects", "movement.reversible.high.clay"): 0.02 / 100 * 1000,
        ("clay masonry handbook", "movement.temperature_range"): 2 * 30,
        ("UK NA to EN 1996-2", f"{JOINTS}spacing.limit.{DENSE}"): 9 * M,
        ("NHBC", f"{JOINTS}width.nominal.{DENSE}"): 1 * CM,
        ("BS 5628-3", f"{JOINTS}panel_ratio.{AAC}"): 2,
        ("trade web page", "waste.units"): 1 / 10 * 100,
        ("Belgian and Dutch", "waste.units"): 3,
        ("Belgian and Dutch", "waste.mortar"): 10,
    }
    yield from (Typed(document, key, value) for (document, key), value in rows.items())
    yield from (Typed("Civil & Structural", f"{JOINTS}panel_ratio.{material}", 3) for material in (LIGHT, AAC))
    yield Typed("Structural Engineer", f"{JOINTS}panel_ratio.{LIGHT}", 2)
    for every, metres in ((450, 15), (225, 18)):
        for material in (LIGHT, DENSE):
            yield Typed("Structural Engineer", f"{JOINTS}spacing.reinforced_{every}.over_140.{material}", metres * M)
        yield Typed("Structural Engineer", f"{JOINTS}spacing.reinforced_{every}.{LIGHT}", metres * M)
    for every, metres in ((450, 20), (225, 24)):
        yield Typed("Civil & Structural", f"{JOINTS}spacing.reinforced_{every}.limit.clay", metres * M)
    yield from (Typed(document, f"{JOINTS}corner.fraction", 1 / 2) for document in ("Civil & Structural", "NHBC"))
    contraction = ("hemp", "fibreboard", "cork")
    yield from (Typed("Eden", f"filler.allowed.{material}", contraction) for material in (CS, DENSE, LIGHT))
    yield Typed("LABC Warranty and Premier Guarantee", "filler.barred.clay", contraction)
    lyons, textbook = "Materials for Architects", "bricklaying textbook"
    more: dict[tuple[str, str], Any] = {
        ("Approved Document A", f"{TIES}spacing.horizontal"): 0.75 * M,
        ("Concrete Block Association", f"{JOINTS}width.nominal.{DENSE}"): 1 * CM,
        ("Concrete Society", f"{JOINTS}panel_ratio.{DENSE}"): 3,
        ("Cornell", "movement.temperature_range"): round(130 / 1.8),
        ("Eden", f"{JOINTS}beside_opening.clear"): 0,
        ("Eden", f"{JOINTS}width.nominal.{CS}"): 1.3 * CM,
        ("Eden", "sealant.width_to_depth"): 1 / 1,
        ("Eden", f"{TIES}edge.vertical"): 4 * COURSE,
        ("HomeBond", "weep.spacing"): 2 * BRICK,
        (lyons, f"{STEEL}cover"): 2.5 * CM,
        (lyons, "movement.reversible.low.clay"): 0.02 / 100 * 1000,
        (lyons, "movement.thermal.low.clay"): 5 / 1000,
        (lyons, "movement.thermal.high.clay"): 8 / 1000,
        (lyons, f"{JOINTS}beside_opening.clear"): 0,
        (lyons, f"{JOINTS}width.per_metre.clay"): 1,
        ("RICS isurv", f"{TIES}edge.vertical"): 3 * COURSE,
        ("TM 5-809-3", "movement.moisture.high.clay"): 0.0003 * 1000,
        (textbook, f"{TIES}edge.distance"): 15 * CM,
        (textbook, f"{TIES}edge.vertical"): 3 * COURSE,
        (textbook, f"{TIES}embedment"): 6.25 * CM,
        ("trade web page", "weep.spacing"): 2 * BRICK,
        ("trade web page", "backer_rod.oversize"): 125 / 100,
        ("arithmetic on work sizes", "thumb.units.half_brick"): 1e6 / (BRICK * COURSE),
        ("arithmetic on work sizes", "thumb.units.one_brick"): 2e6 / (BRICK * COURSE),
        ("UK price guide", "thumb.units.block"): 10,
    }
    yield from (Typed(document, key, value) for (document, key), value in more.items())


ROWS = (
    *others_beside(),
    *(*pocket_book(), *table_of_two_thicknesses(), *nhbc(), *labc(), *others_on_joints(), *sealing_and_bond()),
    *(*loads_over_openings(), *movement(), *tie_lengths(), *rules_of_thumb()),
)
MEMORY = tuple(from_memory())
__all__ = ["BORROWED", "MEMORY", "PRACTICE", "PRACTICE_BESIDE", "ROWS"]

BORROWED = {
    "Australian trade web page": 1,
    "Austrian clay association": 1,
    "BIA Technical Note 18": 2,
    "Cornell": 1,
    "DIN 1053-1": 4,
    "DIN 1053-1 and German NA": 2,
    "EN 1996-1-1": 4,
    "EN 1996-2": 1,
    "German trade web page": 1,
}
"""Other figures the set shows as another set typed them, by document: how many."""
