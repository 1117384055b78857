"""Reads a country's rules and units from TOML, its parents first, then the spec's overrides.

A country is a folder under `countries/` with `rules.toml` and, if it has units of its own, `units.toml`.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from importlib.resources import files
from importlib.resources.abc import Traversable
from math import isfinite
from types import MappingProxyType
from typing import Any, get_args

from elevgen.core.errors import Fault, RuleDataError, SpecError
from elevgen.core.figures import Lengths, figures
from elevgen.core.measures import parse_length
from elevgen.core.sourced import Sourced
from elevgen.rules.book import CatalogueUnit, RuleBook
from elevgen.rules.entries import cited, nearest, sourced_entry, text_field
from elevgen.rules.keys import KEYS, MATERIALS, Key
from elevgen.rules.overrides import OverrideLike, overridden

_HEADINGS = frozenset({"title", "edition", "extends", "lengths", "rules", "not_covered"})
_UNIT_ENTRY = frozenset(
    {"material", "length", "height", "width", "mass", "joint", "bed", "document", "edition", "clause", "status", "note"}
)
_PARENT_ONLY = "_"
"""A folder whose name begins so holds what countries extend and is no rule set by itself."""


@dataclass(slots=True)
class _Draft:
    """A rule set while its files are being read, parents first."""

    title: str = ""
    edition: str = ""
    lineage: tuple[str, ...] = ()
    lengths: Lengths = "mm"
    values: dict[str, Sourced] = field(default_factory=dict)
    alternatives: dict[str, tuple[Sourced, ...]] = field(default_factory=dict)
    not_covered: dict[str, str] = field(default_factory=dict)
    units: dict[str, CatalogueUnit] = field(default_factory=dict)


def country_ids(root: Traversable | None = None) -> tuple[str, ...]:
    """The rule sets there are: every folder with a `rules.toml`, sorted; not what is only there to be extended."""
    return tuple(name for name in _folders(root or _countries()) if not name.startswith(_PARENT_ONLY))


def _folders(root: Traversable) -> tuple[str, ...]:
    return tuple(sorted(f.name for f in root.iterdir() if f.is_dir() and (f / "rules.toml").is_file()))


def load_book(country_id: str, overrides: Sequence[OverrideLike] = (), root: Traversable | None = None) -> RuleBook:
    """A country's rules with the spec's overrides applied.

    Raises RuleDataError for a rule file that is wrong; SpecError for an unknown country or a bad override.
    """
    root = root or _countries()
    known = country_ids(root)
    if country_id not in known:
        fault = Fault(("rules",), "there is no such rule set", country_id, ", ".join(known), nearest(country_id, known))
        raise SpecError((fault,))
    draft = _read_country(root, country_id, ())
    book = RuleBook(
        id=country_id,
        title=draft.title,
        edition=draft.edition,
        lineage=draft.lineage,
        values=MappingProxyType(draft.values),
        units=MappingProxyType(draft.units),
        alternatives=MappingProxyType(draft.alternatives),
        not_covered=MappingProxyType(draft.not_covered),
        lengths=draft.lengths,
    )
    return overridden(book, overrides)


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
    elif parent not in _folders(root):
        raise RuleDataError(name, "extends", f"there is no rule set {parent!r}")
    else:
        draft = _read_country(root, parent, (*below, country_id))
    if (lengths := data.get("lengths", draft.lengths)) not in get_args(Lengths):
        raise RuleDataError(name, "lengths", f"{lengths!r}; allowed: {', '.join(get_args(Lengths))}")
    draft.lengths = lengths
    draft.title = text_field(data, "title", name, "title")
    draft.edition = text_field(data, "edition", name, "edition")
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
        sourced = sourced_entry(key, entry, file)
        others = tuple(sourced_entry(key, other, file, alternative=True) for other in entry.get("alternatives", ()))
        if draft.values.get(name) == sourced and draft.alternatives[name] == others:
            raise RuleDataError(file, name, "replaces the inherited value by the same value from the same source")
        draft.values[name] = sourced
        draft.alternatives[name] = others
        draft.not_covered.pop(name, None)
    for name, reason in _one_by_one(draft, not_covered, file):
        if not isinstance(reason, str) or not reason.strip():
            raise RuleDataError(file, name, "not covered, but no reason given")
        draft.not_covered[name] = reason
        draft.values.pop(name, None)
        draft.alternatives.pop(name, None)


def _one_by_one(draft: _Draft, not_covered: Mapping[str, Any], file: str) -> Iterator[tuple[str, Any]]:
    """Each key that is not covered; one ending in `.*` is every key of that stem that has no value and no line of its own."""
    for name, reason in not_covered.items():
        stem = name.removesuffix("*")
        if stem == name:
            _key(name, file)
            yield name, reason
            continue
        under = [key for key in KEYS if stem.endswith(".") and key.startswith(stem)]
        left = [key for key in under if key not in draft.values and key not in not_covered]
        if not left:
            raise RuleDataError(
                file, name, "every key of that stem has a value or a line of its own" if under else "no such keys"
            )
        yield from ((key, reason) for key in left)


def _read_units(draft: _Draft, data: Mapping[str, Any], file: str) -> None:
    for name, entry in data.items():
        key = f"unit.{name}"
        if not isinstance(entry, dict) or (strange := sorted(set(entry) - _UNIT_ENTRY)):
            raise RuleDataError(file, key, f"allowed: {', '.join(sorted(_UNIT_ENTRY))}; got {strange[0] if strange else entry!r}")
        if entry.get("material") not in MATERIALS:
            raise RuleDataError(file, key, f"material {entry.get('material')!r}; allowed: {', '.join(MATERIALS)}")
        length, height, width = (_size(entry, size, file, key) for size in ("length", "height", "width"))
        joint, bed = (_size(entry, which, file, key) if which in entry else None for which in ("joint", "bed"))
        mass = _above_zero(entry["mass"], "mass", "a mass in kg", file, key) if "mass" in entry else None
        words = " x ".join(figures(draft.lengths).length(size) for size in (length, width, height))
        source = cited(key, words, "mm" if draft.lengths == "mm" else "word", entry, file)
        unit = CatalogueUnit(name, entry["material"], length, height, width, source, mass, joint, bed)
        if draft.units.get(name) == unit:
            raise RuleDataError(file, key, "replaces the inherited unit by the same unit from the same source")
        draft.units[name] = unit


def _size(entry: Mapping[str, Any], name: str, file: str, key: str) -> float:
    """A number of mm, or text with its unit and whole fractions (`"7 5/8 in"`)."""
    value = entry.get(name)
    if isinstance(value, str):
        try:
            value = parse_length(value)
        except ValueError as reason:
            raise RuleDataError(file, key, f"{name}: {reason}") from None
    return _above_zero(value, name, "a size in mm", file, key)


def _above_zero(value: Any, name: str, what: str, file: str, key: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not value > 0 or not isfinite(value):
        raise RuleDataError(file, key, f"{name} {value!r} is not {what}")
    return float(value)


def _key(name: str, file: str) -> Key:
    key = KEYS.get(name)
    if key is None:
        like = nearest(name, tuple(KEYS))
        raise RuleDataError(file, name, "unknown key" + (f"; nearest: {like}" if like else ""))
    return key


def _toml(path: Traversable, file: str) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as reason:
        raise RuleDataError(file, "(the whole file)", str(reason)) from None
