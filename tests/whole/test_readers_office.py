"""Every DXF of a set as an office suite imports it: LibreOffice Draw, to PDF, then to words and pixels.

What it cannot do is known: of R2000 and later it drops MTEXT, and so what dimensions say; it has indexed colours only, no
paper space, and always makes an A4 page. So words of views are TEXT, and an R12 file is there for it.
"""

from __future__ import annotations

import shutil
from collections import Counter
from functools import cache
from pathlib import Path

import ezdxf
import pytest
from finished_set import Drawing, Set
from outside import coarsely_alike, ink_of_page, ink_of_views, needs, run, without_the_largest

from elevgen.drawing.scene import Dimension, Text

DPI = 300
SHARE = 0.85
"""Of coarse cells with ink in either picture: this reader draws tints darker than we do and leaves dimensions unsaid."""


@pytest.fixture(scope="module")
def imported(tmp_path_factory: pytest.TempPathFactory):
    """A function: the PDF made of a drawing, all of a set at once, with a profile of its own.

    Skips where there is no office suite that reads DXF.
    """
    if shutil.which("soffice") is None or shutil.which("pdftotext") is None:
        pytest.skip("not installed here: soffice or pdftotext")
    home = tmp_path_factory.mktemp("office")

    @cache
    def convert_all(folder: Path) -> Path:
        out = tmp_path_factory.mktemp("office-pdf")
        profile = f"-env:UserInstallation={(home / 'profile').as_uri()}"
        drawings = sorted(folder.rglob("*.dxf"))
        run("soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", out, *drawings, seconds=600, HOME=str(home))
        return out

    def convert(path: Path) -> Path:
        made = convert_all(path.parents[path.parent.name == "elevations"]) / f"{path.stem}.pdf"
        if not made.is_file():
            pytest.skip("this office suite has no filter for DXF (libreoffice-draw)")
        return made

    return convert


def letters(text: str) -> str:
    """Without spaces: it sets some texts letter by letter."""
    return "".join(text.split())


def said(pdf: Path) -> str:
    return letters(run("pdftotext", "-raw", pdf, "-"))


def unsaid(drawing: Drawing, kind: type[Text] | type[Dimension], page: str) -> Counter[str]:
    """Texts of views that are not on the page as often as they are drawn."""
    wanted = Counter(letters(p.text) for view, _ in drawing.views for p in view.primitives if isinstance(p, kind))
    return Counter({text: n for text, n in wanted.items() if text and page.count(text) < n})


@needs("soffice", "pdftoppm", "rsvg-convert")
def test_it_shows_what_we_draw(made: Set, imported, tmp_path: Path) -> None:
    for drawing in made.drawings:
        theirs = ink_of_page(imported(drawing.path), tmp_path, DPI)
        assert coarsely_alike(theirs, ink_of_views(made.scene, drawing, tmp_path, 1200)) > SHARE, drawing.path.name


@needs("soffice", "pdftoppm", "rsvg-convert")
def test_a_drawing_without_an_elevation_would_not_pass(made: Set, imported, tmp_path: Path) -> None:
    """The comparison can fail."""
    drawing = next(d for d in made.drawings if d.path == made.file("dxf"))
    theirs = ink_of_page(imported(drawing.path), tmp_path, DPI)
    fewer = without_the_largest(drawing)
    assert coarsely_alike(theirs, ink_of_views(made.scene, fewer, tmp_path, 1200)) < SHARE


def test_every_text_of_every_view_is_there(made: Set, imported) -> None:
    for drawing in made.drawings:
        assert not unsaid(drawing, Text, said(imported(drawing.path))), drawing.path.name


def test_what_dimensions_say_is_there(made: Set, imported) -> None:
    """It drops MTEXT of R2000 and later, so what dimensions say is plain text."""
    for drawing in made.drawings:
        assert not unsaid(drawing, Dimension, said(imported(drawing.path))), drawing.path.name


@needs("soffice", "pdftoppm", "rsvg-convert")
def test_old_dxf_has_dimensions_too(made_for_old_programs: Set, imported, tmp_path: Path) -> None:
    """What the R12 file is for. Letters outside ASCII are left out of the comparison: it takes them for another code page's."""
    made = made_for_old_programs
    for drawing in made.drawings:
        pdf = imported(drawing.path)
        missing = unsaid(drawing, Text, said(pdf)) + unsaid(drawing, Dimension, said(pdf))
        assert not [text for text in missing if text.isascii()], drawing.path.name
        assert coarsely_alike(ink_of_page(pdf, tmp_path, DPI), ink_of_views(made.scene, drawing, tmp_path, 1200)) > SHARE


def test_nothing_of_a_view_is_said_only_in_ways_some_reader_drops(made: Set) -> None:
    """No paragraph, pattern hatch, attribute or true colour without an index in model space."""
    for drawing in made.drawings:
        space = ezdxf.readfile(drawing.path).modelspace()
        assert not space.query("MTEXT"), drawing.path.name
        assert all(hatch.dxf.solid_fill for hatch in space.query("HATCH")), drawing.path.name
        assert not [insert for insert in space.query("INSERT") if insert.attribs], drawing.path.name
        assert not [e for e in space if e.dxf.hasattr("true_color") and e.dxf.get("color", 256) == 256], drawing.path.name
