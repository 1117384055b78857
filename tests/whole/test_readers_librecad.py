"""Every DXF of a set as a general CAD program draws it: LibreCAD's own converter to PDF, then to pixels.

It knows no paper space, takes dimensions from the header rather than from their style, and has its own stroke font: so
texts are measured and their letters counted in pixels. Page: what fits an A3 sheet.
"""

from __future__ import annotations

import re
import shutil
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from finished_set import Drawing, Set
from outside import Ink, coarsely_alike, ink_of_page, ink_of_views, letters_across, needs, run, trimmed, without_the_largest

from elevgen.core.geometry import Rect
from elevgen.drawing.board import text_box, written
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Dimension, View

pytestmark = needs("librecad", "pdftoppm", "rsvg-convert")

DPI, FINE = 100, 300
FEWEST = 8
"""Pixels a figure must be high, at FINE, to be found by where it lies: of a building of 80 m on one page it is not."""
SHARE = 0.9
"""Of coarse cells with ink in either picture; a font of other widths inks other cells at the ends of labels."""


@pytest.fixture(scope="module")
def converted(tmp_path_factory: pytest.TempPathFactory):
    """A function: the PDF of a drawing. The program writes beside its input, so it gets a copy."""

    @cache
    def convert(path: Path) -> Path:
        folder = tmp_path_factory.mktemp("librecad")
        copy = folder / "drawing.dxf"
        shutil.copyfile(path, copy)
        run("librecad", "dxf2pdf", "-a", "-t", folder, copy, XDG_CONFIG_HOME=str(folder), XDG_RUNTIME_DIR=str(folder))
        return folder / "drawing.pdf"

    return convert


class Sheet:
    """A converted page and where model space lies on it, by the edges of what is drawn: the views and `others`."""

    def __init__(self, pdf: Path, drawing: Drawing, folder: Path, *others: Rect) -> None:
        boxes = [drawing.reach, *others]
        left, bottom = min(box.left for box in boxes), min(box.bottom for box in boxes)
        self.reach = Rect(left, bottom, max(box.right for box in boxes), max(box.top for box in boxes))
        self.pdf, self.folder = pdf, folder
        ink = ink_of_page(pdf, folder, FINE)
        rows, columns = np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))
        wide, high = columns[-1] - columns[0] + 1, rows[-1] - rows[0] + 1
        self.per_mm = max(wide / self.reach.width, high / self.reach.height)
        self.left, self.bottom = float(columns[0]), float(rows[-1] + 1)

    def close_up(self, box: Rect, zoom: int) -> Ink:
        """A box of model space, drawn so many times larger."""
        left = self.left + (box.left - self.reach.left) * self.per_mm
        top = self.bottom - (box.top - self.reach.bottom) * self.per_mm
        pixels = (left, top, box.width * self.per_mm, box.height * self.per_mm)
        return ink_of_page(self.pdf, self.folder, FINE * zoom, box=tuple(round(v * zoom) for v in pixels))


def test_it_draws_what_we_draw(made: Set, converted, tmp_path: Path) -> None:
    for drawing in made.drawings:
        theirs = ink_of_page(converted(drawing.path), tmp_path, DPI)
        ours = ink_of_views(made.scene, drawing, tmp_path, 1200)
        assert coarsely_alike(theirs, ours) > SHARE, drawing.path.name


def test_a_drawing_without_an_elevation_would_not_pass(made: Set, converted, tmp_path: Path) -> None:
    """The comparison can fail: the same page against the views without the last one, and against it mirrored."""
    drawing = next(d for d in made.drawings if d.path == made.file("dxf"))
    theirs = ink_of_page(converted(drawing.path), tmp_path, DPI)
    fewer = ink_of_views(made.scene, without_the_largest(drawing), tmp_path, 1200)
    assert coarsely_alike(theirs, fewer) < SHARE
    assert coarsely_alike(theirs, ink_of_views(made.scene, drawing, tmp_path, 1200)[:, ::-1]) < SHARE


def sampled(drawing: Drawing) -> list[tuple[View, tuple[float, float], Dimension]]:
    """A few horizontal dimensions, long enough to stand in their lines, none close under another; digits only, so that letters
    are parted.

    Only of views at the scale the header has: where a drawing has several, this reader draws all dimensions for that one.
    """
    found = []
    scale = header_number(drawing, "DIMSCALE")
    assert scale in {view.scale for view, _ in drawing.views}
    for view, place in (shown for shown in drawing.views if shown[0].scale == scale):
        mine = [p for p in view.primitives if isinstance(p, Dimension) and p.axis == "x" and p.text.replace(".", "").isdigit()]
        mine = [dim for dim in mine if _stands_alone(dim, view)]
        found += [(view, place, dim) for dim in sorted(mine, key=lambda d: d.a[0] - d.b[0])[:2]]
    return found[:6]


def _stands_alone(dim: Dimension, view: View) -> bool:
    """True where nothing else that is read or drawn comes near a dimension's figure."""
    high, middle = dim.height * view.scale, (dim.a[0] + dim.b[0]) / 2
    half = min(high * 6, (dim.b[0] - dim.a[0]) / 2 - high)
    near = Rect(middle - half, dim.line_at - 2 * high, middle + half, dim.line_at + 3.2 * high)
    fonts, others = Fonts(), [p for p in view.primitives if p is not dim]
    boxes = [text_box(text, fonts, view.scale) for text in written(others, view.scale)]
    lines = [p.line_at for p in others if isinstance(p, Dimension) and p.axis == "x"]
    return not (any(_meet(near, box) for box in boxes) or any(near.bottom <= at <= near.top for at in lines if at != dim.line_at))


def _meet(a: Rect, b: Rect) -> bool:
    return a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top


def header_number(drawing: Drawing, name: str) -> float:
    found = re.search(rf"\${name}\s+40\s+(\S+)", drawing.path.read_text(encoding="utf-8", errors="replace")[:40000])
    assert found, name
    return float(found[1])


def test_dimensions_are_the_right_size_and_say_the_right_thing(made: Set, converted, tmp_path: Path) -> None:
    """As many digits as ours, as high as ours: values a hundred times too large or texts of quarter of a millimetre are not."""
    seen = 0
    for drawing in made.drawings:
        if not (samples := sampled(drawing)):
            continue
        on_the_model = [Rect(0, 0, s.width, s.height) for s in made.scene.sheets[:1]] if drawing.path == made.file("dxf") else []
        sheet = Sheet(converted(drawing.path), drawing, tmp_path, *on_the_model)
        for view, (x, y), dim in samples:
            high = dim.height * view.scale
            if high * sheet.per_mm < FEWEST:
                continue
            seen += 1
            middle, line = x + (dim.a[0] + dim.b[0]) / 2, y + dim.line_at
            half = min(high * 6, (dim.b[0] - dim.a[0]) / 2 - high)
            zoom = max(1, round(40 / (high * sheet.per_mm)))
            ink = above_the_line(sheet.close_up(Rect(middle - half, line - 2 * high, middle + half, line + 3 * high), zoom), 0.6)
            assert letters_across(ink) == len(dim.text), (drawing.path.name, view.id, dim.text)
            assert ink.shape[0] / (sheet.per_mm * zoom) == pytest.approx(high, rel=0.2), (drawing.path.name, view.id, dim.text)
    assert seen


def above_the_line(ink: Ink, where: float) -> Ink:
    """What stands over a dimension line that runs right across the picture, at about this share of its height."""
    across = np.flatnonzero(ink.mean(axis=1) > 0.95)
    assert across.size, "no dimension line"
    line = across[np.abs(across - where * ink.shape[0]).argmin()]
    while line - 1 in across:
        line -= 1
    return trimmed(ink[max(0, line - ink.shape[0] * 2 // 5) : line - 1])


def test_a_sheet_drawn_on_the_model_lies_clear_of_every_view(made: Set) -> None:
    """A program without paper space puts frame and title of a sheet on the model, at its origin and 1:1."""
    for drawing in made.drawings:
        if drawing.path != made.file("dxf"):
            continue
        for sheet in made.scene.sheets:
            for view, (x, y) in drawing.views:
                box = view.extents
                apart = x + box.left >= sheet.width or x + box.right <= 0 or y + box.bottom >= sheet.height or y + box.top <= 0
                assert apart, (view.id, sheet.id)


def test_old_dxf_is_drawn_alike(made_for_old_programs: Set, converted, tmp_path: Path) -> None:
    made = made_for_old_programs
    for drawing in made.drawings:
        theirs = ink_of_page(converted(drawing.path), tmp_path, DPI)
        assert coarsely_alike(theirs, ink_of_views(made.scene, drawing, tmp_path, 1200)) > SHARE, drawing.path.name
