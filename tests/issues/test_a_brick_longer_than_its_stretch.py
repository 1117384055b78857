"""Between a corner and an opening 100 mm from it a brick of 102.5 mm was laid, out over the end of the wall."""

import pytest


@pytest.mark.parametrize("bond", ["english", "flemish", "stretcher"])
def test_pieces_and_perpends_fill_every_pattern(wall_of, bond):
    opening = {"id": "O1", "at": 100, "width": 1500, "sill": 300, "height": 1800}
    round_it = {"id": "W2", "start": [0, 4000], "end": [0, 0]}
    build = {"bond": bond, "build": "half_brick" if bond == "stretcher" else "one_brick"}
    design = wall_of({"openings": [opening]}, build, None, round_it)
    for pattern in design.coursing.patterns:
        along = [(x.at, x.length) for x in pattern.pieces] + [(x.at, x.width) for x in pattern.perpends]
        assert sum(length for _, length in along) == pytest.approx(pattern.length, abs=0.01), pattern
        assert min(at for at, _ in along) == pytest.approx(0, abs=0.01)
    assert {f.severity for f in design.findings if f.code == "area-balance"} == {"pass"}
