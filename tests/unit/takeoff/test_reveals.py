"""Cavities closed at openings, reveals, heads and sills: lengths by hand for a lopsided wall, by shapely for random ones."""

from __future__ import annotations

from typing import Any

import pytest

DOOR = {"id": "D1", "kind": "door", "at": 1000, "width": 910, "sill": 0, "height": 2100}
WINDOW = {"id": "A1", "kind": "window", "at": 3000, "width": 1220, "sill": 900, "height": 1050}
WALL = {"type": "cavity", "start": [0, 0], "end": [6065, 0], "base": -150, "openings": [DOOR, WINDOW]}


def test_metres_by_opening_and_no_sill_under_a_door(made: Any, bill: Any) -> None:
    """The door stands on 150 mm of wall, so its jambs are its own height; the window has a sill."""
    found = bill(made([WALL]))
    jambs, sills = found["CLOSE-M/JAMB/100", "W1"], found["CLOSE-M/SILL/100", "W1"]
    assert (jambs.net, jambs.unit, jambs.kind) == (pytest.approx(2 * 2.1 + 2 * 1.05), "m", "work")
    assert jambs.derivation == "D1 4.20 m, A1 2.10 m; heads closed by lintels and trays"
    assert sills.net == pytest.approx(1.22)
    assert sills.derivation == "A1 1.22 m; none under doors: D1; heads closed by lintels and trays"
    assert not [code for code, _ in found if code.startswith("CLOSE-M/HEAD")]
    assert found["FAIR-RETURN-M/REVEAL/102.5", "W1/outer"].net == pytest.approx(6.3)
    assert found["HEAD-M/102.5", "W1/outer"].net == pytest.approx(0.91 + 1.22)
    assert found["SILL-M/102.5", "W1/outer"].net == pytest.approx(1.22)
    assert ("HEAD-M/100", "W1/inner") not in found


def test_closers_are_by_lift_and_in_no_panel(made: Any, bill: Any) -> None:
    """Lifts of 1500 from -150: jambs of the door 1350 in the first, those of the window 450."""
    parts = bill(made([WALL]))["CLOSE-M/JAMB/100", "W1"].parts
    assert [(p.panel, p.lift) for p in parts] == [(None, 1), (None, 2)]
    assert [p.net for p in parts] == pytest.approx([2 * 1.35 + 2 * 0.45, 2 * 0.75 + 2 * 0.6])


def test_an_opening_down_to_the_base_has_no_sill_and_one_up_to_the_top_no_head(made: Any, bill: Any) -> None:
    low = {"id": "G1", "kind": "opening", "at": 1000, "width": 1210, "sill": -150, "height": 1650}
    high = {"id": "G2", "kind": "opening", "at": 4000, "width": 900, "sill": 1500, "height": 1200}
    found = bill(made([{**WALL, "openings": [low, high]}]))
    assert found["CLOSE-M/SILL/100", "W1"].derivation.startswith("G2 0.90 m")
    assert found["HEAD-M/102.5", "W1/outer"].net == pytest.approx(1.21)
    assert found["CLOSE-M/JAMB/100", "W1"].net == pytest.approx(2 * 1.65 + 2 * 1.2)


def test_under_a_slope_a_jamb_ends_at_the_top(made: Any, bill: Any) -> None:
    """A gate from the base through a top that falls from 2000 to 1400 in 6000: it is 1900 high at 1000, 1800 at 2000."""
    gate = {"id": "G1", "kind": "opening", "at": 1000, "width": 1000, "sill": 0, "height": 1800}
    wall = {"type": "half", "start": [0, 0], "end": [6000, 0], "top": [[0, 2000], [6000, 1400]], "openings": [gate]}
    found = bill(made([wall]))
    assert found["FAIR-RETURN-M/REVEAL/102.5", "W1/outer"].net == pytest.approx(3.6)
    assert ("SILL-M/102.5", "W1/outer") not in found


def test_openings_with_a_pier_too_small_between_them_have_no_jamb_there(made: Any, bill: Any) -> None:
    """60 mm between them is no masonry: the one jamb on the right is as high as the taller opening leaves of it."""
    left = {"id": "A1", "kind": "window", "at": 1000, "width": 900, "sill": 900, "height": 1050}
    right = {"id": "A2", "kind": "window", "at": 1960, "width": 610, "sill": 900, "height": 1050}
    found = bill(made([{**WALL, "openings": [left, right]}]))
    assert found["CLOSE-M/JAMB/100", "W1"].net == pytest.approx(2 * 1.05)
    assert found["CLOSE-M/SILL/100", "W1"].net == pytest.approx(0.9 + 0.06 + 0.61)


def test_a_rendered_leaf_has_no_fair_reveals_but_its_cavity_is_closed(made: Any, bill: Any) -> None:
    found = bill(made([{**WALL, "type": "rendered"}]))
    assert not [code for code, _ in found if code.startswith(("FAIR", "HEAD", "SILL"))]
    assert found["CLOSE-M/JAMB/90", "W1"].net == pytest.approx(6.3)


def test_a_wall_of_one_leaf_closes_no_cavity(made: Any, bill: Any) -> None:
    found = bill(made([{**WALL, "type": "half"}]))
    assert not [code for code, _ in found if code.startswith("CLOSE")]
    assert found["FAIR-RETURN-M/REVEAL/102.5", "W1/outer"].net == pytest.approx(6.3)
