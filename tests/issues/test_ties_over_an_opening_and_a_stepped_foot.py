"""Reach of ties in masonry that is only over an opening, above a foot that steps: the check crossed its own outline."""

from __future__ import annotations

import json

from elevgen import pipeline
from elevgen.spec.load import parse_text


def test_masonry_over_an_opening_above_a_step_is_looked_at() -> None:
    wall = {
        "id": "W1",
        "type": "w",
        "start": [0, 0],
        "end": [4575, 0],
        "base": [[0, 0], [2210, 0], [2210, 150], [4575, 150]],
        "top": [[0, 1125], [4575, 1275]],
        "openings": [{"id": "A", "kind": "opening", "at": 0, "width": 4403, "sill": 150, "height": 360}],
        "joints": [{"at": 4411, "width": 16}],
    }
    spec = {
        "spec": 1,
        "project": {"title": "A step under an opening", "date": "2026-03-02"},
        "rules": "uk",
        "leaves": {"out": {"zones": [{"unit": "brick_65"}]}, "in": {"zones": [{"unit": "aircrete_block_100"}]}},
        "wall_types": {"w": {"outer": "out", "inner": "in", "cavity": 50}},
        "walls": [wall],
    }
    design = pipeline.design(parse_text(json.dumps(spec), "step", pipeline.vocabulary()), "step")
    assert [finding.id for finding in design.findings if finding.code == "tie-reach"]
