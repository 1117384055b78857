"""DXF, PDF and SVG show the same picture: each drawn by another program, view by view, and compared ink by ink.

The DXF by ezdxf's drawing add-on, the PDF by poppler, the SVG by librsvg. Where text stands the DXF has a font of the reader's,
so there only whether something is written is compared; everything else must have ink of the others within two pixels
(0.25 mm). What does not is summed over squares of 4 mm: a line too few or too many fills one of them.

Drawing and comparing a view takes seconds, so every view of one building is, and of others those that show what none before
them did. Each way of going wrong is tried on one view.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import cache
from pathlib import Path

import ezdxf
import pytest
from finished_set import Drawing, Set
from outside import Colours, needs
from seen_by_others import STRAY, STRAY_DXF, Pictures, dxf_as_pixels, page_as_pixels, page_of, pictures, svg_as_pixels

from elevgen.drawing.scene import (
    Line,
    Polyline,
    Primitive,
    Role,
    Text,
    View,
)
from elevgen.writers import pdf


@pytest.fixture(scope="module")
def drawn_by_others(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Set, View], Pictures]:
    """A function: a view as three programs show it; its DXF is the one of that elevation where there is one."""

    @cache
    def draw(made: Set, view_id: str) -> Pictures:
        where = {view.id: (drawing, place) for drawing in by_size(made.drawings) for view, place in drawing.views}
        drawing, place = where[view_id]
        folder = tmp_path_factory.mktemp("agreement")
        document = ezdxf.readfile(drawing.path)
        return pictures(made.scene, made.scene.view(view_id), document, place, made.file("pdf"), folder)

    return lambda made, view: draw(made, view.id)


EVERY_VIEW_OF = "kitchen-garden"


def compared(made: Set) -> list[View]:
    """Every view of one building that stands on one sheet; of the others, those with something new, a role drawn as a kind of
    primitive at a scale, in order of how much they show."""
    views = [view for view in made.scene.views if not view.cuts]
    if made.design.name == EVERY_VIEW_OF:
        return list(views)
    seen: set[tuple[int, Role, type]] = set()
    found = []
    shows = {view.id: {(view.scale, p.role, type(p)) for p in view.primitives} for view in views}
    for view in sorted(views, key=lambda v: (-len(shows[v.id]), len(v.primitives))):
        if shows[view.id] - seen:
            found.append(view)
            seen |= shows[view.id]
    return found


def by_size(drawings: tuple[Drawing, ...]) -> list[Drawing]:
    """Those with most views first."""
    return sorted(drawings, key=lambda drawing: -len(drawing.views))


Drawn = Callable[[Set, View], Pictures]
compares = needs("pdftoppm", "rsvg-convert")
on_one_building = pytest.mark.parametrize("package", ["studio"], indirect=True)


@compares
def test_all_three_show_the_same_picture(made: Set, drawn_by_others: Drawn) -> None:
    for view in compared(made):
        shown = drawn_by_others(made, view)
        assert shown.apart(shown.dxf, shown.pdf) < STRAY_DXF, (view.id, "DXF and PDF")
        assert shown.apart(shown.svg, shown.pdf) < STRAY, (view.id, "SVG and PDF")


@compares
def test_wherever_text_stands_all_three_have_written(made: Set, drawn_by_others: Drawn) -> None:
    for view in compared(made):
        shown = drawn_by_others(made, view)
        assert [shown.unwritten(drawn) for drawn in (shown.dxf, shown.pdf, shown.svg)] == [0, 0, 0], view.id


@pytest.mark.parametrize("package", ["studio", "duplex"], indirect=True)
def test_what_is_compared_shows_every_kind_of_thing(made: Set) -> None:
    def kinds(views: Iterable[View]) -> set[tuple[Role, type]]:
        return {(p.role, type(p)) for view in views for p in view.primitives}

    assert kinds(compared(made)) == kinds(made.scene.views)
    assert len(compared(made)) < len(made.scene.views)


def faults(view: View) -> dict[str, View]:
    """What a view would be with one fault each, of those it can have.

    A course left out is not among them: at 1:50 the edges of the next one lie within reach of its own. Courses are counted below.
    """

    def first(role: Role, kind: type[Primitive]) -> Primitive | None:
        return next((p for p in view.primitives if p.role is role and isinstance(p, kind)), None)

    found: dict[str, tuple[Primitive | None, Primitive | None]] = {
        "no lintel": (first(Role.LINTEL, Polyline), None),
        "no reinforcement": (first(Role.BED_REINFORCEMENT, Line), None),
    }
    joint = first(Role.MOVEMENT_JOINT, Polyline)
    if isinstance(joint, Polyline):
        found["joint moved by 60"] = (joint, replace(joint, points=tuple((x + 60.0, y) for x, y in joint.points)))
    return {name: with_fault(view, old, new) for name, (old, new) in found.items() if old}


def with_fault(view: View, old: Primitive, new: Primitive | None) -> View:
    changed = (new if p is old else p for p in view.primitives)
    return replace(view, primitives=tuple(p for p in changed if p is not None))


def tried(made: Set) -> View:
    """The view for trying faults on: it can have all of them, and little else."""
    view = max(made.scene.views, key=lambda v: ("joint moved by 60" in faults(v), len(faults(v)), -len(v.primitives)))
    assert "joint moved by 60" in faults(view)
    return view


def alike(one: Colours, other: Colours) -> Colours:
    """Cut to the size of another."""
    return one[: other.shape[0], : other.shape[1]]


@compares
@on_one_building
def test_a_fault_in_one_of_them_is_seen(made: Set, drawn_by_others: Drawn, tmp_path: Path) -> None:
    """Each format with the fault against another without it."""
    view = tried(made)
    good = drawn_by_others(made, view)
    for name, wrong in faults(view).items():
        views = tuple(wrong if v is view else v for v in made.scene.views)
        scene = replace(made.scene, views=views, sheets=(made.scene.sheets[page_of(made.scene, view)],))
        page = tmp_path / "wrong.pdf"
        page.write_bytes(pdf.document(scene))
        assert good.apart(alike(svg_as_pixels(scene, wrong, tmp_path), good.pdf), good.pdf) > STRAY, name
        assert good.apart(good.svg, alike(page_as_pixels(scene, wrong, page, 0, tmp_path), good.svg)) > STRAY, name


@compares
@on_one_building
def test_a_joint_out_of_place_in_the_dxf_is_seen(made: Set, drawn_by_others: Drawn, tmp_path: Path) -> None:
    view = tried(made)
    good = drawn_by_others(made, view)
    document = ezdxf.readfile(made.file("dxf"))
    layer, box, (x, y) = made.scene.layer(Role.MOVEMENT_JOINT).name, view.extents, view.place
    joint = next(
        e
        for e in document.modelspace().query("LWPOLYLINE")
        if e.dxf.layer == layer and box.left < e[0][0] - x < box.right and box.bottom < e[0][1] - y < box.top
    )
    right = alike(dxf_as_pixels(document, made.scene, view, view.place, tmp_path), good.pdf)
    joint.translate(60, 0, 0)
    wrong = alike(dxf_as_pixels(document, made.scene, view, view.place, tmp_path), good.pdf)
    assert good.apart(right, good.pdf) < STRAY_DXF < good.apart(wrong, good.pdf)


@compares
@on_one_building
def test_a_text_left_out_is_seen(made: Set, drawn_by_others: Drawn, tmp_path: Path) -> None:
    """The longest one, which nothing else crosses."""
    view = tried(made)
    good = drawn_by_others(made, view)
    left_out = max((p for p in view.primitives if isinstance(p, Text)), key=lambda p: len(p.text))
    bad = svg_as_pixels(made.scene, with_fault(view, left_out, None), tmp_path)
    assert good.unwritten(good.svg) == 0
    assert good.unwritten(alike(bad, good.svg)) == 1
