"""A run is named by the corners it turns round; walls that go on in one line make no corner."""

from __future__ import annotations

import json

import pytest

from elevgen import pipeline
from elevgen.building.trace import trace
from elevgen.core.figures import METRIC
from elevgen.joints.words import run_words

TURNED = {
    (3590, 0): "run of 6.5 m through one meeting with other walls",
    (0, 2915): "run of 6.5 m round one corner",
}


@pytest.mark.parametrize("way", TURNED)
def test_in_line_is_not_round_a_corner(tmp_path, way):
    end = (6505, 0) if way[0] else (3590, 2915)
    lines = ((0, 0), (3590, 0)), ((3590, 0), end)
    spec = {
        "spec": 1,
        "project": {"title": "Words", "date": "2026-03-02"},
        "rules": "uk",
        "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
        "wall_types": {"single": {"outer": "brick"}},
        "walls": [
            {"id": f"W{n}", "start": a, "end": b, "type": "single", "base": 0, "top": 2700} for n, (a, b) in enumerate(lines)
        ],
    }
    path = tmp_path / "spec.json"
    path.write_text(json.dumps(spec))
    building = pipeline.design_file(path).building
    (run,) = trace(building)
    assert run_words(METRIC, run, building) == TURNED[way]
