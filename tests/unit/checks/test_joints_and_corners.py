"""What is said of joints nearer to a corner than the wall is high, where nothing can keep them further off and where it can."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.result import Design, Finding
from elevgen.spec.models import Spec


def au(lengths: tuple[float, float], top: float, joints: tuple[list[float], list[float]] | None, **more: Any) -> Design:
    """Two walls of 110 mm brick round a corner, the second from it; joints 10 mm wide where given, else placed."""
    (a, b), given = lengths, joints or ([], [])
    listed = [[{"at": at, "width": 10} for at in on_wall] for on_wall in given]
    walls = [
        {"id": "A", "type": "one", "start": [0, 0], "end": [a, 0], "top": top},
        {"id": "B", "type": "one", "start": [a, 0], "end": [a, b], "top": top},
    ]
    walls = [wall | ({"joints": on} if joints else {}) for wall, on in zip(walls, listed, strict=True)]
    leaves = {"one": {"zones": [{"unit": "brick_76"}]}}
    spec = {"spec": 1, "rules": "au", "leaves": leaves, "wall_types": {"one": {"outer": "one"}}, "walls": walls, **more}
    return pipeline.design(Spec.model_validate(spec))


def at_corner(design: Design) -> Finding:
    (finding,) = [f for f in design.findings if f.code == "joint-clear-of-corner"]
    return finding


def test_a_corner_is_one_finding_held_to_the_wall_that_lacks_most() -> None:
    finding = at_corner(au((9000, 7000), 2400, ([9000 - 1505], [2105])))
    assert (finding.where, finding.leaves, len(finding.joints)) == ("A/outer corner with B/outer", ("A/outer", "B/outer"), 2)
    assert (finding.measured, finding.limit) == (pytest.approx(1500), 2400)
    assert "1.50 m" in finding.text and "2.10 m" in finding.text


@pytest.mark.parametrize(("top", "at_odds"), [(3000, False), (3001, True)])
def test_both_walls_as_high_as_half_the_spacing_round_the_corner_is_just_possible(top: float, at_odds: bool) -> None:
    """6 m round a corner without openings (Housing Provisions 5.6.8, quoted), so 3 m on both walls and no more."""
    finding = at_corner(au((9000, 7000), top, ([9000 - 2500], [2500])))
    assert finding.severity == ("note" if at_odds else "warn")
    assert ("not to be had on both walls" in finding.text and "6 m" in finding.text) == at_odds
    assert ("further along" in finding.text) == (not at_odds)
    assert ("movement_joint.spacing.normal.clay" in {rule.key for rule in finding.also}) == at_odds


def test_a_stub_is_warned_of_whatever_stands_in_the_way() -> None:
    """720 mm is liked (common practice)."""
    kept, short = (at_corner(au((9000, 7000), 5000, ([9000 - off - 5], [2500]))) for off in (720, 719))
    assert (kept.severity, short.severity) == ("note", "warn")
    assert "a stub of less than 720 mm" in short.text and "one more joint in A/outer or B/outer" in short.text


def test_a_wall_with_corners_at_both_ends_may_be_too_short_for_any_place() -> None:
    walls = [
        {"id": "A", "type": "one", "start": [0, 0], "end": [4000, 0], "top": 2400, "joints": [{"at": 2000, "width": 10}]},
        {"id": "B", "type": "one", "start": [4000, 0], "end": [4000, 3000], "top": 2400, "joints": []},
        {"id": "C", "type": "one", "start": [0, 3000], "end": [0, 0], "top": 2400, "joints": []},
    ]
    found = [f for f in au((9000, 7000), 2400, None, walls=walls).findings if f.code == "joint-clear-of-corner"]
    assert [f.severity for f in found] == ["note", "note"]
    assert all("no place in A/outer is so far from its corners" in f.text for f in found)


def test_placed_joints_are_not_told_to_move_but_that_one_more_may_do() -> None:
    """Placed ones stand where all corners and openings are best served by as few."""
    spec = pipeline.load(au_house())
    design = pipeline.design(spec)
    told = [f for f in design.findings if f.code == "joint-clear-of-corner" and f.severity == "warn"]
    assert told
    assert all("further along" not in f.text and "one more joint in" in f.text for f in told)


def au_house() -> Path:
    return Path(__file__).resolve().parents[2] / "data" / "au-house.json"
