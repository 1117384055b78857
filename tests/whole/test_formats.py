"""The drawings read back by other programs: everything designed is in them, once, in its place, true to scale."""

from __future__ import annotations

import math
import shutil
import subprocess
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any
from xml.etree import ElementTree

import ezdxf
import pytest
from finished_set import Set
from pypdf.generic import ContentStream

from elevgen.core.geometry import Span
from elevgen.drawing.board import written
from elevgen.drawing.scene import BlockUse, Dimension, Fill, Line, Paragraph, Polyline, Primitive, Role, Scene, Symbol, Text, View

MM = 72 / 25.4
A3 = (420.0, 297.0)
TRUE_TO = 0.1
ENTITY = {
    Line: "LINE",
    Polyline: "LWPOLYLINE",
    Fill: "HATCH",
    Text: "TEXT",
    Paragraph: "MTEXT",
    Dimension: "DIMENSION",
    Symbol: "INSERT",
    BlockUse: "INSERT",
}


def in_views(scene: Scene) -> list[Primitive]:
    return [p for view in scene.views for p in view.primitives]


def counted(scene: Scene, primitives: Iterable[Primitive]) -> Counter[tuple[str, str]]:
    return Counter((ENTITY[type(p)], scene.layer(p.role).name) for p in primitives)


# --- the whole set ---------------------------------------------------------------------------------------------------


def test_the_set_is_complete(made: Set) -> None:
    name = made.design.name
    files = {str(p.relative_to(made.folder)) for p in made.folder.rglob("*") if p.is_file() and not p.name.startswith(".")}
    views = {f"elevations/{view.id.replace('/', '-')}.{kind}" for view in made.scene.views for kind in ("svg", "dxf")}
    assert files == {f"{name}.dxf", f"{name}.pdf", f"{name}.xlsx", "design.json"} | views


def test_every_leaf_of_every_wall_has_its_elevation_and_its_sheet(made: Set) -> None:
    leaves = {leaf_id for wall in made.design.building.walls for leaf_id in wall.leaves}
    assert leaves == {v.id for v in made.scene.views if "/" in v.id}
    assert [v.id for v in made.scene.views if "/" not in v.id and not v.id.startswith("corner-")] == ["plan"]
    seen = Counter(w.view for s in made.scene.sheets for w in s.windows)
    assert seen == Counter({view.id: len(view.cuts) + 1 for view in made.scene.views})


# --- DXF -------------------------------------------------------------------------------------------------------------


def test_dxf_needs_no_repair(made: Set) -> None:
    for drawing in made.drawings:
        audit = ezdxf.readfile(drawing.path).audit()
        assert (audit.errors, audit.fixes) == ([], []), drawing.path.name


def test_dxf_model_space_holds_the_scene_layer_by_layer(made: Set) -> None:
    entities = Counter((e.dxftype(), e.dxf.layer) for e in made.dxf.modelspace())
    assert entities == counted(made.scene, in_views(made.scene))


def test_dxf_has_a_layout_for_every_sheet_and_looks_at_its_view(made: Set) -> None:
    layouts = [layout for layout in made.dxf.layouts if layout.name != "Model"]
    assert len(layouts) == len(made.scene.sheets)
    by_order = sorted(layouts, key=lambda layout: layout.dxf.taborder)
    for layout, sheet in zip(by_order, made.scene.sheets, strict=True):
        drawn = [e for e in layout if e.dxftype() != "VIEWPORT"]
        assert Counter((e.dxftype(), e.dxf.layer) for e in drawn) == counted(made.scene, sheet.primitives), sheet.id
        ports = [e for e in layout if e.dxftype() == "VIEWPORT" and e.dxf.id != 1]
        assert len(ports) == len(sheet.windows)
        for port, window in zip(ports, sheet.windows, strict=True):
            assert port.dxf.view_height / port.dxf.height == pytest.approx(window.scale)
            view = made.scene.view(window.view)
            half = window.paper.width * window.scale / 2, window.paper.height * window.scale / 2
            centre = (view.place[0] + window.corner[0] + half[0], view.place[1] + window.corner[1] + half[1])
            assert tuple(port.dxf.view_center_point)[:2] == pytest.approx(centre, abs=0.01)


def test_dxf_lays_a_pattern_block_for_every_placement(made: Set) -> None:
    patterns = {p.id: p for p in made.design.coursing.patterns}
    placements = [p for laid in made.design.coursing.leaves for p in laid.placements]
    names = {f"EG-{p.pattern}" for p in placements}
    laid = Counter(e.dxf.name for e in made.dxf.modelspace().query("INSERT") if e.dxf.name in names)
    assert laid == Counter(f"EG-{p.pattern}" for p in placements)
    for name in names:
        outlines = [e for e in made.dxf.blocks.get(name) if e.dxftype() == "LWPOLYLINE"]
        assert len(outlines) == len(patterns[name.removeprefix("EG-")].pieces)


def test_dxf_draws_joints_where_they_are_at_full_size(made: Set) -> None:
    layer = made.scene.layer(Role.MOVEMENT_JOINT).name
    closed = [e for e in made.dxf.modelspace().query("LWPOLYLINE") if e.dxf.layer == layer and e.closed]
    boxes = {tuple(round(v, 1) for v in _bounds((x, y) for x, y, *_ in e.get_points())) for e in closed}
    for joint in made.design.plan.joints:
        x, y = made.scene.view(joint.leaf).place
        gap = (x + joint.gap.start, y + joint.levels.start, x + joint.gap.end, y + joint.levels.end)
        assert any(box == pytest.approx(gap, abs=0.11) for box in boxes), joint.id


def test_dxf_dimensions_measure_what_they_say(made: Set) -> None:
    dims = list(made.dxf.modelspace().query("DIMENSION"))
    assert dims
    for dim in dims:
        a, b = dim.dxf.defpoint2, dim.dxf.defpoint3
        measured = abs(b.y - a.y) if round(dim.dxf.angle) % 180 == 90 else abs(b.x - a.x)
        assert dim.dxf.actual_measurement == pytest.approx(measured, abs=0.01)
        said = dim.dxf.text
        if said not in ("", "<>") and said.replace(".", "").isdigit():
            assert float(said) == pytest.approx(measured, abs=0.06)
    lengths = {round(d.dxf.actual_measurement, 1) for d in dims}
    assert {round(leaf.span.length, 1) for leaf in made.design.building.leaves} <= lengths


# --- PDF -------------------------------------------------------------------------------------------------------------


def test_pdf_has_a_page_of_a3_for_every_sheet(made: Set) -> None:
    assert len(made.pdf.pages) == len(made.scene.sheets)
    for page in made.pdf.pages:
        size = float(page.mediabox.width) / MM, float(page.mediabox.height) / MM
        assert size == pytest.approx(A3, abs=TRUE_TO)


def test_pdf_text_has_every_joint_and_title(made: Set) -> None:
    _has_texts(made, made.pages)


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext is not installed")
def test_another_reader_finds_the_same_text(made: Set) -> None:
    done = subprocess.run(["pdftotext", "-layout", str(made.file("pdf")), "-"], capture_output=True, check=True)
    _has_texts(made, done.stdout.decode().split("\f"))


def _has_texts(made: Set, pages: list[str]) -> None:
    by_sheet = dict(zip((s.id for s in made.scene.sheets), pages, strict=False))
    project = made.design.spec.project
    for sheet in made.scene.sheets:
        words = _words(by_sheet[sheet.id])
        assert _words(project.title) in words or _words(project.title.split(",")[0]) in words, sheet.id
        assert "setting-out aid" in words, sheet.id
    for joint in made.design.plan.joints:
        words = _words(by_sheet[joint.leaf])
        assert joint.id.lower() in words, joint.id
        assert f"{round(joint.at, 1):g}" in words, joint
    for wall in made.design.building.walls:
        for opening in wall.openings:
            assert any(opening.id.lower() in _words(by_sheet[leaf]) for leaf in wall.leaves), opening.id


def _words(text: str) -> str:
    return " ".join(text.lower().split())


def test_pdf_prints_leaves_true_to_scale(made: Set) -> None:
    """The longest leaf's outline: each of its sides lies within a tenth of a millimetre of where the scale puts it."""
    leaf = max(made.design.building.leaves, key=lambda x: (x.span.length, x.id))
    number = next(n for n, s in enumerate(made.scene.sheets) if s.id == leaf.id)
    window = made.scene.sheets[number].windows[0]
    strokes = set(_strokes(made.pdf.pages[number]))

    def on_paper(at: float, level: float) -> tuple[float, float]:
        x = window.paper.left + (at - window.corner[0]) / window.scale
        y = window.paper.bottom + (level - window.corner[1]) / window.scale
        return x, y

    right = Span(leaf.span.end - 1, leaf.span.end)
    low, high = leaf.base.lowest(right), leaf.top.highest(right)
    sides = [
        ((leaf.span.start, low), (leaf.span.end, low)),
        ((leaf.span.end, low), (leaf.span.end, high)),
    ]
    for a, b in sides:
        wanted = (*on_paper(*a), *on_paper(*b))
        nearest = min(strokes, key=lambda s: math.dist(s, wanted))
        assert nearest == pytest.approx(wanted, abs=TRUE_TO)
        length = math.dist(nearest[:2], nearest[2:])
        assert length == pytest.approx(math.dist(a, b) / window.scale, abs=TRUE_TO)


def _strokes(page: Any) -> Iterator[tuple[float, float, float, float]]:
    """Straight strokes of a page in mm, transformations applied; forms (the bricks) are not opened."""
    stack: list[tuple[float, ...]] = []
    m: tuple[float, ...] = (1, 0, 0, 1, 0, 0)
    at = (0.0, 0.0)
    for operands, operator in ContentStream(page["/Contents"].get_object(), page.pdf).operations:
        if operator == b"q":
            stack.append(m)
        elif operator == b"Q":
            m = stack.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = (float(o) for o in operands)
            m = (
                *(a * m[0] + b * m[2], a * m[1] + b * m[3], c * m[0] + d * m[2], c * m[1] + d * m[3]),
                *(e * m[0] + f * m[2] + m[4], e * m[1] + f * m[3] + m[5]),
            )
        elif operator in (b"m", b"l"):
            x, y = (float(o) for o in operands)
            point = ((x * m[0] + y * m[2] + m[4]) / MM, (x * m[1] + y * m[3] + m[5]) / MM)
            if operator == b"l":
                yield (*at, *point)
            at = point


# --- SVG -------------------------------------------------------------------------------------------------------------

SVG = "{http://www.w3.org/2000/svg}"


def test_svg_lays_every_course_of_every_elevation(made: Set) -> None:
    for view in made.scene.views:
        root = ElementTree.parse(made.folder / "elevations" / f"{view.id.replace('/', '-')}.svg").getroot()
        assert root.tag == f"{SVG}svg"
        links = [str(u.get("href")) for u in root.iter(f"{SVG}use")]
        defined = [e.get("id") for e in root.iter() if e.get("id")]
        assert len(defined) == len(set(defined))
        assert {link.removeprefix("#") for link in links} <= set(defined)
        uses = [link for link in links if link.startswith("#b-")]
        assert len(uses) == sum(isinstance(p, BlockUse) for p in view.primitives)
        texts = Counter(t.text for t in root.iter(f"{SVG}text"))
        said = Counter(text.text for text in written(view.primitives, view.scale))
        assert texts == said


def svg_of(made: Set, view: View) -> ElementTree.Element:
    return ElementTree.parse(made.folder / "elevations" / f"{view.id.replace('/', '-')}.svg").getroot()


def told(root: ElementTree.Element) -> dict[str, str]:
    """What can be pointed at and linked to: id and title."""
    groups = (g for g in root.iter(f"{SVG}g") if g.get("class") == "h" and g.get("id"))
    return {str(g.get("id")): str(g.findtext(f"{SVG}title")) for g in groups}


def test_svg_says_of_everything_what_it_is(made: Set) -> None:
    """By ids made of the design's own: courses, openings, joints, lintels, reinforcement, damp courses, trays, dimensions."""
    design = made.design
    for view in (v for v in made.scene.views if "/" in v.id):
        said, leaf = told(svg_of(made, view)), design.building.leaf(view.id)
        name = view.id.replace("/", "-")
        courses = {f"{name}-course-{p.course}" for p in design.coursing.of(view.id).placements}
        openings = {f"{name}-{o.id}" for w in design.building.walls if w.id == leaf.wall for o in w.openings}
        joints = {f"{name}-{j.id}" for j in design.plan.joints if j.leaf == view.id}
        lintels = {x.id.replace("/", "-") for x in design.fittings.lintels if x.leaf == view.id}
        beds = {x.id.replace("/", "-") for x in design.fittings.bed_reinforcement if x.leaf == view.id}
        assert courses | openings | joints | lintels | beds <= said.keys(), view.id
        assert name in said
        assert all(title.strip() for title in said.values())
        assert all(id_.startswith(name) for id_ in said), view.id
        dims = Counter(f"dimension {p.text}" for p in view.primitives if isinstance(p, Dimension))
        assert dims == Counter(title for title in said.values() if title.startswith("dimension "))
        marked = {p.title for p in view.primitives if isinstance(p, Symbol | Polyline | Line) and p.title}
        assert marked <= set(said.values()), view.id
        assert said[name] == leaf_title(view)


def leaf_title(view: View) -> str:
    return next(p.title for p in view.primitives if isinstance(p, Polyline) and p.role is Role.OUTLINE)


def test_svg_thin_lines_have_room_for_a_pointer(made: Set) -> None:
    """Every reinforcement line and damp course has a wider one over it that shows nothing, drawn along the same line."""
    for view in made.scene.views:
        lines = list(svg_of(made, view).iter(f"{SVG}line"))
        hits = {tuple(line.get(k) for k in ("x1", "y1", "x2", "y2")) for line in lines if line.get("class") == "hit"}
        thin = {
            tuple(line.get(k) for k in ("x1", "y1", "x2", "y2"))
            for line in lines
            if line.get("class") in ("bed_reinforcement", "dpc")
        }
        assert thin <= hits, view.id


def test_svg_is_true_to_scale(made: Set) -> None:
    for view in (v for v in made.scene.views if "/" in v.id):
        leaf = made.design.building.leaf(view.id)
        root = ElementTree.parse(made.folder / "elevations" / f"{view.id.replace('/', '-')}.svg").getroot()
        width, height = (float(str(root.get(k)).removesuffix("mm")) for k in ("width", "height"))
        assert str(root.get("viewBox")).split() == ["0", "0", f"{width:g}", f"{height:g}"]
        outlines = [_bounds(_points(p)) for p in root.iter(f"{SVG}polygon") if p.get("class") == "outline"]
        low, high = leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span)
        size = leaf.span.length / view.scale, (high - low) / view.scale
        assert any((r - x, b - t) == pytest.approx(size, abs=0.01) for x, t, r, b in outlines), view.id


def _points(polygon: ElementTree.Element) -> Iterator[tuple[float, float]]:
    for pair in str(polygon.get("points")).split():
        x, y = pair.split(",")
        yield float(x), float(y)


def _bounds(points: Iterable[tuple[float, float]]) -> tuple[float, float, float, float]:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def test_every_elevation_carries_the_caution(made: Set) -> None:
    for view in made.scene.views:
        assert "setting-out aid" in _said(view).lower(), view.id
    assert "setting-out aid" in " ".join(str(c) for row in made.book["Summary"] for c in row if c).lower()


def _said(view: View) -> str:
    return " ".join(p.text for p in view.primitives if isinstance(p, Text))
