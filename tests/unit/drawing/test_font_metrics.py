"""Text widths against another reader of the same font file; wrapping and clipping."""

import json
from importlib.resources import files
from io import BytesIO

import pytest
from fontTools.ttLib import TTFont as FontToolsFont
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.ttfonts import TTFont

from elevgen.drawing.font import CAP_HEIGHT, Fonts

FONTS = Fonts()
WORDS = st.text(alphabet="abcM W.1+±×é", min_size=1, max_size=60)


@pytest.mark.parametrize(("bold", "file"), [(False, "DejaVuSansCondensed.ttf"), (True, "DejaVuSansCondensed-Bold.ttf")])
@pytest.mark.parametrize("text", ["17800", "Setting-out aid", "±0.000", "1250 × 2010", "Łódź–é"])
def test_widths_agree_with_a_second_reader(bold: bool, file: str, text: str) -> None:
    data = (files("elevgen.drawing") / "fonts" / file).read_bytes()
    other = TTFont(f"Probe-{file}", BytesIO(data))
    assert FONTS.width(text, 2.5, bold) == pytest.approx(other.stringWidth(text, 2.5 / CAP_HEIGHT), abs=0.02)


@pytest.mark.parametrize(("bold", "file"), [(False, "DejaVuSansCondensed.ttf"), (True, "DejaVuSansCondensed-Bold.ttf")])
def test_every_width_shipped_is_the_packaged_fonts(bold: bool, file: str) -> None:
    folder = files("elevgen.drawing") / "fonts"
    letters = json.loads((folder / "widths.json").read_text(encoding="ascii"))["letters"]
    font = FontToolsFont(BytesIO((folder / file).read_bytes()))
    glyphs, advances, units = font.getBestCmap(), font["hmtx"].metrics, font["head"].unitsPerEm
    assert font["glyf"]["H"].yMax / units == pytest.approx(CAP_HEIGHT, abs=1e-4)

    def shipped(letter: str) -> float:
        return FONTS.width(letter, CAP_HEIGHT * units, bold)

    assert len(set(letters)) == len(letters) > 2000
    assert {chr(code) for code in range(0x20, 0x250) if code in glyphs} <= set(letters)
    assert [round(shipped(x), 6) for x in letters] == [advances[glyphs[ord(x)]][0] for x in letters]
    assert round(shipped("\U0001f9f1"), 6) == advances[".notdef"][0]


def test_a_length_in_feet_and_inches_is_not_broken() -> None:
    """Where a line has room for it whole; where none has, it is broken at its spaces before it is cut."""
    text = '4\' 3 13/16", then every 2\' 0" to 16\' 3 3/4"; 5 9/16" on 21, 41'
    lengths = ("4' 3 13/16\"", "2' 0\"", "16' 3 3/4\"", '5 9/16"')
    for room in range(20, 60):
        lines = FONTS.wrap(text, 2.0, room)
        assert " ".join(lines) == text
        assert all(any(length in line for line in lines) for length in lengths), room
    assert FONTS.wrap("16' 3 3/4\"", 2.0, FONTS.width("16' 3", 2.0) + 0.01) == ("16' 3", '3/4"')


@given(WORDS, st.floats(min_value=4, max_value=80))
def test_wrapped_lines_fit_and_lose_nothing(text: str, room: float) -> None:
    lines = FONTS.wrap(text, 2.5, room)
    assert all(FONTS.width(line, 2.5) <= room for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


@given(WORDS, st.floats(min_value=4, max_value=80))
def test_clipped_text_fits(text: str, room: float) -> None:
    clipped = FONTS.clip(text, 2.5, room)
    assert FONTS.width(clipped, 2.5) <= room
    assert clipped == text or clipped == "" or (clipped.endswith("…") and text.startswith(clipped[:-1]))


def test_the_licence_is_beside_the_fonts() -> None:
    text = (files("elevgen.drawing") / "fonts" / "LICENCE-DejaVu.txt").read_text(encoding="utf-8")
    assert "Bitstream" in text and "free of charge" in text
