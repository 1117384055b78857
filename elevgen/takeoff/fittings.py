"""Bed-joint reinforcement, lintels, ties, damp-proof courses and trays: counted and measured as fitted."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.fittings.model import BedReinforcement, DampCourse, Lintel, StockCutting, TieKind, Tray, WallTies
from elevgen.result import Design
from elevgen.takeoff.items import Measured, counted, grouped, size

METRE = 1000.0
TIE_WORDS: dict[TieKind, str] = {
    "field": "general, staggered grid",
    "reveal": "extra at openings",
    "joint": "extra beside movement joints",
    "verge": "extra at verges and tops",
    "partition": "to internal walls",
}
"""Slip ties are not here: they come from the parts of each joint."""


def fitting_items(design: Design) -> Iterator[Measured]:
    """Every fitting of every leaf, then of every wall, in the building's order."""
    fittings = design.fittings
    for leaf in design.building.leaves:
        yield from _reinforcement(leaf.id, leaf.thickness, tuple(b for b in fittings.bed_reinforcement if b.leaf == leaf.id))
        yield from _lintels(leaf.id, leaf.thickness, tuple(x for x in fittings.lintels if x.leaf == leaf.id))
        yield from _damp_courses(leaf.id, tuple(d for d in fittings.damp_courses if d.leaf == leaf.id))
    for wall in design.building.walls:
        for ties in fittings.ties:
            if ties.wall == wall.id:
                yield from _ties(ties)
        yield from _trays(wall.id, tuple(t for t in fittings.trays if t.wall == wall.id))
        yield from _stock(wall.id, tuple(s for s in fittings.stock if s.wall == wall.id))


def _reinforcement(where: str, thickness: float, lengths: tuple[BedReinforcement, ...]) -> Iterator[Measured]:
    if not lengths:
        return
    net = sum(length.span.length for length in lengths)
    laps = sum(length.with_laps - length.span.length for length in lengths)
    number = sum(length.laps for length in lengths)
    yield Measured(
        code=f"BR-M/{size(thickness)}",
        item=f"Bed-joint reinforcement in a leaf {size(thickness)} mm thick",
        unit="m",
        net=net / METRE,
        where=where,
        derivation=f"{counted(len(lengths), 'length')} as fixed; {counted(number, 'lap')} kept apart",
        waste="bed_reinforcement",
        laps=laps / METRE,
    )


def _stock(where: str, cutting: tuple[StockCutting, ...]) -> Iterator[Measured]:
    """Stock lengths the reinforcement of a wall is cut from: what its metres are bought as, and no order of their own."""
    for stock in cutting:
        wide = "" if stock.width_most is None else f", at most {size(stock.width_most)} mm wide"
        what = f"Stock length of bed-joint reinforcement {size(stock.stock)} mm"
        yield Measured(
            code=f"BR-STOCK-NR/{size(stock.stock)}x{size(stock.thickness)}",
            item=f"{what}, in a leaf {size(stock.thickness)} mm thick{wide}",
            unit="nr",
            net=stock.number,
            where=where,
            derivation=f"cut as on the sheet Reinforcement; in the order by the metre, {stock.left / METRE:.2f} m left over",
            waste=None,
        )


def stock_needed(design: Design) -> dict[str, float]:
    """By code of the metres fixed, the metres of stock lengths they come out of: bought whole, before waste."""
    needed: dict[str, float] = {}
    for stock in design.fittings.stock:
        code = f"BR-M/{size(stock.thickness)}"
        needed[code] = needed.get(code, 0.0) + stock.number * stock.stock / METRE
    return needed


def _lintels(where: str, thickness: float, lintels: tuple[Lintel, ...]) -> Iterator[Measured]:
    for length, alike in sorted(grouped(lintels, lambda lintel: size(lintel.length)).items(), key=lambda g: g[1][0].length):
        over = ", ".join("+".join(lintel.openings) for lintel in alike)
        yield Measured(
            code=f"LINTEL-NR/{length}x{size(thickness)}",
            item=f"Lintel {length} mm long for a leaf {size(thickness)} mm thick, section to be chosen by a qualified engineer",
            unit="nr",
            net=len(alike),
            where=where,
            derivation=f"clear span and both bearings, over {over}",
            waste="lintels",
        )


def _damp_courses(where: str, courses: tuple[DampCourse, ...]) -> Iterator[Measured]:
    for width, alike in grouped(courses, lambda course: size(course.width)).items():
        number = sum(course.laps for course in alike)
        laps = _lap_length(alike)
        known = "kept apart" if laps is not None else "not measured: the rule set has no lap"
        yield Measured(
            code=f"DPC-M/{width}",
            item=f"Damp-proof course {width} mm wide",
            unit="m",
            net=sum(course.span.length for course in alike) / METRE,
            where=where,
            derivation=f"{counted(len(alike), 'length')} as laid; {counted(number, 'lap')} {known}",
            waste="dpc",
            laps=laps,
        )


def _lap_length(courses: tuple[DampCourse, ...]) -> float | None:
    """Metres in laps; None when a lap is needed whose length is not known."""
    total = 0.0
    for course in courses:
        if course.laps and course.lap is None:
            return None
        total += course.laps * (course.lap or 0.0)
    return total / METRE


def _ties(ties: WallTies) -> Iterator[Measured]:
    known, code = "length not covered by the rule set", ""
    if ties.length is not None:
        known, code = f"{size(ties.length)} mm long", f"/{size(ties.length)}"
    for kind, words in TIE_WORDS.items():
        number = ties.count(kind)
        if number:
            yield Measured(
                code=f"TIE-NR/{kind.upper()}{code}",
                item=f"Wall tie {known}, {words}",
                unit="nr",
                net=number,
                where=ties.wall,
                derivation="counted as placed" if ties.beds_meet else "counted as placed; the two leaves' bed joints do not meet",
                waste="ties",
            )


def _trays(where: str, trays: tuple[Tray, ...]) -> Iterator[Measured]:
    if not trays:
        return
    over = f"{counted(len(trays), 'tray')}, full length"
    length = sum(tray.span.length for tray in trays) / METRE
    stop_ends, weeps = sum(tray.stop_ends for tray in trays), sum(len(tray.weeps) for tray in trays)
    yield Measured("TRAY-M", "Cavity tray over a lintel", "m", length, where, over, "dpc")
    if stop_ends:
        yield Measured("TRAY-END-NR", "Stop end to a cavity tray", "nr", stop_ends, where, over, "")
    if weeps:
        yield Measured("WEEP-NR", "Weep in a perpend over a cavity tray", "nr", weeps, where, over, "")
