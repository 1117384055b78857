"""How wide a text prints, by the metrics of the packaged font itself.

Heights are heights of capitals, as everywhere in a scene; lengths come back in the unit the height is given in.
`fonts/widths.json` holds the widths, written by `.ci/rebuild-font-widths`: reading the fonts took as long as all the labels.
"""

from __future__ import annotations

import json
import re
from collections import defaultdict
from importlib.resources import files
from itertools import chain
from math import fsum
from typing import Any

CAP_HEIGHT = 0.729
"""Capital height as a part of the font's size."""
DESCENT = 0.29
"""How far the lowest letters hang below the base line, as a part of the capital height."""
LINE_PITCH = 1.6
"""From one base line to the next, as a part of the capital height."""

_ROUNDING = 1e-9
_IN_A_LENGTH = re.compile(r"(?<=\d') (?=\d)|(?<=\d) (?=\d+/\d)")
"""The spaces in a length in feet and inches, at which no line ends."""
_GLUE = "\u00a0"


def words(text: str) -> list[str]:
    """The words of a text, a length in feet and inches one of them: `16' 3 3/4"`."""
    glued = _IN_A_LENGTH.sub(_GLUE, " ".join(text.split()))
    return [word.replace(_GLUE, " ") for word in glued.split(" ")] if glued else []


class Fonts:
    """Both weights. One lives for one drawing; nothing is kept between drawings."""

    def __init__(self) -> None:
        data = json.loads((files("elevgen.drawing") / "fonts" / "widths.json").read_text(encoding="ascii"))
        self._wrapped: dict[tuple[str, float, float, bool], tuple[str, ...]] = {}
        self._regular, self._bold = _Widths(data, "regular"), _Widths(data, "bold")

    def width(self, text: str, height: float, bold: bool = False) -> float:
        """Width of one line of text with capitals `height` high. A letter not in the table is as wide as the empty box."""
        return (self._bold if bold else self._regular)[text] * height

    def clip(self, text: str, height: float, room: float, bold: bool = False) -> str:
        """The text, or as much of it as fits the room with a full stop mark (…) after it."""
        if self.width(text, height, bold) <= room:
            return text
        for end in range(len(text) - 1, 0, -1):
            cut = text[:end].rstrip() + "…"
            if self.width(cut, height, bold) <= room:
                return cut
        return ""

    def wrap(self, text: str, height: float, room: float, bold: bool = False) -> tuple[str, ...]:
        """The text in lines no wider than the room, broken between words; a word too long for a line is broken inside."""
        asked = (text, height, room, bold)
        if asked not in self._wrapped:
            self._wrapped[asked] = self._wrap(*asked)
        return self._wrapped[asked]

    def _wrap(self, text: str, height: float, room: float, bold: bool) -> tuple[str, ...]:
        lines: list[str] = []
        line, used, space = "", 0.0, self.width(" ", height, bold)
        whole = ([word] if self.width(word, height, bold) <= room else word.split() for word in words(text))
        for word in chain.from_iterable(whole):
            wide = self.width(word, height, bold)
            if line and used + space + wide <= room - _ROUNDING:
                line, used = f"{line} {word}", used + space + wide
                continue
            if line:
                lines.append(line)
            line, used = word, wide
            while len(line) > 1 and self.width(line, height, bold) > room:
                fits = max(1, sum(1 for n in range(1, len(line)) if self.width(line[:n], height, bold) <= room))
                lines.append(line[:fits])
                line = line[fits:]
                used = self.width(line, height, bold)
        return (*lines, line) if line else tuple(lines)


class _Widths(dict[str, float]):
    """Widths of texts, as parts of the capital height. Each is added up once: the same words come again and again."""

    def __init__(self, data: dict[str, Any], weight: str) -> None:
        super().__init__()
        capital = data["units_per_em"] * CAP_HEIGHT
        otherwise = data[f"{weight}_otherwise"] / capital
        widths = zip(data["letters"], (width / capital for width in data[weight]), strict=True)
        self._of_letters = defaultdict(lambda: otherwise, widths)

    def __missing__(self, text: str) -> float:
        width = fsum(map(self._of_letters.__getitem__, text))
        self[text] = width
        return width
