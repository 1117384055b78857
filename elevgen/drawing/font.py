"""How wide a text prints, by the metrics of the packaged font itself.

Heights are heights of capitals, as everywhere in a scene; lengths come back in the unit the height is given in.
"""

from __future__ import annotations

from functools import cached_property
from importlib.resources import as_file, files

CAP_HEIGHT = 0.729
"""Capital height as a part of the font's size."""
DESCENT = 0.29
"""How far the lowest letters hang below the base line, as a part of the capital height."""
LINE_PITCH = 1.6
"""From one base line to the next, as a part of the capital height."""

_ROUNDING = 1e-9
_FILES = {False: "DejaVuSansCondensed.ttf", True: "DejaVuSansCondensed-Bold.ttf"}


class Face:
    """One weight of the font. The file is read when the first text is measured; widths met are kept."""

    def __init__(self, bold: bool) -> None:
        self.bold = bold
        self._widths: dict[str, float] = {}

    def width(self, text: str, height: float) -> float:
        """Width of one line of text with capitals `height` high."""
        try:
            return sum(map(self._widths.__getitem__, text)) * height
        except KeyError:
            for letter in text:
                if letter not in self._widths:
                    self._widths[letter] = self._measured(letter)
            return self.width(text, height)

    def _measured(self, letter: str) -> float:
        glyphs, advances, units = self._tables
        name = glyphs.get(ord(letter), ".notdef")
        return advances[name][0] / units / CAP_HEIGHT

    @cached_property
    def _tables(self) -> tuple[dict[int, str], dict[str, tuple[int, int]], int]:
        from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

        with as_file(files("elevgen.drawing") / "fonts" / _FILES[self.bold]) as path, TTFont(path, lazy=True) as font:
            return font.getBestCmap(), dict(font["hmtx"].metrics), font["head"].unitsPerEm


class Fonts:
    """Both weights. One lives for one drawing; nothing is kept between drawings."""

    def __init__(self) -> None:
        self.regular = Face(bold=False)
        self.bold = Face(bold=True)

    def width(self, text: str, height: float, bold: bool = False) -> float:
        """Width of one line of text, in the unit of `height`."""
        return (self.bold if bold else self.regular).width(text, height)

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
        """The text in lines no wider than the room, broken at spaces; a word too long for a line is broken inside."""
        lines: list[str] = []
        line, used, space = "", 0.0, self.width(" ", height, bold)
        for word in text.split():
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
