"""The record of what a lintel carries in `design.json`: kN, kN/m, kNm, N/mm2; positions mm."""

from __future__ import annotations

from typing import Any

from elevgen.fittings.load_model import LintelLoad, LoadReading
from elevgen.fittings.load_words import EVEN, FOR_WHOM
from elevgen.fittings.model import Lintel
from elevgen.result import Design

Record = dict[str, Any]
PLACES = 4


def load_of(design: Design, lintel: Lintel) -> Record | None:
    """What a lintel carries; over several spans the one that bends it most, and all of them beside it. None: not reckoned."""
    loads = [load for load in design.fittings.lintel_loads if load.lintel == lintel.id]
    known = [(load.used.per_metre, -load.part, load) for load in loads if load.used is not None]
    if not known:
        return None
    hardest = max(known)[2]
    record = _load(hardest)
    if len(loads) > 1:
        record["spans"] = [_load(load) for load in loads]
    return record


def _load(load: LintelLoad) -> Record:
    return {
        **_reading(load.readings[0]),
        "purpose": FOR_WHOM,
        "per_metre_is": EVEN,
        "span": load.part,
        "clear": [load.clear.start, load.clear.end],
        "supports": [load.supports.start, load.supports.end],
        "effective_span": {"between_bearing_centres": load.supports.length, "clear_and_depth": load.effective_short},
        "pressure_start": _round(load.pressure_start),
        "pressure_end": _round(load.pressure_end),
        "other_methods": [_reading(reading) for reading in load.readings[1:]],
        "why": {refused.method: [cause.words for cause in refused.causes] for refused in load.refused},
        "not_included": load.not_included,
        "densities": {unit: round(density, 1) for unit, density in load.densities},
        "triangle": _triangle(load),
        "storeys": load.storeys,
        "basis": load.basis,
    }


def _reading(reading: LoadReading) -> Record:
    return {
        "method": reading.method,
        "per_metre": _round(reading.per_metre),
        "masonry": _round(reading.masonry),
        "loads": _round(reading.imposed),
        "from_lintels_above": _round(reading.brought),
        "total": _round(reading.total),
        "reaction_start": _round(reading.reaction_start),
        "reaction_end": _round(reading.reaction_end),
        "moment": _round(reading.moment),
    }


def _triangle(load: LintelLoad) -> Record | None:
    shown = load.triangle
    if shown is None:
        return None
    return {
        "from": _round(shown.base.start),
        "to": _round(shown.base.end),
        "level": shown.foot,
        "height": _round(shown.height),
        "zone_height": _round(shown.zone_height),
    }


def _round(value: float | None) -> float | None:
    return None if value is None else round(value, PLACES)
