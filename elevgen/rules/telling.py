"""A rule value told in the unit people use: metres for 12000 mm, feet and inches and psi for a set whose country has them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple, cast

from elevgen.core.figures import Figures, Lengths, feet_and_inches, figures
from elevgen.core.measures import METRE, millimetres
from elevgen.core.sourced import Items, Sourced, Status
from elevgen.core.units import customary
from elevgen.rules.entries import WRITTEN_IN
from elevgen.rules.keys import KEYS

KNOWN_WORDS: Mapping[Status, str] = MappingProxyType(
    {
        "read": "read",
        "quoted": "quoted",
        "memory": "from memory, check",
        "derived": "worked out",
        "practice": "common practice",
    }
)
"""How a value is known, as short as a column of a table is narrow."""
SIXTEENTH = figures("feet").step


class _Shown(NamedTuple):
    """How values of a key's unit are written: the unit that is counted in, its words, and how many digits tell something."""

    counted_in: str
    words: str
    digits: int = 4


_METRIC = MappingProxyType(
    {
        "mm_per_m": _Shown("mm_per_m", " mm per m", 3),
        "ratio": _Shown("ratio", ""),
        "nr": _Shown("nr", ""),
        "per_m2": _Shown("per_m2", " per m2"),
        "percent": _Shown("percent", " %"),
        "mm/m/K": _Shown("mm/m/K", " mm per m and °C"),
        "mm/m": _Shown("mm/m", " mm per m"),
        "K": _Shown("K", " °C difference"),
        "degC": _Shown("degC", " °C"),
        "deg": _Shown("deg", "°"),
        "kg/m3": _Shown("kg/m3", " kg per m3"),
        "MPa": _Shown("MPa", " N per mm2"),
        "mm2/m": _Shown("mm2/m", " mm2 per m"),
        "per_MPa": _Shown("per_MPa", " per N/mm2"),
        "m3/m2": _Shown("m3/m2", " m3 per m2"),
        "m3/1000": _Shown("m3/1000", " m3 per 1000"),
    }
)
_IMPERIAL = MappingProxyType(
    {
        "mm_per_m": _Shown("in/10ft", " in per 10 ft"),
        "per_m2": _Shown("per_sf", " per sq ft"),
        "mm/m/K": _Shown("per_degF", " in per in and °F", 3),
        "mm/m": _Shown("in/in", " in per in", 3),
        "K": _Shown("degF", " °F difference", 3),
        "degC": _Shown("degC", " °F", 3),
        "kg": _Shown("lb", " lb"),
        "kg/m3": _Shown("lb/ft3", " lb per cu ft"),
        "ml": _Shown("floz", " fl oz", 3),
        "m3/m2": _Shown("cf/100sf", " cu ft per 100 sq ft"),
        "m3/1000": _Shown("cf/1000", " cu ft per 1000"),
        "MPa": _Shown("psi", " psi"),
        "per_MPa": _Shown("per_psi", " per psi"),
        "mm2/m": _Shown("in2/ft", " sq in per ft"),
    }
)


def told(value: Sourced, lengths: Lengths = "mm") -> str:
    """The value as people of the country say it: `12 m`, `39' 4 1/2"`, `up to 75 mm: 200 mm`, `half spacing each side`."""
    if isinstance(value.value, str):
        return _words(value.value)
    if value.is_bands:
        return ", ".join(
            f"up to {_number(n, value.unit, lengths)}: {_number(held, value.unit, lengths)}" for n, held in value.bands
        )
    if isinstance(value.value, tuple):
        items = cast(Items, value.value)
        return ", ".join(_words(item) if isinstance(item, str) else _number(item, value.unit, lengths) for item in items)
    return _number(value.number, value.unit, lengths)


def meaning_of(key: str, figures: Figures) -> str:
    """What a key means, with the sizes and units in it as they are written: `beds no more than 1' 5 11/16" apart`."""
    words = re.sub(r"(\d+) mm\b", lambda size: figures.measure(float(size[1])), KEYS[key].meaning)
    return re.sub(r"\bmetre\b", "foot", words) if figures.in_feet else words


def source_words(value: Sourced, *, edition: bool = False) -> str:
    """Document and clause in short, with the edition where asked for; how it is known stands beside it."""
    return ", ".join(text for text in (value.document, value.edition if edition else "", value.clause) if text)


def known_source(value: Sourced, *, edition: bool = False) -> str:
    """Where another figure is from and how it is known: `EN 1996-1-1, 8.2.2 (from memory, check)`."""
    return f"{source_words(value, edition=edition)} ({KNOWN_WORDS[value.status]})".strip()


def _number(value: float, unit: str, lengths: Lengths) -> str:
    if unit == "mm":
        return _inches(value) if lengths == "feet" else _metric_length(value)
    shown = (_IMPERIAL.get(unit) if lengths == "feet" else None) or _METRIC.get(unit) or _Shown(unit, f" {unit}")
    if lengths == "feet" and unit == "degC":
        value = 32 + value * 9 / 5
    else:
        value /= WRITTEN_IN[unit][shown.counted_in] if unit in WRITTEN_IN else 1.0
    return f"{value:.{max(shown.digits, len(str(int(abs(value)))))}g}{shown.words}"


def _metric_length(value: float) -> str:
    return f"{millimetres(value / METRE, 4)} m" if abs(value) >= METRE else f"{millimetres(value, 3)} mm"


def _inches(value: float) -> str:
    """Exact: what is no number of sixteenths, as the thickness of a wire, in inches with decimals (`0.148"`)."""
    parts = value / SIXTEENTH
    exact = abs(parts - round(parts)) < 1e-4
    return feet_and_inches(value) if exact else f'{millimetres(customary("mm").of(value), 3)}"'


def _words(word: str) -> str:
    return word.replace("_", " ")
