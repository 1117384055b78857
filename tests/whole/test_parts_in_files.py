"""A wall in parts, read back: every part a page of the PDF and a layout of the DXF, the wall whole in the model."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO, StringIO
from itertools import pairwise

import ezdxf
import pytest
from pypdf import PdfReader

from elevgen.drawing.compose import compose
from elevgen.drawing.scene import Scene
from elevgen.result import Design
from elevgen.writers.dxf import drawing
from elevgen.writers.pdf import document

MM = 72 / 25.4


@pytest.fixture(scope="module")
def scene(design_of: Callable[..., Design]) -> Scene:
    """100 m of wall, 10 m high: a dozen sheets of A3."""
    return compose(design_of("long-wall"))


def test_dxf_looks_at_each_part_in_its_own_layout_and_holds_the_wall_once(scene: Scene) -> None:
    doc = ezdxf.read(StringIO(drawing(scene, "test").decode()))
    audit = doc.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    view = scene.view("W1/outer")
    layouts = sorted((x for x in doc.layouts if x.name != "Model"), key=lambda x: x.dxf.taborder)
    stretches = []
    for layout, sheet in zip(layouts, scene.sheets, strict=True):
        ports = [p for p in layout.query("VIEWPORT") if p.dxf.id != 1]
        assert len(ports) == len(sheet.windows)
        if sheet.windows and sheet.windows[0].view == view.id:
            (port,) = ports
            assert port.dxf.view_height / port.dxf.height == pytest.approx(50)
            middle, half = port.dxf.view_center_point[0] - view.place[0], port.dxf.width * 50 / 2
            stretches.append((middle - half, middle + half))
    assert len(stretches) == len(view.cuts) + 1 > 10
    assert [b for _, b in stretches[:-1]] == pytest.approx(list(view.cuts), abs=0.01)
    assert [a for a, _ in stretches[1:]] == pytest.approx(list(view.cuts), abs=0.01)
    top, low = view.place[1] + view.extents.top, view.place[1] + view.extents.bottom
    lengths = [d.dxf.actual_measurement for d in doc.modelspace().query("DIMENSION") if low < d.dxf.defpoint.y < top]
    assert sum(x == pytest.approx(99990) for x in lengths) == 1


def test_pdf_has_a_page_for_each_part_that_names_its_neighbours(scene: Scene) -> None:
    pages = [page.extract_text() for page in PdfReader(BytesIO(document(scene))).pages]
    assert len(pages) == len(scene.sheets)
    view = scene.view("W1/outer")
    shown = [page for page, sheet in zip(pages, scene.sheets, strict=True) if any(w.view == view.id for w in sheet.windows)]
    for n, page in enumerate(shown, start=1):
        assert f"part {n} of {len(shown)}, from" in page
        assert (f"continues on sheet {n + 1}" in page) == (n < len(shown))
        assert (f"continues on sheet {n - 1}" in page) == (n > 1)


def test_a_part_holds_no_words_of_the_others(scene: Scene, design_of: Callable[..., Design]) -> None:
    """A search finds a joint on the sheet that shows it, not on all of them."""
    view = scene.view("W1/outer")
    pages = [page.extract_text() for page in PdfReader(BytesIO(document(scene))).pages]
    shown = [page for page, sheet in zip(pages, scene.sheets, strict=True) if any(w.view == view.id for w in sheet.windows)]
    edges = [float("-inf"), *view.cuts, float("inf")]
    joints = design_of("long-wall").plan.joints
    assert len(joints) > 5
    for joint in joints:
        words = f"{joint.id.rsplit('/', 1)[-1]}   {joint.width.built:g} wide   at {round(joint.at, 1):g}"
        (part,) = [n for n, (a, b) in enumerate(pairwise(edges)) if a < joint.at < b]
        assert [n for n, page in enumerate(shown) if words in page] == [part], words
