"""The duplex spec says what was measured from the sample model."""

import json
from pathlib import Path

import pytest

from elevgen.core.geometry import cross
from elevgen.spec.load import load_file

ROOT = Path(__file__).parents[3]
DUPLEX = ROOT / "tests" / "data" / "duplex.json"
SOURCE = ROOT.parent / "shared" / "real" / "duplex-walls.json"


@pytest.fixture(scope="module")
def duplex(vocabulary):
    return load_file(DUPLEX, vocabulary)


def test_four_walls_anticlockwise_so_that_the_outside_is_on_the_right(duplex):
    assert [w.id for w in duplex.walls] == ["W1", "W2", "W3", "W4"]
    assert all(w.end == duplex.walls[(k + 1) % 4].start for k, w in enumerate(duplex.walls))
    assert sum(cross(w.start, w.end) for w in duplex.walls) / 2 == 8800 * 17800


def test_the_licence_is_named_in_spec_and_beside_it(duplex):
    for text in (duplex.project.title, (DUPLEX.parent / "README.md").read_text(encoding="utf-8")):
        assert "CC BY 4.0" in text
        assert "buildingSMART" in text


@pytest.mark.skipif(not SOURCE.exists(), reason="the measured figures are not beside this checkout")
def test_every_wall_and_opening_is_as_measured(duplex):
    source = json.loads(SOURCE.read_text(encoding="utf-8"))
    make_up = source["make_up_mm"]
    wall_type = duplex.wall_types["brick_and_block"]
    leaf_width = {name: duplex.units[leaf.zones[0].unit].width for name, leaf in duplex.leaves.items()}
    assert leaf_width[wall_type.outer] == make_up["brick"]
    assert leaf_width[wall_type.inner] == make_up["concrete block"]
    assert wall_type.cavity == make_up["air"] + make_up["insulation"]
    assert len(duplex.walls) == len(source["faces"])
    for wall, face in zip(duplex.walls, source["faces"], strict=True):
        assert (wall.name, list(wall.start), list(wall.end)) == (face["name"], face["start"], face["end"])
        assert (wall.base, wall.top) == (face["base"], face["top"])
        drawn = [{"at": o.at, "width": o.width, "sill": o.sill, "height": o.height} for o in wall.openings]
        assert drawn == face["openings"]
