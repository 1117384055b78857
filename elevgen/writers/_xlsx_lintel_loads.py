"""The tables of the sheet Lintels that say what each lintel carries. kN, kN/m, kNm; lengths mm."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from elevgen.core.figures import Figures
from elevgen.core.measures import millimetres
from elevgen.fittings.load_model import Cause, LintelLoad, LoadMethod, LoadReading
from elevgen.fittings.load_words import EVEN, FOR_WHOM, METHODS
from elevgen.result import Design
from elevgen.writers._xlsx_model import Block, Field, Fields, Value, notes, table

NOT_KNOWN = "not calculated"
HEADING = f"What each lintel carries: {FOR_WHOM}"


def load_tables(design: Design) -> Iterator[Block]:
    """What each lintel carries by the method that counts, why by no other, and what is not in the figures."""
    loads = design.fittings.lintel_loads
    if not loads:
        return
    yield table(HEADING, LOADS, loads, design.figures)
    yield table("Each method's load for comparison", METHODS_COMPARED, loads, design.figures)
    refused = [(load, each.method, cause) for load in loads for each in load.refused for cause in each.causes]
    if refused:
        yield table("Why a method does not hold", WHY_NOT, refused)
    yield notes("How to read the loads", _notes(loads, design.figures), 20)


def _notes(loads: tuple[LintelLoad, ...], figures: Figures) -> list[str]:
    dense = figures.unit("kg/m3")
    weights = dict(density for load in loads for density in load.densities)
    return [
        f"Load {figures.unit('kN/m').name}: {EVEN}.",
        "Reactions have what stands straight over the bearings too. Pressure: the greatest, at the reveal, were the lintel as "
        "wide as the leaf.",
        f"Not in the loads: {'; '.join(dict.fromkeys(words for load in loads for words in load.not_included))}.",
        f"Masonry with its mortar, {dense.name}: "
        + ", ".join(f"{unit} {millimetres(dense.of(each), 0)}" for unit, each in weights.items())
        + ".",
        "All that is above: up to the lintels higher up, and what those set down; a lintel over several openings is taken as cut "
        "at its piers, which an engineer must judge.",
    ]


def _of(figure: Callable[[LoadReading], float]) -> Callable[[LintelLoad], Value]:
    return lambda load: NOT_KNOWN if load.used is None else round(figure(load.used), 3)


def _by(method: LoadMethod) -> Callable[[LintelLoad], Value]:
    def told(load: LintelLoad) -> Value:
        reading = load.by(method)
        if reading is not None:
            return round(reading.per_metre, 3)
        return "does not hold" if load.why_not(method) else NOT_KNOWN

    return told


def _pressure(of: Callable[[LintelLoad], float | None]) -> Callable[[LintelLoad], Value]:
    def told(load: LintelLoad) -> Value:
        value = of(load)
        return None if value is None else round(value, 3)

    return told


LOADS: Fields[LintelLoad] = (
    Field("Lintel", 20, "text", lambda x: x.lintel),
    Field("Leaf", 14, "text", lambda x: x.leaf),
    Field("What counts", 20, "wrap", lambda x: METHODS[x.used.method] if x.used else NOT_KNOWN),
    Field("Load kN/m", 10, "amount", _of(lambda r: r.per_metre), "kN/m"),
    Field("Masonry kN", 10, "amount", _of(lambda r: r.masonry), "kN"),
    Field("Loads given kN", 10, "amount", _of(lambda r: r.imposed), "kN"),
    Field("Lintels above kN", 10, "amount", _of(lambda r: r.brought), "kN"),
    Field("Reaction, start kN", 10, "amount", _of(lambda r: r.reaction_start), "kN"),
    Field("Reaction, end kN", 10, "amount", _of(lambda r: r.reaction_end), "kN"),
    Field("Moment kNm", 10, "amount", _of(lambda r: r.moment), "kNm"),
)
WHY_NOT: Fields[tuple[LintelLoad, LoadMethod, Cause]] = (
    Field("Lintel", 20, "text", lambda x: x[0].lintel),
    Field("Leaf", 14, "text", lambda x: x[0].leaf),
    Field("Method", 20, "text", lambda x: METHODS[x[1]]),
    Field("Why not", 10, "note", lambda x: x[2].words),
)
METHODS_COMPARED: Fields[LintelLoad] = (
    Field("Lintel", 20, "text", lambda x: x.lintel),
    Field("Leaf", 14, "text", lambda x: x.leaf),
    Field("Load triangle kN/m", 20, "amount", _by("load_triangle"), "kN/m"),
    Field("Arching kN/m", 10, "amount", _by("arching"), "kN/m"),
    Field("All above kN/m", 10, "amount", _by("full"), "kN/m"),
    Field("Clear from", 10, "mm", lambda x: x.clear.start),
    Field("Clear to", 10, "mm", lambda x: x.clear.end),
    Field("Triangle high", 10, "mm", lambda x: x.triangle.height if x.triangle else NOT_KNOWN),
    Field("Storeys taken", 10, "nr", lambda x: x.storeys if x.storeys is not None else NOT_KNOWN),
    Field("Pressure, start N/mm2", 10, "amount", _pressure(lambda x: x.pressure_start), "MPa", "N/mm2"),
    Field("Pressure, end N/mm2", 10, "amount", _pressure(lambda x: x.pressure_end), "MPa", "N/mm2"),
)
