"""The SVG read back as XML."""

from collections import Counter
from xml.etree import ElementTree

import pytest

from elevgen.writers import svg

NS = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def root(scene):
    return ElementTree.fromstring(svg.picture(scene, scene.views[0]))


def test_size_is_the_extents_at_scale_with_a_margin(root):
    assert root.get("width") == "270mm"
    assert root.get("viewBox") == "0 0 270 75"


def test_one_element_for_each_primitive(scene, root):
    drawn = Counter(e.tag.removeprefix(NS) for e in root)
    assert drawn == {
        "title": 1,
        "style": 1,
        "rect": 1,
        "defs": 1,
        "desc": 1,
        "line": 1,
        "polyline": 1,
        "use": 60,
        "text": 2,
        "g": 4,
    }


def test_text_stays_text(root):
    assert "<b>&\"' ± ² é =1+1" in [e.text for e in root.iter(f"{NS}text")]


def test_pointing_at_a_course_says_what_it_is(root):
    titles = {use.find(f"{NS}title").text for use in root.iter(f"{NS}use")}
    assert titles == {"course 1", "course 2", "course 3"}


def test_height_runs_upwards(root):
    line = root.find(f"{NS}line")
    uses = list(root.iter(f"{NS}use"))
    assert float(uses[-1].get("y")) < float(uses[0].get("y")) < float(line.get("y1"))


def test_dark_and_light(root):
    assert "prefers-color-scheme:dark" in root.find(f"{NS}style").text
