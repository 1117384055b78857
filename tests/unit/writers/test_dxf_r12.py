"""R12 for programs that read nothing later: layers, texts, dimensions, tints and blocks are all there, in ASCII."""

from collections import Counter
from dataclasses import replace
from io import StringIO

import ezdxf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen.core.geometry import Point
from elevgen.drawing.scene import Block, Fill, Paragraph, Role, Scene, Text
from elevgen.writers import dxf
from elevgen.writers._dxf_names import R12_LONGEST, r12_name
from elevgen.writers._dxf_r12 import REPLACED, ascii_text

ELL = ((0.0, 0.0), (300.0, 0.0), (300.0, 40.0), (110.0, 40.0), (110.0, 250.0), (0.0, 250.0))
"""No convex outline: 300 x 40 and 110 x 210."""


def old(scene: Scene) -> bytes:
    return dxf.drawing(scene, "0" * 64, "R12")


def read_back(scene: Scene):
    return ezdxf.read(StringIO(old(scene).decode("ascii")))


def with_view(scene: Scene, *primitives) -> Scene:
    view = scene.views[0]
    return replace(scene, views=(replace(view, primitives=(*view.primitives, *primitives)),))


def test_it_is_r12_in_ascii_and_needs_no_repair(scene):
    doc = read_back(scene)
    assert doc.dxfversion == "AC1009"
    audit = doc.audit()
    assert (audit.errors, audit.fixes) == ([], [])


def test_no_tag_is_of_a_later_version(scene):
    lines = old(scene).decode().splitlines()
    groups = {int(code) for code in lines[::2]}
    assert not groups & {100, 102, 330, 360, 370, 420, 390}
    kinds = {value for code, value in zip(lines[::2], lines[1::2], strict=True) if int(code) == 0}
    assert not kinds & {"LWPOLYLINE", "HATCH", "MTEXT", "CLASS", "OBJECTS", "LAYOUT", "DICTIONARY"}


def test_same_scene_same_bytes(scene):
    assert old(scene) == old(scene)


def test_model_space_holds_the_scene_layer_for_layer(scene):
    kinds = {"Polyline": "POLYLINE", "Fill": "SOLID", "Symbol": "INSERT", "BlockUse": "INSERT"}
    primitives = [p for v in scene.views for p in v.primitives]
    wanted = Counter((kinds.get(type(p).__name__, type(p).__name__.upper()), scene.layer(p.role).name) for p in primitives)
    assert Counter((e.dxftype(), e.dxf.layer) for e in read_back(scene).modelspace()) == wanted


def test_a_pattern_is_a_block_of_solids_and_closed_outlines(scene):
    block = read_back(scene).blocks.get("EG-p1")
    assert [(e.dxftype(), e.dxf.layer) for e in block] == [("SOLID", "T-TINT"), ("POLYLINE", "T-UNIT")]
    solid, outline = block
    assert outline.is_closed
    corners = [(215.0 * x, 65.0 * y) for x, y in ((0, 0), (1, 0), (1, 1), (0, 1))]
    assert [(v.x, v.y) for v in outline.points()] == corners
    assert [(v.x, v.y) for v in solid.wcs_vertices()] == corners


def test_a_tint_of_any_outline_covers_just_that(scene):
    """Shoelace area of the triangles, and none outside: points of a grid lie in one just when they lie in the outline."""
    doc = read_back(with_view(scene, Fill(Role.TINT, ELL, "stone")))
    triangles = [[(v.x - 1000, v.y - 2000) for v in e.wcs_vertices()] for e in doc.modelspace().query("SOLID")]
    assert sum(map(_area, triangles)) == pytest.approx(300 * 40 + 110 * 210)
    for x in range(5, 300, 20):
        for y in range(5, 250, 20):
            inside = y < 40 or x < 110
            assert any(_holds(t, (x, y)) for t in triangles) == inside, (x, y)


def test_a_paragraph_is_a_text_a_line_where_each_line_stands(scene):
    made = Paragraph(Role.TEXT, (50.0, 900.0), ("first line", "second"), 2.0, 3.5)
    texts = {t.dxf.text: t.dxf.insert for t in read_back(with_view(scene, made)).modelspace().query("TEXT")}
    assert texts["first line"].y - texts["second"].y == pytest.approx(3.5 * 20)


def test_dimensions_measure_and_say_the_same(scene):
    dims = read_back(scene).modelspace().query("DIMENSION")
    said = {e.dxf.text for d in dims for e in d.get_geometry_block().query("TEXT")}
    assert said == {"1347.5", "3 courses"}
    assert {round(abs(d.dxf.defpoint2.distance(d.dxf.defpoint3)), 3) for d in dims} == {1347.5, 225.0}


def test_extents_are_those_of_the_placed_views(scene):
    header = read_back(scene).header
    assert tuple(header["$EXTMIN"])[:2] == (400, 1400)
    assert tuple(header["$EXTMAX"])[:2] == (5600, 2700)


def test_signs_outside_ascii_are_replaced_as_readers_of_r12_know_them():
    assert ascii_text("±0.000") == "%%p0.000"
    assert ascii_text("45° ⌀6 910 × 2035 – 3² …") == "45%%d %%c6 910 x 2035 - 32 ..."
    assert ascii_text("7½ à Łódź Straße œuvre") == "7 1/2 a Lodz Strasse oeuvre"
    assert ascii_text("漢") == "?"


def test_a_readers_signs_come_back_as_they_were(scene):
    text = Text(Role.TEXT, (0.0, 0.0), "sill ±0.000, 100 %%d as typed", 2.5)
    texts = [t.plain_text() for t in read_back(with_view(scene, text)).modelspace().query("TEXT")]
    assert "sill ±0.000, 100 % %d as typed" in texts


@given(st.text(max_size=30))
def test_any_text_becomes_ascii(text):
    assert ascii_text(text).isascii()


def test_every_replacement_is_ascii_for_one_sign_outside_it():
    assert all(len(sign) == 1 and not sign.isascii() and said.isascii() for sign, said in REPLACED.items())


@given(st.lists(st.text(alphabet="ABCdef_-. é|", min_size=1, max_size=60), unique=True, max_size=6))
def test_names_are_made_legal_and_long_ones_kept_apart(names):
    made = [r12_name(name) for name in names]
    assert all(0 < len(name) <= R12_LONGEST and set(name) <= set("ABCdef_-0123456789abcf") for name in made)
    long = [name for name in names if len(name) > R12_LONGEST]
    assert len({r12_name(name) for name in long}) == len(long)


def test_long_names_of_layers_and_blocks_are_found_again(scene):
    long = "S-EF_25_10-M_Reinforcement_of_the_beds.1"
    layers = tuple(replace(x, name=long) if x.role is Role.UNIT else x for x in scene.layers)
    uses = tuple(replace(p, block=f"{long}.9") if hasattr(p, "block") else p for p in scene.views[0].primitives)
    made = replace(
        scene,
        layers=layers,
        blocks=(Block(f"{long}.9", scene.blocks[0].primitives),),
        views=(replace(scene.views[0], primitives=uses),),
    )
    doc = read_back(made)
    inserts = [e for e in doc.modelspace().query("INSERT") if e.dxf.layer == r12_name(long)]
    assert len(inserts) == 60
    assert {e.dxf.name for e in inserts} == {r12_name(f"EG-{long}.9")}
    assert r12_name(f"EG-{long}.9") in doc.blocks


def _area(points: list[Point]) -> float:
    return abs(sum(x * b - a * y for (x, y), (a, b) in zip(points, points[1:] + points[:1], strict=True))) / 2


def _holds(points: list[Point], at: Point) -> bool:
    turns = [
        (x - a) * (at[1] - b) - (y - b) * (at[0] - a) for (a, b), (x, y) in zip(points, points[1:] + points[:1], strict=True)
    ]
    turns = [t for t in turns if abs(t) > 1e-9]
    return all(t > 0 for t in turns) or all(t < 0 for t in turns)
