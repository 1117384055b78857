"""Places not taken, and what would mend a rule that could not be kept, in every format that shows them."""

import json
import re

import pytest
from openpyxl import load_workbook

from elevgen.pipeline import design, write
from elevgen.spec.models import Spec

WINDOWS = [
    {"id": "N1", "kind": "window", "at": 1150, "width": 6050, "sill": 900, "height": 1200},
    {"id": "N2", "kind": "window", "at": 7500, "width": 6390, "sill": 900, "height": 1200},
]
SPEC = {
    "spec": 1,
    "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
    "wall_types": {"single": {"outer": "brick"}},
    "walls": [
        {"id": "W1", "type": "single", "start": [0, 0], "end": [14900, 0], "top": 5000, "line": "face", "openings": WINDOWS},
        {
            "id": "W2",
            "type": "single",
            "start": [0, 9000],
            "end": [15100, 9000],
            "top": 5000,
            "line": "face",
            "features": [{"kind": "downpipe", "at": 2490}],
        },
    ],
}


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("why")
    designed = design(Spec.model_validate(SPEC))
    return designed, write(designed, folder, ["json", "xlsx", "svg"])


def the(paths, suffix):
    return [path for path in paths if path.suffix == suffix]


def test_json_has_both(made):
    designed, paths = made
    record = json.loads(next(p for p in the(paths, ".json") if "movement_joints" in p.read_text()).read_text())
    joint = next(j for j in record["movement_joints"] if j["wall"] == "W2")
    (planned,) = designed.plan.on_leaf("W2/outer")
    assert joint["rejected"] == [{"at": r.at, "why": r.why} for r in planned.rejected]
    assert joint["rejected"][0]["why"].startswith("behind the downpipe at 2.5")
    (relaxed,) = [r for placed in record["placement"] for r in placed["relaxed"]]
    assert [r["kind"] for r in relaxed["remedies"]] == ["reinforced beds", "moved opening"]
    assert relaxed["remedies"][0]["what"] == ["leaves.brick.reinforced_every = 450"]


def test_workbook_has_both(made):
    _, paths = made
    page = load_workbook(the(paths, ".xlsx")[0])["Joints"]
    words = [str(cell.value) for row in page for cell in row if cell.value]
    assert "Why not elsewhere" in words
    assert any(w.startswith("behind the downpipe at 2.5") for w in words)
    assert any(re.match(r"move window N\d 25 mm to the", w) for w in words)


def test_drawing_says_it_on_the_joint(made):
    _, paths = made
    drawn = "".join(path.read_text() for path in the(paths, ".svg"))
    assert re.search(r"<title>movement joint MJ\d.*Not taken: behind the downpipe at 2\.5", drawn)
