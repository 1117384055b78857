"""Texts that break files or come alive in spreadsheets, and where a spec takes text. Every one is made, none is a snapshot."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from copy import deepcopy
from functools import cache
from itertools import product
from typing import Any, NamedTuple

from elevgen.core.measures import ALLOWED
from elevgen.spec.fields import DATE_PATTERN, IDENTIFIER_PATTERN, LINE_PATTERN
from elevgen.spec.models import Spec

BEFORE = ("", " ", "   ", "\t", "\r", "\n", "\u00a0", "\u3000", "\ufeff", "\u200b", "\u202e", "'", "\x00", '"', "\x1b[2J")
FORMULAS = (
    *("=1+1", "+1+1", "-1+1", "@SUM(1)", "=", "==", "=-1", "+", "-", "@", "=A1", "=BILL_TOTAL", "=Bill!A1", "{=1+1}", "%0A=1"),
    *("=cmd|' /C calc'!A0", '=DDE("cmd";"/C calc";"x")', "+cmd|' /C notepad'!'A1'", "@cmd|'/C calc'!A1", "=MSEXCEL|'\\..\\x'!''"),
    *(
        '=HYPERLINK("http://example.invalid","x")',
        '=WEBSERVICE("http://example.invalid")',
        '=IMPORTXML("x","//a")',
        "=RTD(1,2,3)",
    ),
    *("\uff1d1+1", "\uff0b1", "\uff0d1", "\uff20SUM(1)", "=\u20601", "=1;=2", ";=1+1", ",=1+1", "a;=1+1", 'a",=1+1,"', "a\n=1+1"),
)
MARKUP = (
    *(
        "<b>",
        "</t></is></c>",
        "</v></c><c><f>1+1</f>",
        "<!--",
        "-->",
        "<![CDATA[",
        "]]>",
        "<?xml?>",
        "&amp;",
        "&#x3d;1+1",
        "&#0;",
    ),
    *('" onload="x', "<!DOCTYPE a [<!ENTITY b 'c'>]>&b;", "&lol;", "<script>alert(1)</script>", "javascript:x", "mailto:x@y"),
    *(
        "http://example.invalid/a?b=c&d",
        "file:///etc/passwd",
        "internal:Bill!A1",
        "external:c.xlsx",
        "ftp://x",
        "\\\\host\\share",
    ),
)
ESCAPES = (
    "_x0041_",
    "_x003D_1+1",
    "_x000D_",
    "_x005F_x0041_",
    "x_x0000_",
    "_xD800_",
    "_x0041",
    "__x0041__",
    "_x005f_",
    "\\u003d1",
)
SIGNS = (
    *(
        "\x00",
        "\x01",
        "\x08",
        "\x0b",
        "\x1f",
        "\x7f",
        "\x85",
        "\x9f",
        "\u2028",
        "\u2029",
        "\ufffe",
        "\uffff",
        "\ufffd",
        "\ud800",
        "\udfff",
    ),
    *(
        "\ud83d",
        "\U0001f9f1",
        "\U0001f468\u200d\U0001f469\u200d\U0001f467",
        "\u0301",
        "e\u0301" * 9,
        "\u202eabc\u202c",
        "\u2066x\u2069",
    ),
    *("\u05d0\u05d1", "\u0627\u0628", "\u1100\u1161", "\U0010ffff", "\U000e0041", "\u00ad", "\u034f", "\u0000=1"),
)
NAMES = (
    *(
        "'",
        "''",
        "'Bill'!A1",
        "[x]",
        "]",
        ":",
        "*",
        "?",
        "/",
        "\\",
        "..",
        "../../x",
        "CON",
        "nul.",
        ".",
        "a/b",
        "%s",
        "%n",
        "{0}",
        "${x}",
    ),
    *(
        "$(x)",
        "`x`",
        "#REF!",
        "#N/A",
        "TRUE",
        "1E5",
        "00123",
        "1/2",
        "2026-01-01",
        "R1C1",
        "A1",
        "_xlnm.Print_Area",
        "Sheet1!A1",
        "\\P",
        "%%c",
    ),
    *(
        "{\\fArial;x}",
        "^J",
        "%%d",
        "\\U+003D",
        "AcDbText",
        "  0\nEOF",
        "&P",
        "&D",
        "&[Tab]",
        '&"Arial"',
        "&L&R",
        '"',
        '"""',
        ",",
        ";",
        "|",
    ),
)
LONG = (
    "x" * 200,
    "=" + "1+" * 99,
    "\U0001f9f1" * 100,
    "=" * 201,
    "x" * 32_767,
    "=" + "x" * 32_768,
    "\u0301" * 33_000,
    "_x0041_" * 28,
)
HARMLESS = "plain words"


@cache
def texts() -> tuple[str, ...]:
    """Every hostile text once, in one order: no fewer than 500."""
    mixed = (before + formula for before, formula in product(BEFORE, FORMULAS))
    framed = (frame.replace("~", text) for text in (*MARKUP, *ESCAPES, *SIGNS) for frame in ("~", "=~", "a~", "~=1"))
    return tuple(dict.fromkeys((*mixed, *framed, *NAMES, *LONG)))


class Place(NamedTuple):
    """A place in a spec that takes free text: the path to it, whether it is a key, and how much it holds."""

    path: tuple[str | int, ...]
    longest: int
    is_key: bool = False


CHECKED = frozenset({("Override", "unit"), ("Override", "value"), ("SheetModel", "layers"), ("SheetModel", "template")})
"""Fields of free form whose text has to be one the house knows: a unit, a word of a rule, a file."""

KNOWN_WORDS = frozenset(
    {
        *(("JunctionModel", "walls"), ("LeafModel", "bond"), ("Override", "rule"), ("Waiver", "finding"), ("WallModel", "type")),
        *(("WallTypeModel", "outer"), ("WallTypeModel", "inner"), ("ZoneModel", "unit"), ("Spec", "rules")),
        *(("MeasurementModel", "rules"), ("MeasurementModel", "packs")),
    }
)
"""Text that has to be the name of something in the spec or in the rules."""

FREE, KEYS, REFUSED = "free", "keys", "refused"


@cache
def fields() -> dict[tuple[str, str], tuple[str, int]]:
    """Every field of the spec that takes text, by model and name: what kind of text, and how long. A new one is found here.

    Raises LookupError for text that is neither free nor known to be checked.
    """
    schema = Spec.model_json_schema()
    found: dict[tuple[str, str], tuple[str, int]] = {}
    for model, shape in {**schema["$defs"], "Spec": schema}.items():
        for name, held in shape.get("properties", {}).items():
            for text in _texts_of(held):
                if kind := _kind((model, name), text):
                    found[model, name] = (kind, text.get("maxLength", 10**6))
            if "maxLength" in held.get("propertyNames", {}) and (model, name) not in KNOWN_WORDS:
                found[model, name] = (KEYS, held["propertyNames"]["maxLength"])
    return found


def _kind(where: tuple[str, str], text: dict[str, Any]) -> str:
    if text.get("description") == ALLOWED or text.get("pattern") in (IDENTIFIER_PATTERN, DATE_PATTERN) or where in KNOWN_WORDS:
        return ""
    if where in CHECKED:
        return REFUSED
    if text.get("pattern") != LINE_PATTERN:
        raise LookupError(f"{where}: is this free text, or has it to be a name that is known?")
    return FREE


def _texts_of(shape: Any) -> Iterator[dict[str, Any]]:
    """The parts of a field's schema that allow any text."""
    if shape.get("type") == "string" and not {"enum", "const"} & shape.keys():
        yield shape
    for key in ("anyOf", "oneOf", "prefixItems"):
        for part in shape.get(key, ()):
            yield from _texts_of(part)
    for key in ("items", "additionalProperties"):
        if isinstance(shape.get(key), dict):
            yield from _texts_of(shape[key])


def places(spec: Spec) -> Iterator[tuple[tuple[str, str], Place]]:
    """Every place in a spec for free text with the model and field it is, given or not."""
    yield from _places(spec, ())


def _places(model: Any, path: tuple[str | int, ...]) -> Iterator[tuple[tuple[str, str], Place]]:
    for name in type(model).model_fields:
        where = (type(model).__name__, name)
        kind, longest = fields().get(where, ("", 0))
        value = getattr(model, name)
        if kind == FREE:
            yield where, Place((*path, name), longest)
        if kind == KEYS:
            for key in value:
                yield where, Place((*path, name, key), longest, is_key=True)
        inside = value.items() if hasattr(value, "items") else enumerate(value) if isinstance(value, tuple) else [(None, value)]
        for step, held in inside:
            if hasattr(held, "model_fields_set"):
                yield from _places(held, (*path, name) if step is None else (*path, name, step))


def filled(raw: dict[str, Any], filling: Mapping[Place, str], *, cut: bool = True) -> dict[str, Any]:
    """A spec with a text in each place, cut where the place holds less; keys are renamed wherever they are spoken of."""
    made = deepcopy(raw)
    for place, text in sorted(filling.items(), key=lambda item: item[0].is_key):
        new = text[: place.longest] if cut else text
        if place.is_key:
            section, old = place.path
            made[section] = {new if key == old else key: held for key, held in made[section].items()}
            made = _renamed(made, old, new, section)
            continue
        *way, last = place.path
        held: Any = made
        for step in way:
            held = held.setdefault(step, {}) if isinstance(held, dict) else held[step]
        held[last] = new
    return made


SPOKEN_OF = {"units": ("unit",), "leaves": ("outer", "inner"), "wall_types": ("type",)}
"""The fields in which the keys of a section are spoken of."""


def _renamed(held: Any, old: Any, new: str, section: Any) -> Any:
    if isinstance(held, list):
        return [_renamed(one, old, new, section) for one in held]
    if isinstance(held, dict):
        return {
            key: new if key in SPOKEN_OF[section] and one == old else _renamed(one, old, new, section)
            for key, one in held.items()
        }
    return held


def as_json(raw: dict[str, Any]) -> str:
    """The spec as its author might save it: escapes for what is not ASCII, lone halves of pairs too."""
    return json.dumps(raw)
