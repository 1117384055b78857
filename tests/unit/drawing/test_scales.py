"""Scales and papers: a metric rule's, or inches to the foot on papers sold in inches."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.core.figures import figures
from elevgen.core.measures import parse_length
from elevgen.drawing.compose import compose
from elevgen.drawing.scales import METRIC, TO_THE_FOOT, detail_scales, plan_scales, scales, smallest_whole
from elevgen.drawing.scene import Scene, Text
from elevgen.drawing.sheet import INCH_PAPERS, ISO_PAPERS
from elevgen.spec.load import parse_text

FEET, MM = figures("feet"), figures("mm")


@pytest.mark.parametrize("of", TO_THE_FOOT[:6])
def test_a_scale_to_the_foot_is_what_it_says(of: int) -> None:
    """So many inches of paper for a foot of wall."""
    paper, wall = FEET.scale(of).split(" = ")
    assert parse_length(wall) / parse_length(paper) == pytest.approx(of)


def test_other_scales_are_said_as_a_ratio() -> None:
    assert [FEET.scale(of) for of in (48, 24, 12, 50, 100)] == ['1/4" = 1\' 0"', '1/2" = 1\' 0"', '1" = 1\' 0"', "1:50", "1:100"]
    assert [MM.scale(of) for of in (48, 50)] == ["1:48", "1:50"]


def test_each_way_of_writing_has_its_scales() -> None:
    assert (scales(MM), scales(FEET)) == (METRIC, TO_THE_FOOT)
    assert (detail_scales(MM), detail_scales(FEET)) == ((20, 50), (24, 48))
    assert (plan_scales(MM)[0], plan_scales(FEET)[0]) == (50, 48)
    assert (smallest_whole(MM), smallest_whole(FEET)) == (50, 48)


def test_papers_in_inches() -> None:
    """11 x 8 1/2, 17 x 11, 24 x 18, 36 x 24 in: common practice, no source. The smallest first, like the others."""
    inches = {name: (Fraction(wide) * 5 / 127, Fraction(high) * 5 / 127) for name, (wide, high) in INCH_PAPERS.items()}
    assert [tuple(round(float(side), 6) for side in size) for size in inches.values()] == [
        (11, 8.5),
        (17, 11),
        (24, 18),
        (36, 24),
    ]
    assert not ISO_PAPERS.keys() & INCH_PAPERS.keys()
    for papers in (ISO_PAPERS, INCH_PAPERS):
        assert list(papers.values()) == sorted(papers.values())


def scene_of(length: str, rules: str, unit: str, **sheet: Any) -> Scene:
    wall = {"id": "W", "type": "garden", "start": [0, 0], "end": [length, 0], "base": 0, "top": "8 ft"}
    spec = {"spec": 1, "rules": rules, "leaves": {"l": {"zones": [{"unit": unit}]}}, "wall_types": {"garden": {"outer": "l"}},
            "walls": [wall], "sheet": sheet}  # fmt: skip
    return compose(pipeline.design(parse_text(json.dumps(spec), "spec", pipeline.vocabulary()), "spec"))


def test_a_long_wall_in_feet_is_drawn_to_the_foot_and_parted_at_round_places() -> None:
    scene = scene_of("97' 7 5/8\"", "us", "concrete_block_8", size="Tabloid")
    (view,) = [v for v in scene.views if v.id == "W/outer"]
    assert view.scale == 48
    assert view.cuts
    assert all(at / 152.4 == pytest.approx(round(at / 152.4), abs=1e-9) for at in view.cuts)
    sheet = next(s for s in scene.sheets if s.id.startswith("W/outer"))
    said = [p.text for p in sheet.primitives if isinstance(p, Text)]
    assert '1/4" = 1\' 0"' in said
    assert "2 ft" in said, "the scale bar"
    assert not [text for text in said if "1:" in text]
    assert (sheet.width, sheet.height) == (431.8, 279.4)


def test_a_wall_too_high_is_told_of_larger_paper_of_its_own_kind() -> None:
    """60 ft at 1/8 in to the foot is 7 1/2 in; at 1/4 in, 15 in, which ARCH C, 18 in high, does not hold with its strings."""
    tall = {"id": "W", "type": "garden", "start": [0, 0], "end": ["30 ft", 0], "base": 0, "top": "60 ft"}
    spec = {"spec": 1, "rules": "us", "leaves": {"l": {"zones": [{"unit": "concrete_block_8"}]}},
            "wall_types": {"garden": {"outer": "l"}}, "walls": [tall], "sheet": {"size": "Tabloid"}}  # fmt: skip
    scene = compose(pipeline.design(parse_text(json.dumps(spec), "spec", pipeline.vocabulary()), "spec"))
    said = " ".join(p.text for v in scene.views for p in v.primitives if isinstance(p, Text))
    assert "Too high to be drawn larger on Tabloid; ARCH" in said
    assert 'takes 1/4" = 1\' 0"' in said
