"""Every page of a set's PDF, measured in the PDF itself: scale, words, fonts, size of file and letters, what overlaps what."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from itertools import pairwise
from typing import Any

import pytest
from finished_set import Set, through
from fontTools.ttLib import TTFont
from pypdf.generic import ContentStream, IndirectObject

from elevgen.core.geometry import Point, Rect
from elevgen.drawing.board import written
from elevgen.drawing.scene import Dimension, Polyline, Role, Window

MM = 72 / 25.4
LARGEST_PAGE = 300_000
SMALLEST_LETTER = 1.8
TRUE_TO = 0.1
FLAT = "HEFILTZMNKX147"
"""Letters as high as capitals are; a subset of a font has some of them."""
TOUCH = 0.15
"""Millimetres that two texts may come over one another by before it shows."""


@dataclass(frozen=True)
class Written:
    """A piece of text on a page: where its letters reach, mm from the lower left corner, and how high its capitals are."""

    text: str
    box: Rect
    capitals: float
    shown: int
    """Number of the text object it is in: pieces of one text may touch."""


@dataclass(frozen=True)
class Font:
    """A font of the PDF, from the file embedded in it: how to turn codes into letters and how wide and high these are."""

    letters: dict[int, str]
    widths: dict[int, float]
    glyph_heights: dict[int, tuple[float, float]]
    capital: float


class Page:
    """Text and strokes of a page, every transformation applied."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.texts: list[Written] = []
        self.strokes: list[tuple[float, float, float, float]] = []
        self._fonts = {name: font_of(ref) for name, ref in page["/Resources"]["/Font"].items()}
        self._read()

    def _read(self) -> None:
        stack: list[tuple[float, ...]] = []
        m: tuple[float, ...] = (1, 0, 0, 1, 0, 0)
        line: tuple[float, ...] = m
        font, size, at, shown = next(iter(self._fonts.values())), 1.0, (0.0, 0.0), 0
        for operands, operator in ContentStream(self.page["/Contents"].get_object(), self.page.pdf).operations:
            match operator:
                case b"q":
                    stack.append(m)
                case b"Q":
                    m = stack.pop()
                case b"cm":
                    m = times(numbers(operands), m)
                case b"BT":
                    line, shown = (1, 0, 0, 1, 0, 0), shown + 1
                case b"Tf":
                    font, size = self._fonts[operands[0]], float(operands[1])
                case b"Tm":
                    line = numbers(operands)
                case b"Td":
                    line = times((1, 0, 0, 1, *numbers(operands)), line)
                case b"T*":
                    pass
                case b"Tj":
                    line = self._show(operands[0], font, size, times(line, m), line, shown)
                case b"m" | b"l":
                    x, y = numbers(operands)
                    to = ((x * m[0] + y * m[2] + m[4]) / MM, (x * m[1] + y * m[3] + m[5]) / MM)
                    if operator == b"l":
                        self.strokes.append((*at, *to))
                    at = to

    def _show(
        self, raw: Any, font: Font, size: float, m: tuple[float, ...], line: tuple[float, ...], shown: int
    ) -> tuple[float, ...]:
        codes = raw.original_bytes
        wide = sum(font.widths[code] for code in codes) * size
        inked = [font.glyph_heights[c] for c in codes if font.letters.get(c, "").strip()]
        if inked:
            low, high = min(lo for lo, _ in inked) * size, max(hi for _, hi in inked) * size
            corners = [(x * m[0] + y * m[2] + m[4], x * m[1] + y * m[3] + m[5]) for x in (0.0, wide) for y in (low, high)]
            xs, ys = zip(*corners, strict=True)
            box = Rect(min(xs) / MM, min(ys) / MM, max(xs) / MM, max(ys) / MM)
            grow = (m[0] ** 2 + m[1] ** 2) ** 0.5
            text = "".join(font.letters.get(code, "?") for code in codes)
            self.texts.append(Written(text, box, font.capital * size * grow / MM, shown))
        return times((1, 0, 0, 1, wide, 0), line)


def numbers(operands: Any) -> tuple[float, ...]:
    return tuple(float(o) for o in operands)


def times(one: tuple[float, ...], two: tuple[float, ...]) -> tuple[float, ...]:
    a, b, c, d, e, f = one
    g, h, i, j, k, o = two
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + o)


def font_of(ref: Any) -> Font:
    reference = ref if isinstance(ref, IndirectObject) else ref.indirect_reference
    return _font(reference.pdf, reference.idnum)


@cache
def _font(document: Any, number: int) -> Font:
    font = document.get_object(number)
    file = TTFont(BytesIO(font["/FontDescriptor"]["/FontFile2"].get_object().get_data()), lazy=True)
    em, glyphs, cmap = file["head"].unitsPerEm, file["glyf"], file["cmap"].tables[-1].cmap
    first = int(font["/FirstChar"])
    widths = {first + n: float(w) / 1000 for n, w in enumerate(font["/Widths"])}
    letters = to_unicode(font["/ToUnicode"].get_object().get_data().decode("ascii", "replace"))
    heights = {}
    for code in widths:
        name = cmap.get(code) or cmap.get(0xF000 + code) or ".notdef"
        glyph = glyphs[name]
        heights[code] = (getattr(glyph, "yMin", 0) / em, getattr(glyph, "yMax", 0) / em)
    capital = max(heights[code][1] for code, letter in letters.items() if letter in FLAT and code in heights)
    return Font(letters, widths, heights, capital)


def to_unicode(text: str) -> dict[int, str]:
    """The table of a PDF font from codes to letters: ranges, and lists of letters."""
    found: dict[int, str] = {}
    for block in re.findall(r"beginbfrange(.*?)endbfrange", text, re.DOTALL):
        for low, _, listed in re.findall(r"<(\w+)>\s*<(\w+)>\s*\[(.*?)\]", block, re.DOTALL):
            for n, letter in enumerate(re.findall(r"<(\w+)>", listed)):
                found[int(low, 16) + n] = bytes.fromhex(letter).decode("utf-16-be")
        for low, high, to in re.findall(r"<(\w+)>\s*<(\w+)>\s*<(\w+)>", block):
            for n in range(int(high, 16) - int(low, 16) + 1):
                found[int(low, 16) + n] = chr(int(to, 16) + n)
    for block in re.findall(r"beginbfchar(.*?)endbfchar", text, re.DOTALL):
        for code, letter in re.findall(r"<(\w+)>\s*<(\w+)>", block):
            found[int(code, 16)] = bytes.fromhex(letter).decode("utf-16-be")
    return {code: letter for code, letter in found.items() if letter != "\0"}


@pytest.fixture(scope="module")
def pages(made: Set) -> list[Page]:
    return [Page(page) for page in made.pdf.pages]


def test_every_word_can_be_read_from_the_pdf(made: Set, pages: list[Page]) -> None:
    """By the codes and tables in the file alone: every text of the sheet and of what is seen on it, once."""
    for page, sheet in zip(pages, made.scene.sheets, strict=True):
        whole: dict[int, str] = {}
        for text in page.texts:
            whole[text.shown] = whole.get(text.shown, "") + text.text
        wanted = [t.text for t in written(sheet.primitives)]
        for window in sheet.windows:
            wanted += [t.text for t in written(through(made.scene, window), window.scale)]
        assert Counter(map(plain, whole.values())) == Counter(plain(text) for text in wanted if text.strip()), sheet.id


def plain(text: str) -> str:
    return "".join(text.split())


def test_no_text_is_smaller_than_can_be_read(made: Set, pages: list[Page]) -> None:
    for page, sheet in zip(pages, made.scene.sheets, strict=True):
        assert page.texts
        small = {(t.text, round(t.capitals, 2)) for t in page.texts if t.capitals < SMALLEST_LETTER - 0.005}
        assert small == set(), sheet.id


def test_no_text_stands_on_another(made: Set, pages: list[Page]) -> None:
    """By the ink of the letters themselves, from the font in the file."""
    for page, sheet in zip(pages, made.scene.sheets, strict=True):
        assert list(overlaps(page.texts)) == [], sheet.id


def overlaps(texts: list[Written]) -> Iterator[tuple[str, str]]:
    ordered = sorted(texts, key=lambda t: t.box.left)
    for n, one in enumerate(ordered):
        for two in ordered[n + 1 :]:
            if two.box.left >= one.box.right - TOUCH:
                break
            across = min(one.box.right, two.box.right) - two.box.left
            up = min(one.box.top, two.box.top) - max(one.box.bottom, two.box.bottom)
            if one.shown != two.shown and across > TOUCH and up > TOUCH:
                yield one.text, two.text


def test_the_measure_sees_an_overlap(pages: list[Page]) -> None:
    moved = Written("over it", pages[0].texts[3].box, 2.5, -1)
    assert list(overlaps([*pages[0].texts, moved])) != []


def test_all_text_is_on_the_paper(made: Set, pages: list[Page]) -> None:
    for page, sheet in zip(pages, made.scene.sheets, strict=True):
        off = [t.text for t in page.texts if t.box.left < 5 or t.box.bottom < 5 or t.box.right > sheet.width - 5]
        assert off == [], sheet.id


def test_fonts_are_embedded_and_no_other_is_used(made: Set) -> None:
    for page in made.pdf.pages:
        fonts = [f.get_object() for f in page["/Resources"]["/Font"].values()]
        assert fonts
        for font in fonts:
            assert "/FontFile2" in font["/FontDescriptor"], font["/BaseFont"]
            assert "/ToUnicode" in font, font["/BaseFont"]


def test_a_page_takes_little_room(made: Set) -> None:
    """The file's share a page, and each page sent alone: its own stream with every pattern and font it uses."""
    assert made.file("pdf").stat().st_size / len(made.pdf.pages) <= LARGEST_PAGE
    for number, page in enumerate(made.pdf.pages):
        content = page["/Contents"].get_object()
        used = {str(o[0]) for o, op in ContentStream(content, made.pdf).operations if op == b"Do"}
        forms = [form.get_object() for name, form in (page["/Resources"].get("/XObject") or {}).items() if name in used]
        assert len(forms) == len(used)
        fonts = [f.get_object()["/FontDescriptor"]["/FontFile2"].get_object() for f in page["/Resources"]["/Font"].values()]
        alone = sum(len(stream._data) for stream in (content, *forms, *fonts))
        assert alone <= LARGEST_PAGE, (number, alone)


def line(dim: Dimension) -> list[Point]:
    """The two ends of a dimension's line."""
    return [(end[0], dim.line_at) if dim.axis == "x" else (dim.line_at, end[1]) for end in (dim.a, dim.b)]


def within(window: Window, point: Point) -> bool:
    (x, y), (left, bottom) = point, window.corner
    return 0 <= x - left <= window.paper.width * window.scale and 0 <= y - bottom <= window.paper.height * window.scale


def test_pages_print_true_to_scale(made: Set, pages: list[Page]) -> None:
    """The longest dimension lines of every view, both ways, and the frame: within a tenth of a millimetre of their places."""
    longest = 0.0
    for page, sheet in zip(pages, made.scene.sheets, strict=True):
        strokes = set(page.strokes)
        for window in sheet.windows:
            dims = [p for p in made.scene.view(window.view).primitives if isinstance(p, Dimension)]
            for axis in ("x", "y"):
                along = 0 if axis == "x" else 1
                mine = [d for d in dims if d.axis == axis and all(within(window, end) for end in line(d))]
                if not mine:
                    continue
                dim = max(mine, key=lambda d: d.b[along] - d.a[along])
                ends = line(dim)
                wanted = tuple(
                    corner + (at - start) / window.scale
                    for end in ends
                    for corner, at, start in zip((window.paper.left, window.paper.bottom), end, window.corner, strict=True)
                )
                off = min(max(abs(a - b) for a, b in zip(stroke, wanted, strict=True)) for stroke in strokes)
                assert off < TRUE_TO, (sheet.id, dim.text, off)
                longest = max(longest, abs(dim.b[along] - dim.a[along]) / window.scale)
        frame = next(p for p in sheet.primitives if p.role is Role.FRAME and isinstance(p, Polyline))
        for (x0, y0), (x1, y1) in pairwise(frame.points):
            assert min(max(abs(a - b) for a, b in zip(s, (x0, y0, x1, y1), strict=True)) for s in strokes) < TRUE_TO, sheet.id
    assert longest > 150
