"""Bed-joint reinforcement, lintels, ties, damp-proof courses and trays: counted and measured as fitted."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.fittings.lintel_words import LINTEL_WORDS
from elevgen.fittings.model import BedReinforcement, DampCourse, Lintel, TieKind, Tray, WallTies
from elevgen.result import Design
from elevgen.takeoff.items import Measured, counted, grouped, size

METRE = 1000.0
TIE_WORDS: dict[TieKind, str] = {
    "field": "general, staggered grid",
    "reveal": "extra at openings",
    "joint": "extra beside movement joints",
    "end": "extra at free ends, steps and changes of leaf",
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


def _lintels(where: str, thickness: float, lintels: tuple[Lintel, ...]) -> Iterator[Measured]:
    """Lintels alike in length, kind and depth: the code of one somebody has chosen goes on with what it is."""
    alike_in = grouped(lintels, lambda x: (size(x.length), x.kind or "", size(x.depth) if x.kind and x.depth else ""))
    for (length, kind, depth), alike in sorted(alike_in.items(), key=lambda g: (g[1][0].length, g[0])):
        over = ", ".join("+".join(lintel.openings) for lintel in alike)
        chosen = "".join(f"/{part}" for part in (kind.upper().replace("_", "-"), depth) if part)
        what = f"{LINTEL_WORDS[alike[0].kind]} lintel" if alike[0].kind else "lintel"
        deep = f" {depth} mm deep," if depth else ""
        yield Measured(
            code=f"LINTEL-NR/{length}x{size(thickness)}{chosen}",
            item=f"{what.capitalize()}{deep} {length} mm long for a leaf {size(thickness)} mm thick, {_by_whom(alike[0])}",
            unit="nr",
            net=len(alike),
            where=where,
            derivation=f"clear span and both bearings, over {over}",
            waste="lintels",
        )


def _by_whom(lintel: Lintel) -> str:
    if lintel.kind is None or lintel.depth is None:
        return "section to be chosen by a qualified engineer"
    return "to be confirmed by a qualified engineer"


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
