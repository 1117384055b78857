"""The widths of joints and the sums behind them, as design.json and the workbook give them."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import pytest

from elevgen.pipeline import design
from elevgen.result import Design
from elevgen.spec.models import Spec
from elevgen.takeoff.measure import measure
from elevgen.writers._xlsx_model import Block, Sheet
from elevgen.writers.json import document, text
from elevgen.writers.xlsx import sheets


def given(rule: str, value: float | str) -> dict[str, Any]:
    return {"rule": rule, "value": value, "reason": "data sheet", "by": "maker"}


PRODUCTS = [given("sealant.movement_capability", 50), given("movement.moisture.clay", 0.15)]


def brick(*overrides: dict[str, Any], **more: Any) -> Design:
    """A wall of 14.3 m with a joint at 5.9 m."""
    wall = {"id": "A", "type": "single", "start": [0, 0], "end": [14300, 0], "top": 5000, "joints": [{"at": 5900}], **more}
    return design(
        Spec.model_validate(
            {
                "spec": 1,
                "overrides": list(overrides),
                "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
                "wall_types": {"single": {"outer": "brick"}},
                "walls": [wall],
            }
        )
    )


@pytest.fixture(scope="module")
def known() -> Design:
    return brick(*PRODUCTS, slip_ties=True)


@pytest.fixture(scope="module")
def bare() -> Design:
    return brick()


def written(made: Design) -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads(text(document(made, measure(made))))
    return loaded


def sheet(made: Design, name: str) -> Sheet:
    return next(s for s in sheets(made, measure(made)) if s.name == name)


def block(made: Design, heading: str, name: str = "Joints") -> Block:
    return next(b for b in sheet(made, name).blocks if b.heading.startswith(heading))


def rows(found: Block) -> list[dict[str, Any]]:
    headings = [column.heading for column in found.columns]
    return [dict(zip(headings, row, strict=True)) for row in found.rows]


def test_json_holds_the_whole_sum(known: Design) -> None:
    (joint,) = written(known)["movement_joints"]
    assert (joint["width"], joint["width_rule_of_thumb"]) == (16, 16)
    assert joint["width_calculated"] == pytest.approx(7.15 * 0.83 * 2 + 3)
    assert joint["width_lacking"] == []
    movement = joint["movement"]
    assert movement["beside"] == [5900, 8400]
    assert movement["governs"] == "closing"
    closing = movement["closing"]
    assert closing["materials"] == ["clay", "clay"]
    parts = [closing[part] for part in ("thermal", "moisture", "reversible")]
    assert [sum(part[end] for part in parts) for end in (0, 1)] == pytest.approx(closing["movement"], abs=2e-4)
    assert closing["other"] is None, "nobody said that anything else moves"
    assert movement["opening"]["moisture"] == [0, 0], "clay that is known to grow does not shrink"
    assert closing["width"][1] == pytest.approx(closing["movement"][1] * 100 / 50 + movement["tolerance"], abs=2e-4)
    assert (movement["sealant_capability"], movement["capability_of"]) == (50, "installed_width")
    used = {value["key"]: value for value in written(known)["rules"]["values_used"]}
    assert set(movement["basis"]) <= set(used)
    brick_growth = used["movement.moisture.clay"]
    assert (brick_growth["value"], brick_growth["document"]) == (0.15, "override by maker")
    assert "data sheet" in brick_growth["note"]


def test_json_says_what_is_missing_and_gives_no_noughts_for_it(bare: Design) -> None:
    (joint,) = written(bare)["movement_joints"]
    assert (joint["width_calculated"], joint["width_serves"]) == (None, None)
    assert [lacking["rule"] for lacking in joint["width_lacking"]] == ["sealant.movement_capability"]
    movement = joint["movement"]
    assert movement["closing"]["movement"][1] > 0
    for name in ("width", "sealant_capability", "capability_of", "tolerance", "left_open"):
        assert movement[name] is None
    assert "sealant.capability_of" not in movement["basis"]


def test_without_a_range_of_temperature_there_is_no_movement_at_all() -> None:
    made = brick(given("movement.temperature.air.hottest", 30), given("movement.temperature.air.coldest", -10))
    assert written(made)["movement_joints"][0]["movement"]["closing"]["thermal"][1] == pytest.approx(7.15 * 0.008 * (72 - 3))


def test_json_holds_what_fills_a_joint(known: Design) -> None:
    (parts,) = written(known)["joint_parts"]
    assert (parts["backer_diameter"], parts["bond_breaker"]) == (20, "rod")
    assert parts["filler"] == ["polyethylene_foam", "polyurethane_foam", "foam_rubber"]
    assert parts["filler_barred"] == ["hemp", "fibreboard", "cork"]
    assert parts["sealant_ml_per_metre"] == 160
    assert parts["slip_ties"] == 16, "5 m of brickwork, a tie in every fourth bed"


def test_the_workbook_shows_both_widths_and_both_cases(known: Design) -> None:
    (joint,) = rows(block(known, "Movement joints"))
    assert (joint["Width built"], joint["Width by rule of thumb"]) == (16, 16)
    assert joint["Width by movement"] == pytest.approx(14.869)
    closing, opening = rows(block(known, "How far each joint moves"))
    assert (closing["Case"], closing["This case decides"], opening["This case decides"]) == ("closing", "yes", "no")
    assert closing["By moisture that stays"] == "1.1"
    assert closing["Moves in all"] == "2.5 to 5.9"
    assert closing["Width asked for"] == "8 to 14.9"
    assert closing["Masonry beside the joint"] == "5.90 m of clay, 8.40 m of clay"
    assert closing["Serves up to m"] == pytest.approx((16 - 3) / 2 / 0.83)
    (said,) = lines(block(known, "What bounds"))
    assert said == "the sealant may move 50 % of the width as installed, either way; 3 mm added for building it"
    assert "movement.moisture.clay" in lines(block(known, "Rule keys"))


def test_the_workbook_says_what_is_missing(bare: Design) -> None:
    (joint,) = rows(block(bare, "Movement joints"))
    assert joint["Width by movement"] == "not calculated"
    closing, _ = rows(block(bare, "How far each joint moves"))
    assert (closing["Width asked for"], closing["This case decides"], closing["Serves up to m"]) == ("not calculated", "no", None)
    (said,) = lines(block(bare, "What bounds"))
    assert said == "No figure for how far the sealant may move, of the width of the joint: MJ1"
    (parts,) = rows(block(bare, "What fills each joint"))
    assert parts["Slip ties"] == "not said"
    assert parts["Filled with"] == "polyethylene foam, polyurethane foam or foam rubber, never hemp, fibreboard or cork"


def test_overrides_stand_in_the_basis_with_reason_and_name(known: Design) -> None:
    basis = {row["Rule"]: row for row in rows(block(known, "Rule values used", "Basis"))}
    row = basis["movement.moisture.clay"]
    assert (row["Value"], row["Document"]) == (0.15, "override by maker")
    assert row["Note"].startswith("data sheet; the rule set itself has no value")
    assert basis["backer_rod.sizes"]["Value"] == "6, 10, 13, 15, 20, 25, 30, 40, 50"
    assert "movement.moisture.high.clay" not in basis


def lines(found: Block) -> Sequence[Any]:
    return [line for (line,) in found.rows]
