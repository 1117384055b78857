"""Letters in CAD never take more room than they were measured with; bold is bold; dimensions say what the drawing says."""

from dataclasses import replace
from io import StringIO
from itertools import pairwise
from pathlib import Path

import ezdxf
import pytest
from reportlab.pdfbase import pdfmetrics

from elevgen.core.figures import feet_and_inches
from elevgen.drawing.board import written
from elevgen.drawing.compose import compose
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Dimension, Layer, Line, Role, Scene, Text
from elevgen.pipeline import design_file
from elevgen.writers import dxf
from elevgen.writers._dxf_dimensions import said
from elevgen.writers._dxf_tables import BOLD_FONT, BOLD_WIDTH, TEXT_FONT, TEXT_WIDTH, add_dimension_style, add_text_styles

ROOT = Path(__file__).parents[3]
FONTS = Fonts()
CAPITALS = {False: 0.716, True: 0.716}
"""Height of the usual font's capitals as a part of its size (memory: 1466 of 2048)."""
LETTERS = "".join(chr(c) for c in (*range(33, 127), *b"\xb0\xb1\xb2\xb3\xd7\xb7\xe9\xfc\xdf\xbd"))
NARROW_HERE = "J_"
"""Letters that are unusually narrow in the font texts are measured with; a label of nothing else is never drawn."""


def read_back(scene: Scene):
    return ezdxf.read(StringIO(dxf.drawing(scene, "0" * 64).decode()))


def as_shown(text: str, height: float, bold: bool) -> float:
    """How wide the file's text style shows a text.

    The usual font has the advance widths of Helvetica (memory; a free font made to the same widths was measured: they differ
    by less than 0.0003 of the size), and those come with reportlab.
    """
    font = pdfmetrics.getFont("Helvetica-Bold" if bold else "Helvetica")
    return font.stringWidth(text, 1.0) / CAPITALS[bold] * height * (BOLD_WIDTH if bold else TEXT_WIDTH)


@pytest.mark.parametrize("bold", [False, True])
def test_no_letter_is_wider_than_it_was_measured(bold):
    wide = {c: as_shown(c, 1, bold) / FONTS.width(c, 1, bold) for c in LETTERS if c not in NARROW_HERE}
    if bold:
        wide.pop("?")  # stands for a letter there is none of
    assert max(wide.values()) <= 1.001, max(wide, key=wide.__getitem__)


@pytest.mark.parametrize("spec", ["specs/studio.json", "specs/kitchen-garden.json", "tests/data/long-wall.json"])
def test_no_line_of_text_is_wider_than_it_was_measured(spec):
    scene = compose(design_file(ROOT / spec))
    texts = {(t.text, t.bold) for held in (*scene.views, *scene.sheets) for t in written(held.primitives) if t.text.strip()}
    assert len(texts) > 100
    too_wide = [t for t, bold in texts if len(t) > 1 and as_shown(t, 2.5, bold) > FONTS.width(t, 2.5, bold)]
    assert too_wide == []


def test_texts_are_not_needlessly_narrow():
    shown = as_shown("Movement joints, courses 1 to 36", 2.5, False)
    assert shown >= 0.7 * FONTS.width("Movement joints, courses 1 to 36", 2.5)


@pytest.mark.parametrize("version", ["R2013", "R12"])
def test_runs_of_spaces_are_kept(scene, version):
    """They part what a flag says, and set the columns of a gauge."""
    text = Text(Role.TEXT, (0.0, 0.0), " 675   9  at  0", 2.5)
    more = replace(scene, views=(replace(scene.views[0], primitives=(*scene.views[0].primitives, text)),))
    doc = ezdxf.read(StringIO(dxf.elevation(more, more.views[0], "x", version).decode()))
    assert text.text in {t.dxf.text for t in doc.modelspace().query("TEXT")}


def test_bold_is_a_style_of_its_own(scene):
    doc = read_back(scene)
    fonts = {t.dxf.text: (doc.styles.get(t.dxf.style).dxf.font, t.dxf.width) for t in doc.modelspace().query("TEXT")}
    assert fonts["turned"] == (BOLD_FONT, BOLD_WIDTH)
    assert fonts["<b>&\"' ± ² é =1+1"] == (TEXT_FONT, TEXT_WIDTH)
    assert all(doc.styles.get(t.dxf.style).dxf.width == t.dxf.width for t in doc.modelspace().query("TEXT"))


def test_text_on_a_dashed_layer_is_not_dashed(scene):
    """Some programs draw letters as lines and break them as the layer's lines are."""
    view = scene.views[0]
    text = Text(Role.DPC, (0.0, 0.0), "dpc ±0.000", 2.5)
    doc = read_back(replace(scene, views=(replace(view, primitives=(*view.primitives, text)),)))
    types = {t.dxf.text: t.dxf.linetype for t in doc.modelspace().query("TEXT")}
    assert types["dpc ±0.000"] == "Continuous"
    assert types["turned"] == "BYLAYER"


@pytest.mark.parametrize(("align", "part"), [("left", 0.0), ("centre", 0.5), ("right", 1.0)])
@pytest.mark.parametrize(("valign", "rise"), [("base", 0.0), ("middle", 0.5), ("top", 1.0)])
@pytest.mark.parametrize("rotation", [0.0, 90.0])
def test_a_text_starts_where_it_starts_for_programs_that_know_no_alignment(scene, align, part, valign, rise, rotation):
    """One program sets every text from its first point, whatever point it is aligned to."""
    said = "1810 × 1135, head"
    made = Text(Role.TEXT, (700.0, 300.0), said, 2.5, align, valign, rotation)
    doc = read_back(replace(scene, views=(replace(scene.views[0], primitives=(made,)),)))
    (text,) = doc.modelspace().query("TEXT")
    x, y = text.dxf.insert.x - 1000, text.dxf.insert.y - 2000
    along, across = (700 - x, 300 - y) if rotation == 0 else (300 - y, x - 700)
    assert along == pytest.approx(part * as_shown(said, 2.5 * 20, False), rel=0.08, abs=0.001)
    assert across == pytest.approx(rise * 2.5 * 20)


def test_dashes_are_as_long_on_every_drawing_as_on_paper(scene):
    """In the building's file each entity says how long: right in model space and through a viewport at its scale.

    An elevation by itself leaves it to the drawing it is inserted into, and is right when opened alone.
    """
    line = Line(Role.DPC, (0.0, 0.0), (4490.0, 0.0))
    made = replace(scene, views=(replace(scene.views[0], primitives=(line, replace(line, role=Role.OUTLINE))),))
    doc = read_back(made)
    scales = {e.dxf.layer: e.dxf.get("ltscale", 1.0) for e in doc.modelspace()}
    assert scales == {"T-DPC": 20.0, "T-OUTLINE": 1.0}
    assert (doc.header["$PSLTSCALE"], doc.header["$LTSCALE"]) == (0, 1)
    dashes = [abs(t.value) for t in doc.linetypes.get("DASHED").pattern_tags.tags if t.code == 49]
    assert dashes == [3.0, 1.5]
    alone = ezdxf.read(StringIO(dxf.elevation(made, made.views[0], "x").decode()))
    assert {e.dxf.get("ltscale", 1.0) for e in alone.modelspace()} == {1.0}
    assert (alone.header["$PSLTSCALE"], alone.header["$LTSCALE"]) == (1, 20)


@pytest.mark.parametrize(("height", "stroke"), [(1.8, 18), (2.0, 20), (2.5, 25), (3.5, 35), (5.0, 50), (2.2, 20)])
def test_letters_on_a_layer_of_wide_lines_are_drawn_with_a_tenth_of_their_height(scene, height, stroke):
    """ISO 3098 type B (quoted). Programs that draw letters as lines would make blots of them with the layer's width."""
    layers = tuple(replace(x, width=1.0) if x.role is Role.MOVEMENT_JOINT else x for x in scene.layers)
    texts = tuple(Text(role, (0.0, 0.0), f"{role}", height) for role in (Role.MOVEMENT_JOINT, Role.TEXT))
    doc = read_back(replace(scene, layers=layers, views=(replace(scene.views[0], primitives=texts),)))
    weights = {t.dxf.text: t.dxf.lineweight for t in doc.modelspace().query("TEXT")}
    assert weights == {"movement_joint": stroke, "text": -1 if stroke >= 25 else stroke}


def test_a_colour_by_index_is_written_alone(scene):
    def pen(layer: Layer) -> Layer:
        return replace(layer, index=30) if layer.role is Role.TIE else replace(layer, index=140, screen=(10, 110, 200))

    doc = read_back(replace(scene, layers=tuple(map(pen, scene.layers))))
    assert (doc.layers.get("T-TIE").color, doc.layers.get("T-TIE").rgb) == (30, None)
    assert (doc.layers.get("T-LINTEL").color, tuple(doc.layers.get("T-LINTEL").rgb)) == (140, (10, 110, 200))


# --- dimensions ------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def style():
    doc = ezdxf.new("R2013")
    return add_dimension_style(doc, 20, add_text_styles(doc)[0])


@pytest.mark.parametrize(
    ("measured", "text"),
    [(1347.5, "1347.5"), (910.0, "910"), (0.0, "0"), (12140.0, "12140"), (0.5, "0.5"), (1000 / 3, "333.3"), (99.96, "100")],
)
def test_what_our_style_makes_of_a_length(style, measured, text):
    """One decimal, no noughts after it, a point: dimdec 1, dimzin 8, dimdsep 46."""
    assert said(style, measured) == text


@pytest.mark.parametrize("measured", [0.25, 1347.45, 10.05, 2.35])
def test_halves_of_the_last_decimal_are_left_to_no_program(style, measured):
    assert said(style, measured) is None


@pytest.mark.parametrize(
    ("name", "value"),
    [("dimlfac", 0.1), ("dimlunit", 4), ("dimpost", "<> mm"), ("dimrnd", 5.0), ("dimtol", 1), ("dimalt", 1), ("dimzin", 0)],
)
def test_a_style_that_says_more_than_the_length_is_not_relied_on(name, value):
    doc = ezdxf.new("R2013")
    other = add_dimension_style(doc, 20, add_text_styles(doc)[0])
    other.dxf.set(name, value)
    assert said(other, 910.0) is None


def test_a_style_with_a_comma_says_a_comma():
    doc = ezdxf.new("R2013")
    other = add_dimension_style(doc, 20, add_text_styles(doc)[0])
    other.dxf.dimdsep, other.dxf.dimdec = ord(","), 2
    assert said(other, 1347.5) == "1347,5"


def with_dimension(scene: Scene, length: float, text: str, axis: str = "x"):
    b = (length, 0.0) if axis == "x" else (0.0, length)
    dim = Dimension(Role.DIMENSION, (0.0, 0.0), b, axis, -400.0, text)
    doc = read_back(replace(scene, views=(replace(scene.views[0], primitives=(dim,)),)))
    (made,) = doc.modelspace().query("DIMENSION")
    return doc, made


def test_feet_and_inches_are_written_out_over_millimetres(scene):
    text = feet_and_inches(3771.9)
    _, made = with_dimension(scene, 3771.9, text)
    assert text == "12' 4 1/2\""
    assert (made.dxf.text, made.dxf.actual_measurement) == (text, 3771.9)
    assert [t.dxf.text for t in made.get_geometry_block().query("TEXT")] == [text]


@pytest.mark.parametrize("axis", ["x", "y"])
def test_a_dimension_has_two_end_strokes_and_its_text_above_its_line(scene, axis):
    doc, made = with_dimension(scene, 910.0, "910", axis)
    block = made.get_geometry_block()
    strokes = [e for e in block.query("LINE") if abs(e.dxf.start.x - e.dxf.end.x) > 1 and abs(e.dxf.start.y - e.dxf.end.y) > 1]
    middles = sorted(e.dxf.start.lerp(e.dxf.end)[axis == "y"] for e in strokes)
    place = scene.views[0].place[axis == "y"]
    assert middles == pytest.approx([place, place + 910])
    assert {round(e.dxf.start.distance(e.dxf.end), 3) for e in strokes} == {round(1.8 * 20 * 2**0.5, 3)}
    (text,) = block.query("TEXT")
    x, y, _ = made.dxf.text_midpoint
    along, across = (x, y) if axis == "x" else (y, x)
    assert along == pytest.approx(place + 455)
    line = scene.views[0].place[axis == "x"] - 400.0
    lift = (0.8 + 2.5 / 2) * 20
    assert across == pytest.approx(line + (lift if axis == "x" else -lift), abs=2.0)
    assert text.dxf.rotation % 360 == (0 if axis == "x" else 90)
    assert doc.audit().errors == []


def test_a_dimension_that_says_nothing_shows_no_length(scene):
    _, made = with_dimension(scene, 910.0, "")
    assert made.dxf.text == " "
    assert not [t for t in made.get_geometry_block().query("TEXT") if t.dxf.text.strip()]


def test_dimensions_of_real_drawings_say_in_cad_what_they_say_on_paper():
    scene = compose(design_file(ROOT / "specs" / "kitchen-garden.json"))
    doc = read_back(scene)
    on_paper = [p.text for v in scene.views for p in v.primitives if isinstance(p, Dimension)]
    in_cad = []
    for dim in doc.modelspace().query("DIMENSION"):
        (text,) = dim.get_geometry_block().query("TEXT")
        in_cad.append(text.dxf.text)
        style = dim.get_dim_style()
        written_out = dim.dxf.text if dim.dxf.text not in ("", "<>") else said(style, dim.dxf.actual_measurement)
        assert written_out == text.dxf.text
    assert in_cad == on_paper
    assert all(a != b for a, b in pairwise(sorted({d.dxf.geometry for d in doc.modelspace().query("DIMENSION")})))
