"""Bed-joint reinforcement, lintels, ties, damp-proof courses and trays: counted and measured as fitted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil

from elevgen.core.figures import Figures
from elevgen.core.measures import METRE
from elevgen.fittings.lintel_words import LINTEL_WORDS
from elevgen.fittings.model import BedReinforcement, DampCourse, Lintel, Mesh, StockCutting, TieKind, Tray, WallTies
from elevgen.result import Design
from elevgen.takeoff.items import Measured, counted, grouped, size
from elevgen.takeoff.model import Part
from elevgen.takeoff.places import Grid

TIE_WORDS: dict[TieKind, str] = {
    "field": "general, staggered grid",
    "reveal": "extra at openings",
    "joint": "extra beside movement joints",
    "end": "extra at free ends, steps and changes of leaf",
    "verge": "extra at verges and tops",
    "partition": "to internal walls",
}
"""Slip ties are not here: they come from the parts of each joint."""


_SHEET_STEPS = {"mm": 5.0, "in": 25.4 / 4}
"""What the width of a sheet is rounded up to, mm, by the unit it is shown in."""


def fitting_items(design: Design, on: Mapping[str, Grid]) -> Iterator[Measured]:
    """Every fitting of every leaf, then of every wall, in the building's order; `on`: where each leaf's panels and lifts lie."""
    fittings = design.fittings
    for leaf in design.building.leaves:
        grid, thick = on[leaf.id], leaf.thickness
        yield from _reinforcement(
            design.figures, leaf.id, thick, tuple(b for b in fittings.bed_reinforcement if b.leaf == leaf.id), grid
        )
        yield from _lintels(design.figures, leaf.id, thick, tuple(x for x in fittings.lintels if x.leaf == leaf.id), grid)
        yield from _damp_courses(design.figures, leaf.id, tuple(d for d in fittings.damp_courses if d.leaf == leaf.id), grid)
        yield from _mesh(design.figures, leaf.id, leaf.finish or "", tuple(m for m in fittings.mesh if m.leaf == leaf.id), grid)
    for wall in design.building.walls:
        for ties in fittings.ties:
            if ties.wall == wall.id:
                yield from _ties(design.figures, ties, on[wall.leaves[0]])
        yield from _trays(
            design.figures, wall.id, tuple(t for t in fittings.trays if t.wall == wall.id), {**on, "": on[wall.leaves[0]]}
        )
        yield from _stock(design.figures, wall.id, tuple(s for s in fittings.stock if s.wall == wall.id))


def _reinforcement(
    figures: Figures, where: str, thickness: float, lengths: tuple[BedReinforcement, ...], grid: Grid
) -> Iterator[Measured]:
    if not lengths:
        return
    net = sum(length.span.length for length in lengths)
    laps = sum(length.with_laps - length.span.length for length in lengths)
    number = sum(length.laps for length in lengths)
    yield Measured(
        code=f"BR-M/{size(thickness)}",
        item=f"Bed-joint reinforcement in a leaf {figures.measure(thickness)} thick",
        unit="m",
        net=net / METRE,
        where=where,
        derivation=f"{counted(len(lengths), 'length')} as fixed; "
        + (f"{counted(number, 'lap')} kept apart" if number else "no laps"),
        waste="bed_reinforcement",
        laps=laps / METRE,
        parts=tuple(
            part
            for one in lengths
            for part in grid.level_stretch(one.span, one.level, one.span.length / METRE, one.with_laps / METRE)
        ),
    )


def _stock(figures: Figures, where: str, cutting: tuple[StockCutting, ...]) -> Iterator[Measured]:
    """Stock lengths the reinforcement of a wall is cut from: what its metres are bought as, and no order of their own."""
    for stock in cutting:
        wide = "" if stock.width_most is None else f", at most {figures.measure(stock.width_most)} wide"
        what = f"Stock length of bed-joint reinforcement {figures.measure(stock.stock)}"
        yield Measured(
            code=f"BR-STOCK-NR/{size(stock.stock)}x{size(stock.thickness)}",
            item=f"{what}, in a leaf {figures.measure(stock.thickness)} thick{wide}",
            unit="nr",
            net=stock.number,
            where=where,
            derivation=f"cut as on the sheet Reinforcement; in the order by the metre, {figures.run(stock.left)} left over",
            waste=None,
        )


def stock_needed(design: Design) -> dict[str, float]:
    """By code of the metres fixed, the metres of stock lengths they come out of: bought whole, before waste."""
    needed: dict[str, float] = {}
    for stock in design.fittings.stock:
        code = f"BR-M/{size(stock.thickness)}"
        needed[code] = needed.get(code, 0.0) + stock.number * stock.stock / METRE
    return needed


def _lintels(figures: Figures, where: str, thickness: float, lintels: tuple[Lintel, ...], grid: Grid) -> Iterator[Measured]:
    """Lintels alike in length, kind and depth: the code of one somebody has chosen goes on with what it is."""
    alike_in = grouped(lintels, lambda x: (size(x.length), x.kind or "", _chosen_depth(x)))
    for (_, _, depth), alike in sorted(alike_in.items(), key=lambda g: (g[1][0].length, g[0])):
        over = ", ".join("+".join(lintel.openings) for lintel in alike)
        what = f"{LINTEL_WORDS[alike[0].kind]} lintel" if alike[0].kind else "lintel"
        deep = f" {figures.measure(alike[0].depth)} deep," if depth and alike[0].depth else ""
        yield Measured(
            code=lintel_code(alike[0], thickness),
            item=f"{what.capitalize()}{deep} {figures.measure(alike[0].length)} long "
            f"for a leaf {figures.measure(thickness)} thick, {_by_whom(alike[0])}",
            unit="nr",
            net=len(alike),
            where=where,
            derivation=f"clear span and both bearings, over {over}",
            waste="lintels",
            parts=tuple(grid.spot(lintel.span.middle, lintel.level, 1) for lintel in alike),
        )


def lintel_code(lintel: Lintel, thickness: float) -> str:
    """The code of a lintel in a leaf so thick: its length, and its kind and depth where they are chosen."""
    chosen = ((lintel.kind or "").upper().replace("_", "-"), _chosen_depth(lintel))
    return f"LINTEL-NR/{size(lintel.length)}x{size(thickness)}" + "".join(f"/{part}" for part in chosen if part)


def _chosen_depth(lintel: Lintel) -> str:
    return size(lintel.depth) if lintel.kind and lintel.depth else ""


def _by_whom(lintel: Lintel) -> str:
    if lintel.kind is None or lintel.depth is None:
        return "section to be chosen by a qualified engineer"
    return "to be confirmed by a qualified engineer"


def _damp_courses(figures: Figures, where: str, courses: tuple[DampCourse, ...], grid: Grid) -> Iterator[Measured]:
    def kind(course: DampCourse) -> tuple[str, str, tuple[str, ...]]:
        return size(course.width), course.place, course.barred

    for (width, place, barred), alike in grouped(courses, kind).items():
        coping = place == "coping"
        laps = _lap_length(alike)
        yield Measured(
            code=f"DPC-M/{width}" + ("/COPING" if coping else ""),
            item=f"Damp-proof course {figures.measure(alike[0].width)} wide"
            + (" under copings" if coping else "")
            + not_of(barred),
            unit="m",
            net=sum(course.length for course in alike) / METRE,
            where=where,
            derivation=f"{counted(len(alike), 'length')} as laid; {_laps_said(alike, laps is not None)}",
            waste="dpc",
            laps=laps,
            parts=tuple(
                part
                for one in alike
                for part in grid.level_stretch(
                    one.span, one.level, one.length / METRE, (one.length + one.laps * (one.lap or 0)) / METRE
                )
            ),
        )


def _laps_said(courses: tuple[DampCourse, ...], measured: bool) -> str:
    """`5 laps (2 at corners, 2 at movement joints, 1 at the end of a roll) kept apart`; `no laps`."""
    laps = sum(course.laps for course in courses)
    if not laps:
        return "no laps"
    known = [course.lapped for course in courses if course.lapped]
    at = (
        (sum(lapped.corners for lapped in known), "at a corner", "at corners"),
        (sum(lapped.joints for lapped in known), "at a movement joint", "at movement joints"),
        (sum(lapped.rolls for lapped in known), "at the end of a roll", "at ends of rolls"),
        (sum(lapped.steps for lapped in known), "at a step", "at steps"),
    )
    said = ", ".join(counted(number, one, many) for number, one, many in at if number)
    where = f" ({said})" if said else ""
    return f"{counted(laps, 'lap')}{where} {'kept apart' if measured else 'not measured: the rule set has no lap'}"


def not_of(barred: tuple[str, ...]) -> str:
    """`, not of polyethylene`; empty where nothing is barred."""
    return f", not of {' or '.join(word.replace('_', ' ') for word in barred)}" if barred else ""


def _lap_length(courses: tuple[DampCourse, ...]) -> float | None:
    """Metres in laps; None when a lap is needed whose length is not known."""
    total = 0.0
    for course in courses:
        if course.laps and course.lap is None:
            return None
        total += course.laps * (course.lap or 0.0)
    return total / METRE


def _ties(figures: Figures, ties: WallTies, grid: Grid) -> Iterator[Measured]:
    known, code = "length not covered by the rule set", ""
    if ties.length is not None:
        known, code = f"{figures.measure(ties.length)} long", f"/{size(ties.length)}"
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
                parts=tuple(Part(None, grid.lift_at(tie.level), 1) for tie in ties.ties if tie.kind == kind),
            )


def _trays(figures: Figures, where: str, trays: tuple[Tray, ...], on: Mapping[str, Grid]) -> Iterator[Measured]:
    """Trays of sheet by the metre and by width, stepped ones by number; then stop ends and weeps of all of them.

    `on`: the grids of the leaves they lie in; of "" where a tray does not say.
    """
    sheets = (tray for tray in trays if tray.kind != "step")
    for (width, kind, barred), alike in grouped(sheets, lambda tray: (_sheet(figures, tray), tray.kind, tray.barred)).items():
        over = "a lintel" if kind == "opening" else "an abutment"
        yield Measured(
            code="TRAY-M" + ("" if kind == "opening" else "/ABUTMENT") + (f"/{size(width)}" if width else ""),
            item=f"Cavity tray over {over}" + (f", sheet {figures.measure(width)} wide" if width else "") + not_of(barred),
            unit="m",
            net=sum(tray.span.length for tray in alike) / METRE,
            where=where,
            derivation=f"{counted(len(alike), 'tray')}, full length",
            waste="dpc",
            parts=tuple(
                part for tray in alike for part in on[tray.leaf].level_stretch(tray.span, tray.level, tray.span.length / METRE)
            ),
        )
    stepped = tuple(tray for tray in trays if tray.kind == "step")
    for code, what, alike in (
        ("TRAY-NR/STEP", "Stepped cavity tray over a sloping abutment", tuple(t for t in stepped if t.stop_ends != 2)),
        ("TRAY-NR/STEP-LOWEST", "Lowest tray of a stepped row, both ends stopped", tuple(t for t in stepped if t.stop_ends == 2)),
    ):
        if alike:
            spots = tuple(on[tray.leaf].spot(tray.span.middle, tray.level, 1) for tray in alike)
            yield Measured(code, what, "nr", len(alike), where, "counted as placed", "", parts=spots)
    of_all = f"counted as placed, {counted(len(trays), 'tray')}"
    stop_ends, weeps = sum(tray.stop_ends for tray in trays), sum(len(tray.weeps) for tray in trays)
    cut = sum(len(tray.cut_weeps) for tray in trays)
    if stop_ends:
        spots = tuple(on[tray.leaf].spot(tray.span.middle, tray.level, tray.stop_ends) for tray in trays)
        yield Measured("TRAY-END-NR", "Stop end to a cavity tray", "nr", stop_ends, where, of_all, "", parts=spots)
    if weeps:
        said = of_all + (f"; {cut} to be cut, no perpend is near enough" if cut else "")
        spots = tuple(on[tray.leaf].spot(at, tray.level, 1) for tray in trays for at in tray.weeps)
        yield Measured("WEEP-NR", "Weep in a perpend over a cavity tray", "nr", weeps, where, said, "", parts=spots)


def _sheet(figures: Figures, tray: Tray) -> float | None:
    """The width of sheet a tray is cut from, up to the next 5 mm or quarter of an inch; None where it is not known."""
    step = _SHEET_STEPS[figures.unit("mm").name]
    return None if tray.width is None else step * ceil(tray.width / step - 0.001)


def _mesh(figures: Figures, where: str, finish: str, strips: tuple[Mesh, ...], grid: Grid) -> Iterator[Measured]:
    for (length, width), alike in grouped(strips, lambda strip: (size(strip.length), size(strip.width))).items():
        yield Measured(
            code=f"MESH-NR/{length}x{width}",
            item=f"Mesh {figures.length(alike[0].length)} by {figures.measure(alike[0].width)} in {finish}, "
            "across the corner of an opening",
            unit="nr",
            net=sum(strip.faces for strip in alike),
            where=where,
            derivation=f"{counted(len({strip.opening for strip in alike}), 'opening')}, corners with masonry all round",
            waste="",
            parts=tuple(grid.spot(strip.at, strip.level, strip.faces) for strip in alike),
        )
