"""The SVG read back as XML."""

import re
from collections import Counter
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Block, BlockUse, Line, Polyline, Role, Text
from elevgen.writers import svg
from elevgen.writers._svg_things import slug

NS = "{http://www.w3.org/2000/svg}"
NAME = re.compile(r"[^\W\d][\w.\-]*")
"""Narrower than what XML allows, without colons."""


def drawn(scene, *more, view=None):
    view = view or scene.views[0]
    view = replace(view, primitives=(*view.primitives, *more))
    return ElementTree.fromstring(svg.picture(scene, view, Fonts()))


def groups(root):
    return [g for g in root.iter(f"{NS}g") if g.get("class") == "h"]


def said(group):
    return group.find(f"{NS}title").text


@pytest.fixture
def root(scene):
    return drawn(scene)


def test_size_is_the_extents_at_scale_with_a_margin(root):
    assert root.get("width") == "270mm"
    assert root.get("viewBox") == "0 0 270 75"


def test_every_primitive_is_there(root):
    """3 courses, 2 dimensions, 2 marks and a label of something are pointed at; the outline of the wall says nothing."""
    count = Counter(e.tag.removeprefix(NS) for e in root)
    assert count == {"title": 1, "desc": 1, "style": 1, "rect": 1, "defs": 1, "line": 1, "polyline": 1, "text": 2, "g": 7}
    assert sum(1 for _ in root.iter(f"{NS}use")) == 62


def test_text_stays_text(root):
    assert "<b>&\"' ± ² é =1+1" in [e.text for e in root.iter(f"{NS}text")]


def test_pointing_at_a_course_says_what_it_is(root):
    courses = [g for g in groups(root) if g.find(f"{NS}use") is not None and "class" not in g.find(f"{NS}use").attrib]
    assert [(said(g), len(g.findall(f"{NS}use"))) for g in courses] == [(f"course {n}", 20) for n in (1, 2, 3)]
    assert [g.get("id") for g in courses] == [f"W1-outer-course-{n}" for n in (1, 2, 3)]


def test_a_program_that_reads_it_aloud_is_told_what_it_shows(root):
    assert root.get("role") == "img"
    said_aloud = {e.get("id"): e.text for e in root if e.get("id")}
    assert said_aloud[root.get("aria-labelledby")] == "Test walls: South, outer leaf"
    assert "not a structural design" in said_aloud[root.get("aria-describedby")]


def test_runs_of_spaces_are_kept_by_readers_of_either_kind(root):
    """librsvg goes by the attribute, Chromium by the style alone (both seen)."""
    assert root.get("{http://www.w3.org/XML/1998/namespace}space") == "preserve"
    assert "white-space:pre}" in root.find(f"{NS}style").text


def test_height_runs_upwards(root):
    line = root.find(f"{NS}line")
    uses = list(root.iter(f"{NS}use"))
    assert float(uses[59].get("y")) < float(uses[0].get("y")) < float(line.get("y1"))


def test_dark_and_light(root):
    assert "prefers-color-scheme:dark" in root.find(f"{NS}style").text


def test_a_thin_line_has_room_for_a_pointer(scene):
    root = drawn(scene, Line(Role.BED_REINFORCEMENT, (0.0, 75.0), (900.0, 75.0), "W1/outer/R1"))
    thing = groups(root)[-1]
    line, room = thing.findall(f"{NS}line")
    assert (line.get("class"), room.get("class")) == ("bed_reinforcement", "hit")
    assert all(line.get(end) == room.get(end) for end in ("x1", "y1", "x2", "y2"))
    rule = re.search(r"\.hit\{([^}]*)\}", root.find(f"{NS}style").text)[1]
    assert "stroke:none" in rule
    assert "pointer-events:stroke" in rule


def test_what_the_drawing_does_not_name_is_named_by_its_role(scene):
    root = drawn(scene, Line(Role.BED_REINFORCEMENT, (0.0, 75.0), (900.0, 75.0), "W1/outer/R1"))
    assert (said(groups(root)[-1]), groups(root)[-1].get("id")) == ("bed-joint reinforcement R1", "W1-outer-R1")


def test_a_thing_and_its_label_say_the_same(scene):
    """The flag stands apart from the joint, and something else is drawn between the two."""
    gap = ((100.0, 0.0), (110.0, 0.0), (110.0, 300.0), (100.0, 300.0))
    joint = Polyline(Role.MOVEMENT_JOINT, gap, True, "MJ1", "movement joint MJ1, 10 wide: why")
    other = Line(Role.OUTLINE, (0.0, 0.0), (1.0, 0.0), "W1")
    flag = Text(Role.MOVEMENT_JOINT, (100.0, 400.0), "MJ1", 3.5, source="MJ1")
    root = drawn(scene, joint, other, flag)
    told = [(g.get("id"), g[-1].tag.removeprefix(NS)) for g in groups(root) if said(g) == joint.title]
    # The one of the small scene's own texts that names MJ1 comes first and takes the title, but not the id.
    assert told == [(None, "text"), ("W1-outer-MJ1", "polygon"), (None, "text")]


def test_ids_are_legal_and_no_two_are_the_same(scene):
    awkward = ("MJ1", "1/2", "a b", "a-b", "é", "<&>", "²", "title", "../x", "W1/outer/MJ1", "")
    more = (Line(Role.LINTEL, (0.0, 0.0), (1.0, 0.0), source, f"thing {n}") for n, source in enumerate(awkward))
    ids = [e.get("id") for e in drawn(scene, *more).iter() if e.get("id")]
    assert len(ids) == len(set(ids)) > len(awkward)
    assert [name for name in ids if not NAME.fullmatch(name)] == []
    assert {"W1-outer-MJ1", "W1-outer-é", "W1-outer-title"} <= set(ids)


@pytest.mark.parametrize(
    ("words", "name"), [("W1/outer/MJ1", "W1-outer-MJ1"), ("3rd  wall", "_3rd-wall"), ("--", "_"), ("a:b", "a-b"), ("x²", "x")]
)
def test_slug(words, name):
    assert slug(words) == name


def test_pieces_alike_are_one_path_and_a_cut_one_keeps_its_title(scene):
    """Three whole pieces in a row and one cut: the cut one can be pointed at inside."""
    outlines = [tuple((x + 225.0 * n, y) for x, y in ((0, 0), (215, 0), (215, 65), (0, 65))) for n in range(4)]
    pieces = [Polyline(Role.UNIT, outline, True, "P9") for outline in outlines[:3]]
    cut = Polyline(Role.CUT_UNIT, outlines[3], True, "P9", "cut 112 & a bit")
    view = replace(scene.views[0], primitives=(BlockUse(Role.UNIT, "p 9", (0.0, 0.0), "W1/outer", "course 1"),))
    root = drawn(replace(scene, blocks=(Block("p 9", (*pieces, cut)),)), view=view)
    block = next(g for g in root.iter(f"{NS}g") if g.get("id") == "b-p-9")
    path, polygon = block
    assert path.get("d").count("M") == path.get("d").count("z") == 3
    assert said(polygon) == "cut 112 & a bit"
    assert polygon.get("class").split() == ["cut_unit", "p"]
    assert root.find(f".//{NS}use").get("href") == "#b-p-9"


def test_text_keeps_its_width_in_any_font(scene, root):
    fonts = Fonts()
    widths = {t.text: float(t.get("textLength")) for t in root.iter(f"{NS}text")}
    assert widths["1347.5"] == pytest.approx(fonts.width("1347.5", 2.5), abs=0.001)
    assert widths["turned"] == pytest.approx(fonts.width("turned", 3.5, bold=True), abs=0.001)


def test_letters_xml_has_not_are_left_out(scene):
    root = drawn(scene, Text(Role.TEXT, (0.0, 0.0), "a\x0bb\x00c", 2.5))
    assert "abc" in [t.text for t in root.iter(f"{NS}text")]


def test_same_scene_same_picture(scene):
    assert svg.picture(scene, scene.views[0], Fonts()) == svg.picture(scene, scene.views[0], Fonts())
