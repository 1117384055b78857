"""Labours: stopped ends, cutting by the metre, bonding ends, points set out; lopsided walls, figures by hand."""

from __future__ import annotations

from math import hypot
from typing import Any

import pytest


def test_stopped_ends_are_fair_returns_each_as_high_as_it_is(made: Any, bill: Any) -> None:
    """A garden wall 1200 high at its start and 1800 at its end, on a base that steps up 300."""
    wall = {
        "start": [0, 0],
        "end": [4490, 0],
        "base": [[0, 0], [2240, 0], [2240, 300], [4490, 300]],
        "top": [[0, 1200], [2690, 1200], [2690, 1800], [4490, 1800]],
    }
    item = bill(made([wall]))["FAIR-RETURN-M/END/102.5", "W1/outer"]
    assert (item.net, item.derivation) == (pytest.approx(2.7), "start 1.20 m, end 1.50 m")


def test_a_corner_is_no_stopped_end(made: Any, bill: Any) -> None:
    walls = [{"start": [0, 0], "end": [2240, 0], "top": 600}, {"start": [2240, 0], "end": [2240, 1565], "top": 900}]
    found = bill(made(walls))
    assert found["FAIR-RETURN-M/END/102.5", "W1/outer"].derivation == "start 0.60 m"
    assert found["FAIR-RETURN-M/END/102.5", "W2/outer"].derivation == "end 0.90 m"


def test_raking_cutting_is_measured_along_the_slope_fair_outside_rough_inside(made: Any, bill: Any) -> None:
    """A gable up 1500 over 2500 and down 900 over 3550; the inner leaf of an open wall is as long."""
    wall = {"type": "cavity", "start": [0, 0], "end": [6050, 0], "top": [[0, 2100], [2500, 3600], [6050, 2700]]}
    found = bill(made([wall]))
    slopes = (hypot(2500, 1500) + hypot(3550, 900)) / 1000
    fair, rough = found["CUT-M/FAIR/RAKING/102.5", "W1/outer"], found["CUT-M/ROUGH/RAKING/100", "W1/inner"]
    assert (fair.net, rough.net) == (pytest.approx(slopes, abs=1e-4), pytest.approx(slopes, abs=1e-4))
    assert fair.derivation == "2 slopes, measured along them"
    assert {p.lift for p in fair.parts} == {2, 3}


def test_a_level_top_needs_no_raking(made: Any, bill: Any) -> None:
    assert not [code for code, _ in bill(made([{"start": [0, 0], "end": [1790, 0], "top": 450}])) if code.startswith("CUT-M")]


def test_level_cutting_is_as_long_as_the_bricks_cut_in_height(made: Any, bill: Any) -> None:
    """Three courses and 40 mm: the fourth is cut; 1790 less seven or eight perpends."""
    item = bill(made([{"start": [0, 0], "end": [1790, 0], "top": 265}]))["CUT-M/FAIR/LEVEL/102.5", "W1/outer"]
    assert item.net in (pytest.approx(1.72), pytest.approx(1.71))
    assert item.derivation.startswith("units cut in height in course 4; ")


def test_a_bonded_tee_is_toothed_in_a_tied_one_is_cut_against_the_face(made: Any, bill: Any) -> None:
    """A partition 2400 high on 0 into a wall from -150 up to 2700."""
    walls = [
        {"type": "partition", "start": [0, 0], "end": [6000, 0], "base": -150},
        {"type": "partition", "start": [2000, 50], "end": [2000, 3000], "top": 2400},
    ]
    bonded = bill(made(walls, junctions=[{"walls": ["W1", "W2"], "connection": "bonded"}]))
    item = bonded["BOND-END-M/100", "W2/outer"]
    assert (item.net, item.derivation) == (pytest.approx(2.4), "into W1/outer 2.40 m")
    assert ("BOND-END-M/100", "W1/outer") not in bonded
    tied = bill(made(walls, junctions=[{"walls": ["W1", "W2"], "connection": "tied"}]))
    assert not [code for code, _ in tied if code.startswith("BOND")]
    against = [q for (code, where), q in tied.items() if code == "CUT-M/ROUGH/UPRIGHT/100" and where == "W2/outer"]
    assert all(0 < q.net <= 2.4 for q in against)


def test_points_set_out_are_said_by_kind(made: Any, bill: Any) -> None:
    """Ends, a window's reveals, a joint listed, a step in the top."""
    window = {"id": "A1", "kind": "window", "at": 3000, "width": 1220, "sill": 900, "height": 1050}
    wall = {"start": [0, 0], "end": [8090, 0], "top": [[0, 2700], [2000, 2700], [2000, 3000], [8090, 3000]]}
    item = bill(made([{**wall, "openings": [window], "joints": [{"at": 6075}]}]))["SET-OUT-NR", "W1/outer"]
    assert item.net == 6
    assert item.derivation == "2 ends, 2 reveals, 1 joint, 1 step or turn"
    assert {p.lift for p in item.parts} == {1}
