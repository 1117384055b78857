"""The PDF read back by another library: size, scale, text, fonts."""

from io import BytesIO

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from elevgen.writers import pdf

MM = 72 / 25.4


@pytest.fixture
def page(scene):
    return PdfReader(BytesIO(pdf.document(scene))).pages[0]


def segments(page):
    """Straight strokes of the page itself, as ((x, y), (x, y)) in points, transformations applied."""
    stack, matrix, at, found = [], (1, 0, 0, 1, 0, 0), None, []
    for operands, operator in ContentStream(page["/Contents"].get_object(), page.pdf).operations:
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = (float(o) for o in operands)
            g = matrix
            matrix = (
                a * g[0] + b * g[2],
                a * g[1] + b * g[3],
                c * g[0] + d * g[2],
                c * g[1] + d * g[3],
                e * g[0] + f * g[2] + g[4],
                e * g[1] + f * g[3] + g[5],
            )
        elif operator in (b"m", b"l"):
            x, y = (float(o) for o in operands)
            point = (x * matrix[0] + y * matrix[2] + matrix[4], x * matrix[1] + y * matrix[3] + matrix[5])
            if operator == b"l" and at:
                found.append((at, point))
            at = point
    return found


def test_page_is_true_a3(page):
    assert float(page.mediabox.width) == pytest.approx(420 * MM, abs=0.01)
    assert float(page.mediabox.height) == pytest.approx(297 * MM, abs=0.01)


@pytest.mark.parametrize(("length", "y"), [(300.0, 40.0), (4490 / 20, 150 + 600 / 20)], ids=["paper", "view at 1:20"])
def test_a_known_line_prints_true(page, length, y):
    lines = [abs(b[0] - a[0]) / MM for a, b in segments(page) if abs(a[1] - y * MM) < 0.02 and abs(b[1] - y * MM) < 0.02]
    assert min(abs(line - length) for line in lines) < 0.1


def test_text_can_be_found(page):
    text = page.extract_text()
    for words in ("Sheet title é", "<b>&\"' ± ² é =1+1", "1347.5", "3 courses", "turned"):
        assert words in text


def test_fonts_are_embedded(page):
    fonts = [f.get_object() for f in page["/Resources"]["/Font"].values()]
    assert fonts
    for font in fonts:
        descriptor = font["/FontDescriptor"] if "/FontDescriptor" in font else font["/DescendantFonts"][0]["/FontDescriptor"]
        assert "/FontFile2" in descriptor


def test_a_pattern_is_one_form_laid_many_times(page):
    forms = [x for x in page["/Resources"]["/XObject"].values() if x["/Subtype"] == "/Form"]
    uses = [1 for _, operator in ContentStream(page["/Contents"].get_object(), page.pdf).operations if operator == b"Do"]
    assert (len(forms), len(uses)) == (1, 60)


def test_lines_join_round(page):
    """Pointed, a piece cut to a slope would be drawn with a thorn: before anything is stroked, on the page and in a form."""
    streams = [page["/Contents"].get_object(), *(x.get_object() for x in page["/Resources"]["/XObject"].values())]
    for stream in streams:
        told = [(o, op) for o, op in ContentStream(stream, page.pdf).operations if op in (b"j", b"S")]
        assert told[0] == ([1], b"j")


def test_same_scene_same_bytes(scene):
    assert pdf.document(scene) == pdf.document(scene)
