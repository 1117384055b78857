"""Pydantic's faults in plain words, at paths the user can find."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel, ValidationError

from elevgen.core.errors import JsonPath
from elevgen.core.measures import ALLOWED
from elevgen.spec import metres
from elevgen.spec.faults import FaultList, nearest, quoted
from elevgen.spec.fields import DATE_PATTERN, PATTERN_WORDS
from elevgen.spec.models import Spec

_LIKELY_SIZE = 10.0
_TYPES = {
    "string_type": "text in double quotes",
    "int_type": "a whole number",
    "bool_type": "true or false",
    "float_type": "a number",
    "tuple_type": "a list [ ]",
    "dict_type": "an object { }",
    "mapping_type": "an object { }",
    "model_type": "an object { }",
    "model_attributes_type": "an object { }",
}
_BOUNDS = {"greater_than": "more than", "greater_than_equal": "at least", "less_than": "less than", "less_than_equal": "at most"}
_UNITS = {
    "scale": "",
    "mass": " kg",
    "load": " kN",
    "stop_ends": "",
    "opening_min_area_m2": " m2",
    "qty_round": "",
    "qty_round_m": " m",
    "qty_round_m2": " m2",
    "qty_round_m3": " m3",
}
"""Units of limits that are not in mm."""
_SPECIAL = {
    "base": "a level, or a list of [along, level] points",
    "top": "a level, or a list of [along, level] points",
    "start": "a list of two lengths, [x, y]",
    "end": "a list of two lengths, [x, y]",
    "joints": '"place", or a list of joints such as {"at": 6075}, with "place" among them to have more placed',
    "lintels": '"place", or a list of lintels such as {"over": ["D1"], "at": 1200, "length": 1210}',
    "reinforcement": '"place", or a list of lengths such as {"level": 2110, "at": 700, "length": 2110}',
    "ties": '"place", or a list of ties such as {"at": 450, "level": 225}',
    "damp_courses": '"place", or a list of lengths such as {"level": 0, "at": 0, "length": 6000}',
    "trays": '"place", or a list of trays such as {"level": 2110, "at": 1100, "length": 1410}',
    "ground": "a level, or a list of [along, level] points",
    "line": "a list of [along, level] points",
    "load": "a number of kN to the metre, or kN at one point, without a unit",
    "mass": "a number of kg, without a unit",
    "value": "a number, or text in double quotes",
    "scale": "a whole number from 1 to 1000, or null",
    "opening_min_area_m2": "a number of m2, without a unit",
    "dim_round_mm": "a number of mm, without a unit",
    "half_brick_most_mm": "a number of mm, without a unit",
    "qty_round": "a number, without a unit",
    "qty_round_m": "a number of m, without a unit",
    "qty_round_m2": "a number of m2, without a unit",
    "qty_round_m3": "a number of m3, without a unit",
}
"""What fields that take more than one thing, or no millimetres, allow."""
_FORMS = {
    "base": "a point [along, level]",
    "top": "a point [along, level]",
    "zones": 'an object such as {"unit": "brick_65"}',
    "features": 'an object such as {"kind": "downpipe", "at": 6000}',
    "joints": 'an object such as {"at": 5000}, or "place"',
    "lintels": 'an object such as {"over": ["D1"], "at": 1200, "length": 1210}, or "place"',
    "reinforcement": 'an object such as {"level": 2110, "at": 700, "length": 2110}, or "place"',
    "ties": 'an object such as {"at": 450, "level": 225}',
    "damp_courses": 'an object such as {"level": 0, "at": 0, "length": 6000}, or "place"',
    "trays": 'an object such as {"level": 2110, "at": 1100, "length": 1410}, or "place"',
    "ground": "a point [along, level]",
    "line": "a point [along, level]",
    "abutments": 'an object such as {"line": [[0, 2400], [3000, 3300]]}',
    "loads": 'an object such as {"level": 2400, "at": 0, "length": 4000, "load": 6.5}',
}
"""What the items of lists look like that people write short."""


def tell(error: ValidationError, raw: Any, faults: FaultList) -> None:
    """Note every fault pydantic found in `raw`."""
    for item in error.errors(include_url=False, include_input=False):
        kind, loc, context = item["type"], item["loc"], item.get("ctx", {})
        path, at_key = user_path(raw, loc, kind == "missing")
        if kind == "missing":
            _tell_missing(path, loc, faults)
        elif kind == "too_short" and len(value_at(raw, path)) >= context["min_length"]:
            continue  # pydantic counts only the items that were right, and those that were not have their own faults
        elif kind == "extra_forbidden":
            _tell_unknown(path, raw, faults)
        elif kind == "literal_error":
            choices = re.findall(r"'([^']*)'", context["expected"]) or [context["expected"]]
            given = value_at(raw, path)
            allowed = _FORMS.get(_list_of(path)) or _SPECIAL.get(str(path[-1]), ", ".join(choices))
            near = nearest(given, choices) if isinstance(given, str) else ""
            faults.add(path, _choice_words(path), allowed, near)
        else:
            message, allowed = _words(kind, context, path, value_at(raw, path))
            faults.add(path, message, allowed, at_key=at_key)


def user_path(raw: Any, loc: tuple[int | str, ...], missing: bool = False) -> tuple[JsonPath, bool]:
    """The path in the user's file of pydantic's location, and whether the key is meant.

    Pydantic puts the branch of a union into its locations, and marks keys; neither is in the file.
    """
    path: list[int | str] = []
    here = raw
    for place, step in enumerate(loc):
        if _leads(here, step):
            here = here[step]
        elif not (missing and isinstance(step, str) and place == len(loc) - 1):
            continue
        path.append(step)
    return tuple(path), loc[-1:] == ("[key]",)


def _leads(here: Any, step: int | str) -> bool:
    if isinstance(step, str):
        return isinstance(here, dict) and step in here
    return isinstance(here, list) and step < len(here)


def value_at(raw: Any, path: JsonPath) -> Any:
    """What stands at a path that exists."""
    for step in path:
        raw = raw[step]
    return raw


def model_at(path: JsonPath) -> type[BaseModel]:
    """The model of the object that stands at a path of the spec."""
    model: type[BaseModel] = Spec
    steps = iter(path)
    for step in steps:
        annotation = model.model_fields[str(step)].annotation
        inner = _model_in(annotation)
        if inner is None:
            break
        model = inner
        if annotation is not inner:
            next(steps, None)
    return model


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and get_origin(annotation) is None:
        return annotation if issubclass(annotation, BaseModel) else None
    return next((model for arg in get_args(annotation) if (model := _model_in(arg))), None)


def _tell_missing(path: JsonPath, loc: tuple[int | str, ...], faults: FaultList) -> None:
    if isinstance(loc[-1], int):
        faults.add(path, "has too few values", _SPECIAL.get(str(path[-1]) if path else "", "exactly 2 values"))
        return
    field = model_at(path[:-1]).model_fields[str(path[-1])]
    choices = ", ".join(str(choice) for choice in get_args(field.annotation) if get_origin(field.annotation) is Literal)
    faults.add(path, f"the key {quoted(str(path[-1]))} is missing", choices or field.description or "")


def _tell_unknown(path: JsonPath, raw: Any, faults: FaultList) -> None:
    holder = value_at(raw, path[:-1])
    fields = tuple(model_at(path[:-1]).model_fields)
    free = [name for name in fields if name not in holder] if isinstance(holder, Mapping) else fields
    key = str(path[-1])
    if meant := nearest(key, free):
        faults.misspelt.add((*path[:-1], meant))
    faults.add(path, f"unknown key {quoted(key)}", ", ".join(fields), meant or nearest(key, fields), at_key=True)


def _choice_words(path: JsonPath) -> str:
    return "is not a version of the spec this program reads" if path == ("spec",) else "is not one of the choices"


def _list_of(path: JsonPath) -> str:
    """The key of the list of which an item stands at the path; empty where it is no item."""
    return str(path[-2]) if len(path) > 1 and isinstance(path[-1], int) else ""


def _metres_hint(value: Any, path: JsonPath, least: float) -> str:
    """The hint for a size that is too small in millimetres and right in metres."""
    if not metres.likely(value, _LIKELY_SIZE):
        return ""
    field = model_at(path[:-1]).model_fields[str(path[-1])]
    most = min(_uppers((field.annotation, *field.metadata)), default=least)
    return metres.hint(value) if least <= value * 1000 <= most else ""


def _uppers(parts: Iterable[Any]) -> Iterator[float]:
    """The upper limits in an annotation."""
    for part in parts:
        if isinstance(upper := getattr(part, "le", None), int | float):
            yield upper
        yield from _uppers((*get_args(part), *getattr(part, "metadata", ())))


def _words(kind: str, context: dict[str, Any], path: JsonPath, value: Any) -> tuple[str, str]:
    """Message and what is allowed, for a value that is there and wrong."""
    last = str(path[-1]) if path else ""
    percent = path[-2:-1] == ("waste",)
    if kind in _TYPES:
        wanted = _FORMS.get(_list_of(path)) or _SPECIAL.get(last, _TYPES[kind])
        if kind == "float_type" and wanted == "a number":
            return ("is not a number", "a number from 0 to 100, per cent") if percent else ("is not a length", ALLOWED)
        return f"must be {wanted}", wanted
    if kind in _BOUNDS:
        limit = f"{next(iter(context.values())):.15g}"
        unit = " per cent" if percent else _UNITS.get(last, " mm")
        allowed = f"{_BOUNDS[kind]} {limit}{unit}"
        if kind.startswith("less"):
            return "is too large", allowed
        return "is too small" + (_metres_hint(value, path, next(iter(context.values()))) if unit == " mm" else ""), allowed
    if kind == "value_error":
        message = str(context["error"])
        if ALLOWED in message:
            return "is not a length", ALLOWED
        return message, ALLOWED if "length" in message else PATTERN_WORDS[DATE_PATTERN]
    if kind in ("too_short", "too_long"):
        few = kind == "too_short"
        bound = context["min_length" if few else "max_length"]
        allowed = _SPECIAL.get(last, "") if last in ("start", "end") else ""
        return "has too few values" if few else "has too many values", allowed or f"at {'least' if few else 'most'} {bound}"
    if kind == "string_too_short":
        return "is empty", f"at least {context['min_length']} character"
    if kind == "string_too_long":
        return "is too long", f"at most {context['max_length']} characters"
    if kind == "string_pattern_mismatch":
        return "is not in the right form", PATTERN_WORDS.get(context["pattern"], "")
    if kind == "finite_number":
        return "is too large for a number", "a finite number"
    return "is not right here", _SPECIAL.get(last, "")
