"""Collects what is wrong with a spec and, at the end, points at each thing in the user's text."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from difflib import SequenceMatcher, get_close_matches

from elevgen.core.errors import Fault, JsonPath
from elevgen.core.figures import feet_and_inches
from elevgen.spec.locate import Lines, Places, places

_MOST_LISTED = 24
_LONGEST_GIVEN = 80
_LONGEST_COMPARED = 100
_MM = re.compile(r"(-?\d+(?:\.\d+)?) mm\b(?!\")")
_FEET = re.compile(r"""\d\s*(?:'|\\"|ft\b|in\b)""")
"""A length in feet or inches, as the user's JSON has it."""


def quoted(name: str) -> str:
    """A user's text for a message: in double quotes, control characters escaped."""
    return json.dumps(shortened(name), ensure_ascii=False)


def shortened(text: str) -> str:
    """At most 80 characters of a text."""
    return text if len(text) <= _LONGEST_GIVEN else text[: _LONGEST_GIVEN - 3] + "..."


def mm(value: float) -> str:
    """A length for a message."""
    return f"{round(value, 3):.15g} mm"


def nearest(given: str, names: Iterable[str]) -> str:
    """The name most like the one given, or nothing when none is alike."""
    known = sorted(names)
    if len(given) > _LONGEST_COMPARED:
        return ""
    wanted = given.casefold()
    by_folded = {name.casefold(): name for name in reversed(known)}
    close = get_close_matches(wanted, sorted(by_folded), n=3, cutoff=0.5)
    # Among names equally like it, the one that begins alike: P2 is more likely P1 than W2.
    close.sort(key=lambda name: (-SequenceMatcher(None, name, wanted).ratio(), name[:1] != wanted[:1]))
    return by_folded[close[0]] if close else ""


def listed(names: Iterable[str], otherwise: str = "") -> str:
    """Names as a list for people; `otherwise` says where a long list can be read."""
    known = sorted(names)
    if not known:
        return "none is defined"
    if len(known) > _MOST_LISTED:
        return f"one of {len(known)} names" + (f"; {otherwise}" if otherwise else "")
    return ", ".join(known)


class FaultList:
    """Faults in the making: paths and words now, places in the text once all are known."""

    def __init__(self) -> None:
        self._found: list[tuple[Fault, bool]] = []
        self.misspelt: set[JsonPath] = set()
        """Keys that are missing because they stand there misspelt, which is told of the key as it stands."""
        self.look_again = False
        """Set when the text holds repeated keys or NaN, which only a walk over the text can point at."""

    def __bool__(self) -> bool:
        return self.look_again or bool(self._found)

    def add(self, path: JsonPath, message: str, allowed: str = "", near: str = "", at_key: bool = False) -> None:
        """Note a fault of the value at a path, or of its key."""
        self._found.append((Fault(path, message, allowed=allowed, nearest=near), at_key))

    def unknown(
        self, path: JsonPath, what: str, given: str, names: Iterable[str], otherwise: str = "", at_key: bool = False
    ) -> None:
        """Note a name that is none of the known ones."""
        known = tuple(names)
        self.add(path, f"there is no {what} {quoted(given)}", listed(known, otherwise), nearest(given, known), at_key)

    def located(self, text: str) -> tuple[Fault, ...]:
        """Every fault with line, column and the text given, in file order."""
        where, lines = places(text), Lines(text)
        faults = [_repeated(path, at, first, lines) for path, at, first in where.repeated]
        faults += [
            _pointed(Fault(path, "is not a number JSON knows", allowed="a finite number"), False, text, where, lines)
            for path in where.not_numbers
        ]
        told = {*where.not_numbers, *self.misspelt}
        faults += [_pointed(fault, at_key, text, where, lines) for fault, at_key in self._found if fault.path not in told]
        return tuple(sorted(faults, key=lambda f: (f.line, f.column, f.where, f.message)))


def pointed_at(faults: Iterable[Fault], text: str) -> tuple[Fault, ...]:
    """Faults found after loading, with line, column and the text given."""
    where, lines = places(text), Lines(text)
    return tuple(_pointed(fault, False, text, where, lines) for fault in faults)


def _repeated(path: JsonPath, at: int, first: int, lines: Lines) -> Fault:
    key = quoted(str(path[-1]))
    message = f"the key {key} stands twice in one object, first in line {lines.at(first)[0]}"
    return Fault(_printable(path), message, key, "each key once", "", *lines.at(at))


def _pointed(fault: Fault, at_key: bool, text: str, where: Places, lines: Lines) -> Fault:
    line, column = lines.at(where.offset(fault.path, at_key))
    given = _given(fault.path, at_key, text, where)
    message, allowed = (_in_feet_too(words) if _FEET.search(given) else words for words in (fault.message, fault.allowed))
    return Fault(_printable(fault.path), message, given, allowed, fault.nearest, line, column)


def _in_feet_too(words: str) -> str:
    """Millimetres of a message with feet and inches before them, for somebody who wrote those."""
    return _MM.sub(lambda found: f"{feet_and_inches(float(found[1]))} ({found[0]})", words)


def _given(path: JsonPath, at_key: bool, text: str, where: Places) -> str:
    places_of = where.keys if at_key else where.values
    if path not in places_of:
        return ""
    start, end = places_of[path]
    if text[start] in "{[":
        return "a list" if text[start] == "[" else "an object"
    return shortened(text[start:end])


def _printable(path: JsonPath) -> JsonPath:
    return tuple(step if isinstance(step, int) or step.isprintable() else json.dumps(step)[1:-1] for step in path)
