"""Where things stand in a JSON text: one walk over its tokens, run only when there is a fault to point at."""

from __future__ import annotations

import json
import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field

from elevgen.core.errors import JsonPath

_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[{}\[\]:,]|[^\s{}\[\]:,"]+')
_NOT_NUMBERS = ("NaN", "Infinity", "-Infinity")
DEEPEST = 50
"""Deeper nesting than this is not recorded; no spec needs a fifth of it."""


def tokens(text: str) -> Iterator[tuple[int, str]]:
    """Offset and text of every string, number, word and sign of a JSON text."""
    return ((match.start(), match.group()) for match in _TOKEN.finditer(text))


class Lines:
    """Offsets of a text as 1-based lines and columns (in characters)."""

    def __init__(self, text: str) -> None:
        self._starts = [0, *(m.end() for m in re.finditer("\n", text))]

    def at(self, offset: int) -> tuple[int, int]:
        """Line and column of a character offset."""
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1


@dataclass(slots=True)
class Places:
    """Offsets (start and end) by path of values and of keys; and what a JSON reader lets pass that a spec must not hold.

    Where a key stands twice the last one counts, as it does for the reader.
    """

    values: dict[JsonPath, tuple[int, int]] = field(default_factory=dict)
    keys: dict[JsonPath, tuple[int, int]] = field(default_factory=dict)
    repeated: list[tuple[JsonPath, int, int]] = field(default_factory=list)
    not_numbers: list[JsonPath] = field(default_factory=list)

    def offset(self, path: JsonPath, at_key: bool = False) -> int:
        """Where the value (or key) stands; of something missing, where the nearest thing around it stands."""
        if at_key and path in self.keys:
            return self.keys[path][0]
        while path and path not in self.values:
            path = path[:-1]
        return self.values.get(path, (0, 0))[0]


class _Container:
    """An object or array being walked: the key or index of the value that comes next."""

    __slots__ = ("index", "is_object", "key", "path", "seen", "start")

    def __init__(self, path: JsonPath, is_object: bool, start: int) -> None:
        self.path, self.is_object, self.start = path, is_object, start
        self.key: str | None = None
        self.index = 0
        self.seen: dict[str, int] = {}


def places(text: str) -> Places:
    """Walk a text that is JSON (a reader has accepted it) and say where everything is."""
    found = Places()
    open_ones: list[_Container] = []
    for start, token in tokens(text):
        inside = open_ones[-1] if open_ones else None
        if token in "}]":
            closed = open_ones.pop()
            if len(open_ones) < DEEPEST:
                found.values[closed.path] = (closed.start, start + len(token))
        elif token == ",":
            assert inside is not None
            inside.key, inside.index = None, inside.index + 1
        elif token == ":":
            continue
        elif inside is not None and inside.is_object and inside.key is None:
            _note_key(found, inside, token, start)
        else:
            path = _path_of_next(inside, len(open_ones))
            if len(open_ones) < DEEPEST:
                found.values[path] = (start, start + len(token))
            if token in "{[":
                open_ones.append(_Container(path, token == "{", start))
            elif token in _NOT_NUMBERS:
                found.not_numbers.append(path)
    return found


def _note_key(found: Places, inside: _Container, token: str, start: int) -> None:
    key = json.loads(token)
    path = (*inside.path, key)
    if key in inside.seen:
        found.repeated.append((path, start, inside.seen[key]))
    inside.key, inside.seen[key], found.keys[path] = key, start, (start, start + len(token))


def _path_of_next(inside: _Container | None, depth: int) -> JsonPath:
    if inside is None:
        return ()
    if depth >= DEEPEST:
        return inside.path
    return (*inside.path, inside.key if inside.is_object and inside.key is not None else inside.index)
