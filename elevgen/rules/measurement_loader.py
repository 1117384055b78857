"""Reads the presets of measurement: one file of the folder `measurement/` each, found by being there."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from importlib.resources import files
from importlib.resources.abc import Traversable
from itertools import pairwise
from math import isfinite
from types import MappingProxyType
from typing import Any

from elevgen.core.errors import Fault, RuleDataError, SpecError
from elevgen.core.sourced import Sourced, Value
from elevgen.rules.entries import cited, nearest, text_field
from elevgen.rules.measurement import FIELDS, YES_NO, Field, MeasurementRules

_ENTRY = frozenset({"value", "document", "edition", "clause", "status", "note"})


def measurement_ids(root: Traversable | None = None) -> tuple[str, ...]:
    """The presets there are: every file of the folder, sorted."""
    return tuple(sorted(f.name.removesuffix(".toml") for f in (root or _folder()).iterdir() if f.name.endswith(".toml")))


def load_measurement(name: str, own: Mapping[str, Any] | None = None, root: Traversable | None = None) -> MeasurementRules:
    """A preset, with the user's own values by field in place of its own.

    Raises RuleDataError for a file that is wrong; SpecError for a preset that is not there.
    """
    root = root or _folder()
    known = measurement_ids(root)
    if name not in known:
        raise SpecError(
            (Fault(("measurement", "rules"), "there is no such rule set", name, ", ".join(known), nearest(name, known)),)
        )
    file = f"{name}.toml"
    try:
        data = tomllib.loads((root / file).read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as reason:
        raise RuleDataError(file, "(the whole file)", str(reason)) from None
    title = text_field(data, "title", file, "title")
    values = {key: _sourced(key, entry, file) for key, entry in data.items() if key != "title"}
    given = {key: _own(value) for key, value in (own or {}).items()}
    return MeasurementRules(name, title, MappingProxyType(values), MappingProxyType(given))


def _folder() -> Traversable:
    return files("elevgen.rules") / "measurement"


def _sourced(name: str, entry: Any, file: str) -> Sourced:
    about = FIELDS.get(name)
    if about is None:
        like = nearest(name, tuple(FIELDS))
        raise RuleDataError(file, name, "unknown field" + (f"; nearest: {like}" if like else ""))
    if not isinstance(entry, dict) or "value" not in entry:
        raise RuleDataError(file, name, "an entry is a table with a value")
    if strange := sorted(set(entry) - _ENTRY):
        raise RuleDataError(file, name, f"unknown field {strange[0]!r}; allowed: {', '.join(sorted(_ENTRY))}")
    try:
        value = _READ[about.kind](about, entry["value"])
    except ValueError as reason:
        raise RuleDataError(file, name, str(reason)) from None
    return cited(f"measurement.{name}", value, about.unit, entry, file)


def _number_of(about: Field, given: Any) -> Value:
    if isinstance(given, bool) or not isinstance(given, int | float) or not isfinite(given) or given < 0:
        raise ValueError(f"{given!r} is not a number from 0 up")
    return float(given)


def _yes_no(about: Field, given: Any) -> Value:
    if not isinstance(given, bool):
        raise ValueError(f"{given!r}; allowed: true, false")
    return YES_NO[not given]


def _word(about: Field, given: Any) -> Value:
    if given not in about.choices:
        raise ValueError(f"{given!r}; allowed: {', '.join(about.choices)}")
    return str(given)


def _sizes(about: Field, given: Any) -> Value:
    if not isinstance(given, list) or not given:
        raise ValueError(f"{given!r} is not a list of sizes")
    sizes = tuple(float(item) for item in given if _number_of(about, item))
    if len(sizes) < len(given) or any(a >= b for a, b in pairwise(sizes)):
        raise ValueError("the sizes do not rise from above 0")
    return sizes


_READ: Mapping[str, Callable[[Field, Any], Value]] = MappingProxyType(
    {"number": _number_of, "yes or no": _yes_no, "word": _word, "sizes": _sizes}
)


def _own(value: Any) -> Value:
    """A value the spec's models have judged already."""
    return YES_NO[not value] if isinstance(value, bool) else value if isinstance(value, str) else float(value)
