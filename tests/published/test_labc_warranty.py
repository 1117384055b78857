"""LABC Warranty, figures the uk rule set takes from it.

Bibliography: LABC Warranty: Guidance on movement joints (2022); movement joints; structural lintels and bearings; cavity trays;
weep holes; laying bricks and blocks; technical manual v8 (all read). The short return is quoted by others.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.panel_ratio.clay", 3.0, "read", id="clay 3:1"),
        pytest.param("movement_joint.panel_ratio.dense_concrete", 3.0, "read", id="concrete 3:1"),
        pytest.param("movement_joint.panel_ratio.aircrete", 3.0, "read", id="aircrete 3:1"),
        pytest.param("movement_joint.short_return.clay", 675.0, "quoted", id="short return 675, quoted"),
        pytest.param("lintel.bearing.short.simple", 100.0, "read", id="lintel bearing at least 100"),
        pytest.param("lintel.bearing.kind.pressed_steel", 150.0, "read", id="LABC-03 pressed steel bears 150"),
        pytest.param("tie.slip.vertical", 300.0, "read", id="slip ties 300 up"),
        pytest.param("tie.density", 2.5, "read", id="2.5 ties a square metre"),
        pytest.param("tray.past_lintel", 25.0, "read", id="tray 25 past the closer"),
        pytest.param("tray.rise", 150.0, "read", id="tray rises 150"),
        pytest.param("weep.spacing", 900.0, "read", id="weeps at 900"),
        pytest.param("perpend.min", 7.0, "read", id="perpends at least 7"),
        pytest.param("bed.tolerance", 5.0, "read", id="beds within 5 mm of eight"),
        pytest.param("filler.barred.clay", ("hemp", "fibreboard", "cork"), "quoted", id="not in clay, quoted"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("LABC Warranty", key, printed, status)
