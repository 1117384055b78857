"""Hold points ask for what the leaf has, and for nothing it has not; tables of zones and lintels tell what is known."""

import pytest
from reading import built

from elevgen.drawing.facts import LeafFacts, leaf_facts
from elevgen.drawing.hold_points import hold_points
from elevgen.drawing.schedule_lintels import lintel_table
from elevgen.drawing.schedule_openings import zone_table
from elevgen.drawing.tables import TICK
from elevgen.result import Design


def points(facts: LeafFacts) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for tick, when, what in (row.cells for row in hold_points(facts).rows):
        assert tick == TICK
        found.setdefault(when, []).append(what)
    return found


def leaf(design: Design, leaf_id: str) -> LeafFacts:
    return next(facts for facts in leaf_facts(design) if facts.leaf.id == leaf_id)


def test_a_cavity_leaf_with_everything_in_it(studio: Design) -> None:
    said = points(leaf(studio, "W1/outer"))
    assert list(said) == ["Before", "During", "After"]
    assert "MJ2 formed full height, no mortar bridging, ties both sides" in said["During"]
    assert any(p.startswith("First course passed") and p.endswith(". . .") for p in said["Before"])
    assert any("cavity trays: laps sealed, stop ends fixed" in p for p in said["During"])
    assert any(p.startswith("3 lintels level on a full bed") and "propped" in p for p in said["During"])
    assert any(p.startswith("Cavity kept clear") for p in said["During"])
    assert any("reinforcement as listed, lapped, stopped at movement joints" in p for p in said["During"])


def test_a_plain_wall_is_asked_for_nothing_it_has_not() -> None:
    (facts,) = leaf_facts(built([{"id": "W1", "start": [0, 0], "end": [3140, 0]}]))
    said = " ".join(p for found in points(facts).values() for p in found)
    for word in ("joint at", "formed full height", "lintel", "tray", "Ties", "Cavity", "reinforcement", "Corners", "Mesh"):
        assert word not in said, word
    corner: list[dict[str, object]] = [
        {"id": "W1", "start": [0, 0], "end": [3140, 0]},
        {"id": "W2", "start": [3140, 0], "end": [3140, 2015]},
    ]
    assert any("Corners checked for square" in p for p in points(leaf_facts(built(corner))[1])["Before"])


def test_zones_are_told_where_there_is_more_than_one(studio: Design) -> None:
    rows = [row.cells for row in zone_table(leaf(studio, "W1/outer")).rows]
    assert [cells[:3] for cells in rows] == [("facing", "-0.225", "+0.450"), ("dense_block_100", "+0.450", "+2.700")]
    assert rows[0][3] == "215 × 65 × 102.5"
    (plain,) = leaf_facts(built([{"id": "W1", "start": [0, 0], "end": [3140, 0]}]))
    assert zone_table(plain).rows == ()


@pytest.mark.parametrize("leaf_id", ["W1/inner", "W5/inner"])
def test_lintels_of_known_mass_say_how_heavy(studio: Design, leaf_id: str) -> None:
    facts = leaf(studio, leaf_id)
    table = lintel_table(facts)
    assert [column.title for column in table.columns][-2:] == ["depth", "kg"]
    for row, lintel in zip(table.rows, facts.lintels, strict=True):
        assert lintel.mass is not None and float(row.cells[-1]) == pytest.approx(lintel.mass, abs=0.51)
    light = lintel_table(leaf(studio, "W1/outer"))
    assert "kg" not in [column.title for column in light.columns]


def test_levels_and_plumb_are_checked_against_figures_for_this_wall() -> None:
    walls: list[dict[str, object]] = [
        {"id": "W1", "start": [0, 0], "end": [3140, 0], "base": 0, "top": 2400},
        {"id": "W2", "start": [0, 4000], "end": [6065, 4000], "base": 0, "top": 3600},
    ]
    short, long = leaf_facts(built(walls))
    assert "Level within 5 mm in 3140, plumb within 6 mm in 2400" in points(short)["After"], "5.02 and 6.4"
    assert "Level within 12 mm in 6065, plumb within 12 mm in 3600" in points(long)["After"]
    (feet,) = leaf_facts(built([walls[0]], sheet={"lengths": "feet"}))
    (said,) = [p for p in points(feet)["After"] if p.startswith("Level")]
    assert said == 'Level within 3/16" in 10\' 3 5/8", plumb within 1/4" in 7\' 10 1/2"'
    (silent,) = leaf_facts(built([walls[0]]))
    assert "Levels and plumb checked" in points(silent._replace(tolerance=None))["After"]
