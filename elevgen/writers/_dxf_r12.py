"""Entities as R12 knows them: old polylines, solids for tints, a text per line, ASCII only.

What R12 has no place for: line widths and true colours (the indexed colour stays), layouts, hatches, paragraphs, text in Unicode.
"""

from __future__ import annotations

import re
import unicodedata

from ezdxf.math import Vec2
from ezdxf.math.triangulation import mapbox_earcut_2d

from elevgen.drawing.board import paragraph_lines
from elevgen.drawing.scene import Fill, Paragraph, Polyline, Role
from elevgen.drawing.tints import tint
from elevgen.writers._dxf_tags import Tags, one_line

REPLACED = {
    "±": "%%p",
    "°": "%%d",
    "⌀": "%%c",
    "Ø": "%%c",
    "ø": "%%c",
    "×": "x",
    "·": ".",
    "−": "-",
    "–": "-",
    "—": "-",
    "…": "...",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "′": "'",
    "″": '"',
    "≤": "<=",
    "≥": ">=",
    "≈": "~",
    "→": "->",
    "←": "<-",
    "µ": "u",
    "ß": "ss",
    "Æ": "AE",
    "æ": "ae",
    "Œ": "OE",
    "œ": "oe",
    "Đ": "D",
    "đ": "d",
    "Ł": "L",
    "ł": "l",
    "€": "EUR",
    "£": "GBP",
    "\N{FRACTION SLASH}": "/",
}
"""What stands for letters and signs outside ASCII; accents are dropped, anything else becomes a question mark.

`%%p`, `%%d` and `%%c` are read as ±, ° and the sign for a diameter.
"""
_VULGAR = re.compile(r"(?<=\d)(?=[¼½¾⅐-⅞])")
_BEFORE_CODE = re.compile(f"%(?=[{''.join(sign for sign, code in REPLACED.items() if code.startswith('%%'))}])")


def ascii_text(text: str) -> str:
    """Text as one tag for a reader that knows ASCII only; what it gives a meaning is kept harmless before codes are put in."""
    harmless = one_line("".join(map(_plain, _VULGAR.sub(" ", text))))
    return "".join(REPLACED.get(letter, letter) for letter in _BEFORE_CODE.sub("% ", harmless))


def _plain(letter: str) -> str:
    """A letter without its accents, a sign taken apart (½ as 1/2, ² as 2), or one that something stands for."""
    if letter.isascii() or letter in REPLACED:
        return letter
    parts = [c for c in unicodedata.normalize("NFKD", letter) if not unicodedata.combining(c)]
    return "".join(parts) if all(c.isascii() or c in REPLACED for c in parts) else "?"


class R12Tags(Tags):
    """Entities of one block or of model space as tags of R12."""

    def _head(self, kind: str, role: Role) -> str:
        return f"0\n{kind}\n5\n{self.new_handle()}\n8\n{self.layers[role]}\n"  # and no scale of dashes

    def _part(self, name: str) -> str:
        return ""

    def _later(self, group: str, value: str) -> str:
        return ""

    def _polyline(self, made: Polyline) -> str:
        vertices = "".join(f"{self._head('VERTEX', made.role)}{self._at(point)}" for point in made.points)
        head = f"{self._head('POLYLINE', made.role)}66\n1\n10\n0.0\n20\n0.0\n30\n0.0\n70\n{int(made.closed)}\n"
        return f"{head}{vertices}{self._head('SEQEND', made.role)}"

    def _paragraph(self, made: Paragraph) -> str:
        return "".join(map(self._text, paragraph_lines(made, self.scale)))

    def words(self, text: str) -> str:
        """Text as one tag."""
        return ascii_text(text)

    def _fill(self, fill: Fill) -> str:
        """Solids of three or four corners; the corners of four go crosswise."""
        colour = f"62\n{tint(fill.tint).aci}\n"
        solids = ((p[0], p[1], p[-1], p[-2]) for p in _pieces(fill.points))
        return "".join(
            f"{self._head('SOLID', fill.role)}{colour}{''.join(self._at(p, n) for n, p in enumerate(four))}" for four in solids
        )


def _pieces(points: tuple[tuple[float, float], ...]) -> list[tuple[tuple[float, float], ...]]:
    """A polygon as itself where it is convex with four corners at most, else as triangles."""
    if len(points) <= 4 and _convex(points):
        return [points]
    triangles = mapbox_earcut_2d([Vec2(p) for p in points])
    return [tuple((p.x, p.y) for p in triangle) for triangle in triangles]


def _convex(points: tuple[tuple[float, float], ...]) -> bool:
    """True when the outline turns one way only."""
    turns = []
    for n, (x, y) in enumerate(points):
        (ax, ay), (bx, by) = points[n - 1], points[(n + 1) % len(points)]
        turns.append((x - ax) * (by - y) - (y - ay) * (bx - x))
    return all(t >= 0 for t in turns) or all(t <= 0 for t in turns)
