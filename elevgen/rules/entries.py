"""One entry of a rule file: its value in the key's own unit, and its citation."""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import get_close_matches
from fractions import Fraction
from itertools import pairwise
from math import isfinite
from types import MappingProxyType
from typing import Any, cast

from elevgen.core.errors import RuleDataError
from elevgen.core.sourced import STATUSES, Sourced, Status, Value
from elevgen.core.units import CUSTOMARY
from elevgen.rules.keys import Key

LENGTH_UNITS = MappingProxyType({"mm": 1.0, "m": 1000.0, "in": 25.4, "ft": 304.8})
"""Millimetres in each unit a length may be written in."""

PSI = CUSTOMARY["MPa"].back(1.0)
"""Newtons to a square millimetre in a pound to a square inch."""

WRITTEN_IN = MappingProxyType(
    {
        "mm": LENGTH_UNITS,
        "mm/m": MappingProxyType({"mm/m": 1.0, "percent": 10.0, "in/in": 1000.0}),
        "mm_per_m": MappingProxyType({"mm_per_m": 1.0, "in/10ft": 25.4 / 3.048}),
        "per_m2": MappingProxyType({"per_m2": 1.0, "per_sf": CUSTOMARY["per_m2"].back(1.0)}),
        "kg": MappingProxyType({"kg": 1.0, "lb": CUSTOMARY["kg"].back(1.0)}),
        "kg/m3": MappingProxyType({"kg/m3": 1.0, "lb/ft3": CUSTOMARY["kg/m3"].back(1.0)}),
        "ml": MappingProxyType({"ml": 1.0, "floz": CUSTOMARY["ml"].back(1.0)}),
        "m3/m2": MappingProxyType({"m3/m2": 1.0, "cf/100sf": CUSTOMARY["m3/m2"].back(1.0) / 100}),
        "m3/1000": MappingProxyType({"m3/1000": 1.0, "cf/1000": CUSTOMARY["m3/1000"].back(1.0)}),
        "mm/m/K": MappingProxyType({"mm/m/K": 1.0, "per_K": 1000.0, "per_degF": CUSTOMARY["mm/m/K"].back(1.0)}),
        "K": MappingProxyType({"K": 1.0, "degF": CUSTOMARY["K"].back(1.0)}),
        "MPa": MappingProxyType({"MPa": 1.0, "psi": PSI, "ksi": 1000 * PSI}),
        "per_MPa": MappingProxyType({"per_MPa": 1.0, "per_psi": CUSTOMARY["per_MPa"].back(1.0)}),
        "mm2/m": MappingProxyType({"mm2/m": 1.0, "cm2/m": 100.0, "in2/ft": CUSTOMARY["mm2/m"].back(1.0)}),
    }
)
"""By the unit of a key, the units a document may print it in, and how many of the key's own each is."""

_FRACTION = re.compile(r"(?P<minus>-)?(?:(?P<whole>\d+) )?(?P<over>\d+(?:\.\d+)?)(?:/(?P<under>\d+(?:\.\d+)?))?")

_ENTRY = frozenset({"value", "unit", "document", "edition", "clause", "status", "note", "alternatives"})


def sourced_entry(key: Key, entry: Any, file: str, *, alternative: bool = False) -> Sourced:
    """A value as a rule file gives it, in the key's unit and with its citation. Raises RuleDataError."""
    allowed = _ENTRY - {"alternatives"} if alternative else _ENTRY
    if not isinstance(entry, dict) or "value" not in entry:
        raise RuleDataError(file, key.key, "an entry is a table with a value")
    if strange := sorted(set(entry) - allowed):
        raise RuleDataError(file, key.key, f"unknown field {strange[0]!r}; allowed: {', '.join(sorted(allowed))}")
    try:
        value = rule_value(key, entry["value"], entry.get("unit", ""))
    except ValueError as reason:
        raise RuleDataError(file, key.key, str(reason)) from None
    return cited(key.key, value, key.unit, entry, file)


def cited(key: str, value: Value, unit: str, entry: Mapping[str, Any], file: str) -> Sourced:
    """The value with the citation the entry gives. Raises RuleDataError for a bad status or a missing document."""
    status = entry.get("status")
    if status not in STATUSES:
        raise RuleDataError(file, key, f"status {status!r}; allowed: {', '.join(STATUSES)}")
    document = text_field(entry, "document", file, key, optional=True)
    if not document and status != "practice":
        raise RuleDataError(file, key, f"status {status!r} without a document")
    edition, clause, note = (text_field(entry, name, file, key, optional=True) for name in ("edition", "clause", "note"))
    return Sourced(key, value, unit, document, edition, clause, cast(Status, status), note)


def rule_value(key: Key, given: Any, unit: str) -> Value:
    """The value in the key's own unit. Raises ValueError saying what is allowed."""
    if key.kind == "word":
        if given not in key.choices:
            raise ValueError(f"{given!r}; allowed: {', '.join(key.choices)}")
        return str(given)
    factor = _factor(key, unit)
    if key.kind == "number":
        return checked_number(key, given, factor)
    if key.kind in ("sizes", "words"):
        return _items(key, given, factor)
    if not isinstance(given, list) or not given or not all(isinstance(band, list) and len(band) == 2 for band in given):
        raise ValueError(f"{given!r} is not a table of [up to, value] bands")
    bands = tuple((checked_number(key, up_to, factor), checked_number(key, value, factor)) for up_to, value in given)
    if any(a[0] >= b[0] for a, b in pairwise(bands)):
        raise ValueError("the bands do not rise")
    return bands


def checked_number(key: Key, given: Any, factor: float) -> float:
    """The number times `factor`. Raises ValueError for what is no number, and for 0 or less where that is no rule."""
    if isinstance(given, str):
        return _of_fraction(key, given, factor)
    if isinstance(given, bool) or not isinstance(given, int | float) or not isfinite(given):
        raise ValueError(f"{given!r} is not a number")
    if not key.signed and (given < 0 or (given == 0 and not key.may_be_zero)):
        raise ValueError(f"{given!r} is not above 0")
    if key.unit == "deg" and given >= 90:
        raise ValueError(f"{given!r} is not below 90 degrees")
    if key.unit == "nr" and given != int(given):
        raise ValueError(f"{given!r} is not a whole number")
    return float(given) * factor


def _of_fraction(key: Key, given: str, factor: float) -> float:
    """A number printed as a fraction (`"2 2/3"`, `"1/2.67"`): exact until the one conversion. Raises ValueError."""
    read = _FRACTION.fullmatch(given)
    if read is None or not (under := Fraction(read["under"] or 1)) or (read["whole"] and not read["under"]):
        raise ValueError(f"{given!r} is not a number")
    value = Fraction(read["whole"] or 0) + Fraction(read["over"]) / under
    value = -value if read["minus"] else value
    checked_number(key, float(value), 1.0)
    return float(value * Fraction(factor).limit_denominator(10**9))


def _items(key: Key, given: Any, factor: float) -> Value:
    """A list of sizes that rise, or of words that are among the key's choices."""
    if not isinstance(given, list) or not given:
        raise ValueError(f"{given!r} is not a list")
    if key.kind == "sizes":
        sizes = tuple(checked_number(key, item, factor) for item in given)
        if any(a >= b for a, b in pairwise(sizes)):
            raise ValueError("the sizes do not rise")
        return sizes
    if strange := [item for item in given if item not in key.choices]:
        raise ValueError(f"{strange[0]!r}; allowed: {', '.join(key.choices)}")
    return tuple(str(item) for item in dict.fromkeys(given))


def _factor(key: Key, unit: str) -> float:
    factors: Mapping[str, float] = WRITTEN_IN.get(key.unit, {key.unit: 1.0})
    if unit in factors:
        return factors[unit]
    if key.kind == "words" and not unit:
        return 1.0
    raise ValueError(f"unit {unit!r}; allowed: {', '.join(factors)}")


def text_field(table: Mapping[str, Any], name: str, file: str, key: str, *, optional: bool = False) -> str:
    """A field that must be text. Raises RuleDataError."""
    text = table.get(name, "" if optional else None)
    if not isinstance(text, str) or (not optional and not text.strip()):
        raise RuleDataError(file, key, f"{name} must be text, got {text!r}")
    return text


def nearest(given: str, known: tuple[str, ...]) -> str:
    """The known name most like the one given; empty when none is."""
    return next(iter(get_close_matches(given, known, 1, 0.6)), "")
