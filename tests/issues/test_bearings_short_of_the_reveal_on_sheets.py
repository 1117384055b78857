"""A lintel listed too short had a bearing of -50 on its sheet, which nobody can read as stopping short of the reveal."""

from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.schedule_lintels import lintel_table


def test_it_is_told_how_far_it_stops_short(wall_of):
    opening = {"id": "O1", "at": 2000, "width": 1210, "sill": 900, "height": 1200}
    listed = {"over": ["O1"], "at": 1850, "length": 1310, "leaf": "outer"}
    design = wall_of({"openings": [opening], "lintels": [listed]}, {}, {})
    outer = next(facts for facts in leaf_facts(design) if facts.leaf.id == "W1/outer")
    (row,) = lintel_table(outer).rows
    assert "150 / 50 short" in row.cells
