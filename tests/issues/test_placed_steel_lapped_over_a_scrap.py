"""Steel placed beside a listed length shorter than a lap was lapped over it and on out of the end of the wall."""

import pytest


@pytest.mark.parametrize("at", [0, 5970])
def test_it_ends_with_the_wall(wall_of, at):
    opening = {"id": "O1", "at": 300 if at == 0 else 4790, "width": 910, "sill": 900, "height": 1200}
    listed = [{"at": at, "level": level, "length": 30} for level in (2175, 2250)]
    design = wall_of({"openings": [opening], "reinforcement": [*listed, "place"]}, {}, {})
    placed = [bed for bed in design.fittings.bed_reinforcement if not bed.given]
    assert {bed.level for bed in placed if bed.leaf == "W1/outer"} >= {2175, 2250}
    for bed in placed:
        leaf = design.building.leaf(bed.leaf)
        assert leaf.span.start - 0.01 <= bed.span.start and bed.span.end <= leaf.span.end + 0.01
