"""LABC Warranty, figures the uk rule set takes from it.

Bibliography: LABC Warranty: Guidance on movement joints (2022); movement joints; structural lintels and bearings; cavity trays;
weep holes; laying bricks and blocks; tolerances; technical manual v8 (all read). The short return is quoted by others.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value
from elevgen.fittings.tolerances import level_tolerance
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Override

Carried = Callable[..., None]
Said = Callable[[str, str], tuple[Value, str]]


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


@pytest.mark.parametrize(("length", "allowed"), [(2500.0, 5.0), (5000.0, 10.0), (5000.5, 15.0), (12000.0, 15.0)])
def test_labc_06_beds_are_level_within_10_to_5_m_and_15_over(said: Said, length: float, allowed: float) -> None:
    """Tolerances, read: the figures the set carries beside its default, taken in place of it (2.5 m: derived)."""
    given = []
    for key in ("per_metre", "length", "beyond"):
        value, status = said("LABC Warranty", f"tolerance.level.{key}")
        assert status == "read"
        if key != "length":  # it is that of the default
            unit = {"per_metre": "mm_per_m", "beyond": "mm"}[key]
            given.append(
                Override(rule=f"tolerance.level.{key}", value=value, unit=unit, reason="built to LABC", by="owner")  # type: ignore[arg-type]
            )
    assert level_tolerance(RuleReader(load_book("uk", given)), length) == pytest.approx(allowed)
