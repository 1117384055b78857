"""Reads a country's rules and units from TOML, its parents first, then the spec's overrides.

A country is a folder under `countries/` with `rules.toml` and, if it has units of its own, `units.toml`.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from importlib.resources import files
from importlib.resources.abc import Traversable
from itertools import pairwise
from math import isfinite
from types import MappingProxyType
from typing import Any, Protocol, cast

from elevgen.core.errors import Fault, RuleDataError, SpecError
from elevgen.core.measures import millimetres, parse_length
from elevgen.core.sourced import STATUSES, Sourced, Status, Value
from elevgen.rules.book import CatalogueUnit, RuleBook
from elevgen.rules.keys import KEYS, MATERIALS, Key

_PER_MM = MappingProxyType({"mm": 1.0, "m": 1000.0, "in": 25.4, "ft": 304.8})
_HEADINGS = frozenset({"title", "edition", "extends", "rules", "not_covered"})
_ENTRY = frozenset({"value", "unit", "document", "edition", "clause", "status", "note", "alternatives"})
_UNIT_ENTRY = frozenset({"material", "length", "height", "width", "document", "edition", "clause", "status", "note"})


class OverrideLike(Protocol):
    """What an override of the spec offers."""

    @property
    def rule(self) -> str: ...
    @property
    def value(self) -> float | str: ...
    @property
    def unit(self) -> str: ...
    @property
    def reason(self) -> str: ...
    @property
    def by(self) -> str: ...


@dataclass(slots=True)
class _Draft:
    """A rule set while its files are being read, parents first."""

    title: str = ""
    edition: str = ""
    lineage: tuple[str, ...] = ()
    values: dict[str, Sourced] = field(default_factory=dict)
    alternatives: dict[str, tuple[Sourced, ...]] = field(default_factory=dict)
    not_covered: dict[str, str] = field(default_factory=dict)
    units: dict[str, CatalogueUnit] = field(default_factory=dict)


def country_ids(root: Traversable | None = None) -> tuple[str, ...]:
    """The rule sets there are: every folder with a `rules.toml`, sorted."""
    root = root or _countries()
    return tuple(sorted(f.name for f in root.iterdir() if f.is_dir() and (f / "rules.toml").is_file()))


def load_book(country_id: str, overrides: Sequence[OverrideLike] = (), root: Traversable | None = None) -> RuleBook:
    """A country's rules with the spec's overrides applied.

    Raises RuleDataError for a rule file that is wrong; SpecError for an unknown country or a bad override.
    """
    root = root or _countries()
    known = country_ids(root)
    if country_id not in known:
        fault = Fault(("rules",), "there is no such rule set", country_id, ", ".join(known), _nearest(country_id, known))
        raise SpecError((fault,))
    draft = _read_country(root, country_id, ())
    _apply_overrides(draft, overrides)
    return RuleBook(
        id=country_id,
        title=draft.title,
        edition=draft.edition,
        lineage=draft.lineage,
        values=MappingProxyType(draft.values),
        units=MappingProxyType(draft.units),
        alternatives=MappingProxyType(draft.alternatives),
        not_covered=MappingProxyType(draft.not_covered),
    )


def _countries() -> Traversable:
    return files("elevgen.rules") / "countries"


def _read_country(root: Traversable, country_id: str, below: tuple[str, ...]) -> _Draft:
    name = f"{country_id}/rules.toml"
    data = _toml(root / country_id / "rules.toml", name)
    if strange := sorted(set(data) - _HEADINGS):
        raise RuleDataError(name, strange[0], f"unknown heading; allowed: {', '.join(sorted(_HEADINGS))}")
    parent = data.get("extends")
    if parent is None:
        draft = _Draft()
    elif parent in (*below, country_id):
        raise RuleDataError(name, "extends", f"{parent!r} extends this set in turn")
    elif parent not in country_ids(root):
        raise RuleDataError(name, "extends", f"there is no rule set {parent!r}")
    else:
        draft = _read_country(root, parent, (*below, country_id))
    draft.title = _text(data, "title", name, "title")
    draft.edition = _text(data, "edition", name, "edition")
    draft.lineage = (country_id, *draft.lineage)
    _read_rules(draft, data.get("rules", {}), data.get("not_covered", {}), name)
    if (units := root / country_id / "units.toml").is_file():
        _read_units(draft, _toml(units, f"{country_id}/units.toml"), f"{country_id}/units.toml")
    return draft


def _read_rules(draft: _Draft, rules: Mapping[str, Any], not_covered: Mapping[str, Any], file: str) -> None:
    for name, entry in rules.items():
        key = _key(name, file)
        if name in not_covered:
            raise RuleDataError(file, name, "has a value and is listed as not covered")
        sourced = _sourced(key, entry, file)
        if draft.values.get(name) == sourced:
            raise RuleDataError(file, name, "replaces the inherited value by the same value from the same source")
        draft.values[name] = sourced
        draft.alternatives[name] = tuple(
            _sourced(key, alternative, file, alternative=True) for alternative in entry.get("alternatives", ())
        )
        draft.not_covered.pop(name, None)
    for name, reason in not_covered.items():
        _key(name, file)
        if not isinstance(reason, str) or not reason.strip():
            raise RuleDataError(file, name, "not covered, but no reason given")
        draft.not_covered[name] = reason
        draft.values.pop(name, None)
        draft.alternatives.pop(name, None)


def _read_units(draft: _Draft, data: Mapping[str, Any], file: str) -> None:
    for name, entry in data.items():
        key = f"unit.{name}"
        if not isinstance(entry, dict) or (strange := sorted(set(entry) - _UNIT_ENTRY)):
            raise RuleDataError(file, key, f"allowed: {', '.join(sorted(_UNIT_ENTRY))}; got {strange[0] if strange else entry!r}")
        if entry.get("material") not in MATERIALS:
            raise RuleDataError(file, key, f"material {entry.get('material')!r}; allowed: {', '.join(MATERIALS)}")
        sizes = []
        for size in ("length", "height", "width"):
            value = entry.get(size)
            if isinstance(value, bool) or not isinstance(value, int | float) or not value > 0 or not isfinite(value):
                raise RuleDataError(file, key, f"{size} {value!r} is not a size in mm")
            sizes.append(float(value))
        length, height, width = sizes
        words = " x ".join(millimetres(size) for size in (length, width, height))
        unit = CatalogueUnit(name, entry["material"], length, height, width, _cited(key, words, "mm", entry, file))
        if draft.units.get(name) == unit:
            raise RuleDataError(file, key, "replaces the inherited unit by the same unit from the same source")
        draft.units[name] = unit


def _sourced(key: Key, entry: Any, file: str, *, alternative: bool = False) -> Sourced:
    allowed = _ENTRY - {"alternatives"} if alternative else _ENTRY
    if not isinstance(entry, dict) or "value" not in entry:
        raise RuleDataError(file, key.key, "an entry is a table with a value")
    if strange := sorted(set(entry) - allowed):
        raise RuleDataError(file, key.key, f"unknown field {strange[0]!r}; allowed: {', '.join(sorted(allowed))}")
    try:
        value = _value(key, entry["value"], entry.get("unit", ""), unit_required=True)
    except ValueError as reason:
        raise RuleDataError(file, key.key, str(reason)) from None
    return _cited(key.key, value, key.unit, entry, file)


def _cited(key: str, value: Value, unit: str, entry: Mapping[str, Any], file: str) -> Sourced:
    status = entry.get("status")
    if status not in STATUSES:
        raise RuleDataError(file, key, f"status {status!r}; allowed: {', '.join(STATUSES)}")
    document = _text(entry, "document", file, key, optional=True)
    if not document and status != "practice":
        raise RuleDataError(file, key, f"status {status!r} without a document")
    edition, clause, note = (_text(entry, name, file, key, optional=True) for name in ("edition", "clause", "note"))
    return Sourced(key, value, unit, document, edition, clause, cast(Status, status), note)


def _value(key: Key, given: Any, unit: str, *, unit_required: bool) -> Value:
    """The value in the key's own unit. Raises ValueError saying what is allowed."""
    if key.kind == "word":
        if given not in key.choices:
            raise ValueError(f"{given!r}; allowed: {', '.join(key.choices)}")
        return str(given)
    factor = _factor(key, unit, unit_required=unit_required)
    if key.kind == "number":
        return _checked(key, given, factor)
    if not isinstance(given, list) or not given or not all(isinstance(band, list) and len(band) == 2 for band in given):
        raise ValueError(f"{given!r} is not a table of [up to, value] bands")
    bands = tuple((_checked(key, up_to, factor), _checked(key, value, factor)) for up_to, value in given)
    if any(a[0] >= b[0] for a, b in pairwise(bands)):
        raise ValueError("the bands do not rise")
    return bands


def _checked(key: Key, given: Any, factor: float) -> float:
    if isinstance(given, bool) or not isinstance(given, int | float) or not isfinite(given):
        raise ValueError(f"{given!r} is not a number")
    if given < 0 or (given == 0 and not key.may_be_zero):
        raise ValueError(f"{given!r} is not above 0")
    if key.unit == "nr" and given != int(given):
        raise ValueError(f"{given!r} is not a whole number")
    return float(given) * factor


def _factor(key: Key, unit: str, *, unit_required: bool) -> float:
    if not unit and not unit_required:
        return 1.0
    if key.unit == "mm" and unit in _PER_MM:
        return _PER_MM[unit]
    if unit == key.unit:
        return 1.0
    allowed = ", ".join(_PER_MM) if key.unit == "mm" else key.unit
    raise ValueError(f"unit {unit!r}; allowed: {allowed}")


def _apply_overrides(draft: _Draft, overrides: Sequence[OverrideLike]) -> None:
    faults: list[Fault] = []
    seen: set[str] = set()
    for i, override in enumerate(overrides):
        fault = _apply_override(draft, override, ("overrides", i), seen)
        if fault:
            faults.append(fault)
    if faults:
        raise SpecError(tuple(faults))


def _apply_override(draft: _Draft, override: OverrideLike, path: tuple[str | int, ...], seen: set[str]) -> Fault | None:
    key = KEYS.get(override.rule)
    if key is None:
        nearest = _nearest(override.rule, tuple(KEYS))
        return Fault(path, "there is no such rule", override.rule, "a rule key; `elevgen rules` lists them", nearest)
    if override.rule in seen:
        return Fault(path, "this rule is overridden twice", override.rule, "one override a rule")
    seen.add(override.rule)
    given = f"{override.value} {override.unit}".strip()
    try:
        value = _override_value(key, override)
    except ValueError as reason:
        return Fault(
            path, f"this value does not suit {key.key}: {reason}", f"{override.value} {override.unit}".strip(), _takes(key)
        )
    replaced = draft.values.get(key.key)
    if replaced is not None and replaced.value == value:
        return Fault(path, "changes nothing: the rule set has this value already", given)
    was = f"in place of {_shown(replaced)}" if replaced else "the rule set itself has no value"
    note = f"{override.reason}; {was}"
    draft.values[key.key] = Sourced(key.key, value, key.unit, f"override by {override.by}", "", "", "practice", note)
    if replaced is not None:
        draft.alternatives[key.key] = (replaced, *draft.alternatives.get(key.key, ()))
    draft.not_covered.pop(key.key, None)
    return None


def _override_value(key: Key, override: OverrideLike) -> Value:
    if key.kind == "bands":
        raise ValueError("a table cannot be overridden by one value")
    if key.kind == "number" and isinstance(override.value, str):
        if key.unit != "mm" or override.unit:
            raise ValueError(f"{override.value!r} is not a number")
        return _checked(key, parse_length(override.value), 1.0)
    return _value(key, override.value, override.unit if key.kind == "number" else "", unit_required=False)


def _shown(sourced: Sourced) -> str:
    value = millimetres(sourced.value, 4) if isinstance(sourced.value, float) else str(sourced.value)
    unit = "" if sourced.unit == "word" else f" {sourced.unit}"
    return f"{value}{unit}, {sourced.citation}"


def _takes(key: Key) -> str:
    if key.kind == "word":
        return ", ".join(key.choices)
    return "a length: a number of mm, or with a unit (mm, m, in, ft)" if key.unit == "mm" else f"a number ({key.unit})"


def _key(name: str, file: str) -> Key:
    key = KEYS.get(name)
    if key is None:
        nearest = _nearest(name, tuple(KEYS))
        raise RuleDataError(file, name, "unknown key" + (f"; nearest: {nearest}" if nearest else ""))
    return key


def _nearest(given: str, known: tuple[str, ...]) -> str:
    return next(iter(get_close_matches(given, known, 1, 0.6)), "")


def _text(table: Mapping[str, Any], name: str, file: str, key: str, *, optional: bool = False) -> str:
    text = table.get(name, "" if optional else None)
    if not isinstance(text, str) or (not optional and not text.strip()):
        raise RuleDataError(file, key, f"{name} must be text, got {text!r}")
    return text


def _toml(path: Traversable, file: str) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as reason:
        raise RuleDataError(file, "(the whole file)", str(reason)) from None
