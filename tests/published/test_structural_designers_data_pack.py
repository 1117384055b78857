"""Civil & Structural Designers Data Pack, figures the uk rule set carries from it.

Bibliography: Civil & Structural Designers Data Pack, section 7 table 7.1, all columns (read; no publisher printed).
Check values DPCK-01 to DPCK-07; where the Pocket Book's table is lower, that one is the default (DPCK-07).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value
from elevgen.rules.book import RuleBook

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.clay", 15000.0, "read", id="clay 15 m"),
        pytest.param("movement_joint.spacing.normal.calcium_silicate", 8000.0, "read", id="calcium silicate 8 m"),
        pytest.param("movement_joint.spacing.normal.dense_concrete", 8000.0, "read", id="dense block 8 m"),
        pytest.param("movement_joint.spacing.normal.lightweight_concrete", 6000.0, "read", id="lightweight block 6 m"),
        pytest.param("movement_joint.spacing.normal.aircrete", 6000.0, "read", id="aircrete block 6 m"),
        pytest.param("movement_joint.spacing.reinforced_450.clay", 20000.0, "read", id="clay, beds at 450: 20 m"),
        pytest.param(
            "movement_joint.spacing.reinforced_450.calcium_silicate",
            12000.0,
            "read",
            id="calcium silicate, 140, beds at 450: 12 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_450.over_140.calcium_silicate",
            14000.0,
            "read",
            id="calcium silicate, over 140, beds at 450: 14 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_450.dense_concrete", 12000.0, "read", id="dense block, 140, beds at 450: 12 m"
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_450.over_140.dense_concrete",
            14000.0,
            "read",
            id="dense block, over 140, beds at 450: 14 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_450.lightweight_concrete",
            10000.0,
            "read",
            id="lightweight block, 140, beds at 450: 10 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_450.over_140.lightweight_concrete",
            12000.0,
            "read",
            id="lightweight block, over 140, beds at 450: 12 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_450.aircrete", 10000.0, "read", id="aircrete block, 140, beds at 450: 10 m"
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_450.over_140.aircrete",
            12000.0,
            "read",
            id="aircrete block, over 140, beds at 450: 12 m",
        ),
        pytest.param("movement_joint.spacing.reinforced_225.clay", 24000.0, "read", id="clay, beds at 225: 24 m"),
        pytest.param(
            "movement_joint.spacing.reinforced_225.calcium_silicate",
            14000.0,
            "read",
            id="calcium silicate, 140, beds at 225: 14 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_225.over_140.calcium_silicate",
            16000.0,
            "read",
            id="calcium silicate, over 140, beds at 225: 16 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_225.dense_concrete", 14000.0, "read", id="dense block, 140, beds at 225: 14 m"
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_225.over_140.dense_concrete",
            16000.0,
            "read",
            id="dense block, over 140, beds at 225: 16 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_225.lightweight_concrete",
            12000.0,
            "read",
            id="lightweight block, 140, beds at 225: 12 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_225.over_140.lightweight_concrete",
            14000.0,
            "read",
            id="lightweight block, over 140, beds at 225: 14 m",
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_225.aircrete", 12000.0, "read", id="aircrete block, 140, beds at 225: 12 m"
        ),
        pytest.param(
            "movement_joint.spacing.reinforced_225.over_140.aircrete",
            14000.0,
            "read",
            id="aircrete block, over 140, beds at 225: 14 m",
        ),
        pytest.param("movement_joint.corner.fraction", 0.5, "read", id="half off a restrained end"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("Civil & Structural Designers Data Pack", key, printed, status)


@pytest.mark.parametrize(
    ("key", "governing"),
    [
        pytest.param("movement_joint.spacing.reinforced_450.dense_concrete", 12000.0, id="DPCK-06, beds at 450"),
        pytest.param("movement_joint.spacing.reinforced_225.dense_concrete", 14000.0, id="DPCK-06, beds at 225"),
        pytest.param("movement_joint.spacing.reinforced_450.clay", 15000.0, id="DPCK-07, beds at 450"),
        pytest.param("movement_joint.spacing.reinforced_225.clay", 18000.0, id="DPCK-07, beds at 225"),
    ],
)
def test_the_lower_of_two_tables_governs(uk: RuleBook, key: str, governing: float) -> None:
    assert uk.get(key).number == governing


def test_no_table_that_disagrees_is_lower_than_the_default(uk: RuleBook) -> None:
    keys = [key for key in uk.values if ".reinforced_" in key]
    assert len(keys) == 20
    for key in keys:
        assert all(other.number >= uk.get(key).number for other in uk.alternatives[key]), key
