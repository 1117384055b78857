"""Ties the spec lists: kept where they stand, nothing added, judged like others. And the length it gives."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest

import elevgen
from elevgen import pipeline
from elevgen.result import Design
from elevgen.spec.load import parse_text
from elevgen.takeoff.measure import measure

WINDOW = {"id": "V1", "kind": "window", "at": 1900, "width": 910, "sill": 600, "height": 1200}


def design(**wall: Any) -> Design:
    plain = {"id": "W1", "type": "cavity", "start": [0, 0], "end": [4700, 0], "top": 2250, "joints": [], "openings": [WINDOW]}
    spec = {
        "spec": 1,
        "leaves": {"out": {"zones": [{"unit": "brick_65"}]}, "in": {"zones": [{"unit": "aircrete_block_100"}]}},
        "wall_types": {"cavity": {"outer": "out", "inner": "in", "cavity": 100}},
        "walls": [plain | wall],
    }
    return elevgen.design(parse_text(json.dumps(spec), "survey", pipeline.vocabulary()), "survey")


def grid() -> Iterator[dict[str, float]]:
    """Ties 450 along and 225 up, beside the window and clear of it."""
    for row, level in enumerate(range(230, 2100, 225)):
        for at in [120.0, 400.0, 850.0, 1300.0, 1750.0, 2330.0, 2960.0, 3400.0, 3850.0, 4300.0, 4580.0]:
            if not (1900 < at < 2810 and 590 < level < 1810):
                yield {"at": at + (7 if row % 2 else 0), "level": level}


def found(d: Design, code: str) -> list[tuple[str, str]]:
    return [(f.severity, f.where) for f in d.findings if f.code == code]


def test_a_survey_is_kept_and_nothing_added() -> None:
    listed = list(grid())
    d = design(ties=listed)
    (ties,) = d.fittings.ties
    assert ties.given
    assert sorted((t.at, t.level) for t in ties.ties) == sorted((t["at"], t["level"]) for t in listed)
    assert all(t.given for t in ties.ties)
    assert {t.kind for t in ties.ties if 1900 - 225 <= t.at < 1900 and 600 < t.level < 1800} == {"reveal"}
    assert {t.kind for t in ties.ties if t.at < 1500} == {"field"}
    for code in ("tie-in-beds", "tie-spacing", "tie-density", "tie-near-joint-and-reveal", "tie-reach", "tie-length"):
        assert {severity for severity, _ in found(d, code)} == {"pass"}, code


def test_what_a_survey_lacks_is_found() -> None:
    """Two ties gone beside the window, one in no bed, one bed bare, a tie in the window."""
    listed = [t for t in grid() if not (t["at"] in (2967.0, 2960.0) and t["level"] in (905, 1130, 1355))]
    assert ("fail", "W1/V1 right reveal") in found(design(ties=listed), "tie-near-joint-and-reveal")
    off = [{**t, "level": t["level"] + 60} if t["level"] == 1130 else t for t in grid()]
    assert found(design(ties=off), "tie-in-beds") == [("warn", "W1")]
    assert design(ties=off).fittings.ties[0].apart == (1190,)
    inside = [*grid(), {"at": 2300, "level": 1130}]
    assert found(design(ties=inside), "tie-in-beds") == [("fail", "W1")]
    few = [t for t in grid() if t["level"] in (230, 1130, 2030)]
    assert found(design(ties=few), "tie-spacing") == [("fail", "W1")]
    assert found(design(ties=few[::2]), "tie-density") == [("fail", "W1")]
    hole = [t for t in grid() if not (300 < t["at"] < 1400 and 600 < t["level"] < 1700)]
    assert found(design(ties=hole), "tie-reach") == [("fail", "W1")]


def test_no_ties_at_all_is_a_survey_too() -> None:
    d = design(ties=[])
    (ties,) = d.fittings.ties
    assert (ties.given, ties.ties) == (True, ())
    assert found(d, "tie-spacing") == [("fail", "W1")]
    assert not any("no spacing" in line for line in measure(d).not_measured)


@pytest.mark.parametrize(("length", "severity"), [(190, "fail"), (200, "fail"), (225, "pass"), (250, "pass"), (300, "note")])
def test_a_length_in_the_spec_is_kept_and_judged(length: float, severity: str) -> None:
    """225 for a cavity of 100 (PD 6697, quoted); leaves of 102.5 and 100 hold 162.5 with 20 mm over each end."""
    d = design(tie_length=length)
    assert d.fittings.ties[0].length == length
    assert found(d, "tie-length") == [(severity, "W1")]
