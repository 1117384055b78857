"""Technical Information Sheet 9, Brickwork Dimensions: the brick's work size and joint behind its tables.

Bibliography: Technical Information Sheet 9, Brickwork Dimensions (read): brick 215 x 102.5 x 65, joint 10 mm.
"""

from __future__ import annotations

import pytest

from elevgen.rules.book import RuleBook


def test_work_size_and_joint(uk: RuleBook) -> None:
    brick = uk.units["brick_65"]
    assert (brick.length, brick.width, brick.height) == (215, 102.5, 65)
    assert brick.source.status == "read"
    assert uk.get("joint.nominal").number == 10


@pytest.mark.parametrize(("bricks", "printed"), [(0.5, 112.5), (1, 225), (3.5, 787.5), (36.5, 8212.5), (72, 16200)])
def test_coordinating_lengths(uk: RuleBook, bricks: float, printed: float) -> None:
    assert bricks * (uk.units["brick_65"].length + uk.get("joint.nominal").number) == printed
