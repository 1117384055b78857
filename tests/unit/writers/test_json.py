"""design.json: the agreed fields, one record a line, the same bytes every time."""

import json
from dataclasses import replace

import pytest

from elevgen.drawing.scene import Scene
from elevgen.result import Design
from elevgen.takeoff.measure import measure
from elevgen.writers._package import Package
from elevgen.writers.json import document, render, text

FIELDS = {
    "leaves": "id wall leaf length height courses units",
    "runs": "id leaf walls length closed nodes",
    "movement_joints": "id wall leaf at from to width given reason basis",
    "placement": "run optimal joints lower_bound relaxed",
    "panels": "id wall leaf from to length height ratio",
    "courses": "wall leaf course level height pattern from to",
    "patterns": "id unit pieces perpends",
    "lintels": "id opening leaf level length bearing_start bearing_end depth",
    "bed_reinforcement": "id wall leaf course level from to length laps pieces",
    "ties": "wall general edge slip total",
    "findings": "id code severity where measured operator limit unit document clause text waiver",
    "quantities": "code item unit net waste order where",
    "orders": "code item unit net laps needed waste with_waste step order packs mass lifts",
}
"""Field names fixed by the design, section 4; and those of the order list."""


@pytest.fixture
def written(small_package: Package) -> dict:
    return json.loads(render(small_package)["design.json"])


def test_every_agreed_field_is_there(written: dict) -> None:
    assert {"elevgen", "spec_sha256", "rules"} <= set(written)
    assert {"key", "value", "unit", "document", "edition", "clause", "status"} <= set(written["rules"]["values_used"][0])
    for name, fields in FIELDS.items():
        assert written[name], name
        for record in written[name]:
            assert set(fields.split()) <= set(record), name


def test_what_was_designed_is_what_is_written(written: dict) -> None:
    (joint,) = written["movement_joints"]
    assert (joint["leaf"], joint["at"], joint["from"], joint["to"], joint["width"]) == ("outer", 671, 0, 300, 12)
    assert joint["width_calculated"] is None
    outer = written["leaves"][0]
    assert (outer["id"], outer["leaf"], outer["courses"]) == ("W1/outer", "outer", 4)
    assert outer["units"] == {"facing": {"full": 14, "cut": 4}}
    assert [lintel["depth"] for lintel in written["lintels"]] == [None, 65]
    assert written["ties"][0] | {"placed": 0} == {
        "wall": "W1",
        "general": 1,
        "edge": 3,
        "slip": 3,
        "total": 7,
        "length": 225,
        "beds_meet": False,
        "basis": ["movement_joint.spacing.normal.clay"],
        "placed": 0,
        "given": False,
        "beds_apart": [150],
        "reasons": {"field": ["tie.density"], "slip": ["tie.slip.vertical"]},
        "density_required": 2.5,
        "panels": [
            {"from": 0, "to": 671, "area": 0.16, "ties": 4, "density": 25, "judged": False},
            {"from": 671, "to": 1004.5, "area": 0, "ties": 0, "density": None, "judged": False},
        ],
    }
    assert written["ties"][0]["placed"][-1] == [671, 225, "slip", "W1/outer"]
    assert written["findings"][0]["document"] == "An invented document"
    assert written["findings"][1]["limit"] is None


def test_pieces_and_perpends_of_each_pattern_fill_it(written: dict) -> None:
    lengths = {p["id"]: p["length"] for p in written["patterns"]}
    for pattern in written["patterns"]:
        filled = sum(p["length"] for p in pattern["pieces"]) + sum(p["width"] for p in pattern["perpends"])
        assert filled == pytest.approx(pattern["length"], abs=0.01)
    for course in written["courses"]:
        assert course["to"] - course["from"] == pytest.approx(lengths[course["pattern"]])


def test_quantities_are_the_take_offs_and_orders_cover_them(written: dict, small_package: Package) -> None:
    for code in {q["code"] for q in written["quantities"]}:
        here = sum(q["net"] for q in written["quantities"] if q["code"] == code)
        assert here == pytest.approx(sum(q.net for q in small_package.takeoff.quantities if q.code == code), abs=1e-9)
    assert all(q["order"] >= (q["net"] if q["needed"] is None else q["needed"]) - 1e-9 for q in written["quantities"])
    for area in written["areas"]:
        parts = sum(area[part] for part in ("units", "mortar", "movement_joints", "openings", "strips"))
        assert parts == pytest.approx(area["gross"], rel=1e-6)


def test_orders_are_written_with_packs_calls_and_weights(small_design: Design) -> None:
    """Seventeen bricks of 3.5 kg, needed with 5 % waste for 16, in packs of 12; what nobody has said of ties is null."""
    measurement = small_design.spec.measurement.model_validate({"packs": {"units": {"holds": 12, "name": "=pack"}}})
    design = replace(small_design, spec=small_design.spec.model_copy(update={"measurement": measurement}))
    package = Package(design, measure(design), Scene("", "", (), (), (), (), ()))
    written = json.loads(render(package)["design.json"])
    orders = {order["code"]: order for order in written["orders"]}
    bricks, ties = orders["UNIT-NR/FACING"], orders["TIE-NR/FIELD/225"]
    assert (bricks["needed"], bricks["step"], bricks["order"], bricks["left_over"]) == (16, 1, 17, 1)
    assert bricks["packs"] == [{"name": "=pack", "holds": 12, "known": "given in the spec", "number": 2, "left_over": 8}]
    assert (bricks["to_buy"], ties["to_buy"]) == (24, ties["order"])
    assert (bricks["mass"], bricks["weight"]) == (3.5, 59.5)
    assert bricks["lifts"] == [{"lift": 1, "needed": 16}]
    assert bricks["call_off"] == [{"lift": 1, "order": 17, "packs": [2]}]
    assert (ties["packs"], ties["mass"], ties["weight"], ties["lifts"][0]["lift"]) == ([], None, None, 1)
    (lift,) = written["lift_weights"]
    blocks = orders["UNIT-NR/INNER-BLOCK"]
    assert lift["kg"] == bricks["weight"] + blocks["weight"] and "TIE-NR/FIELD/225" in lift["unknown"]


def test_values_used_are_those_of_design_and_take_off_together(written: dict) -> None:
    keys = [value["key"] for value in written["rules"]["values_used"]]
    assert keys == sorted(keys)
    assert {"movement_joint.spacing.normal.clay", "waste.mortar"} <= set(keys)
    bands = next(value for value in written["rules"]["values_used"] if value["key"] == "tie.length")
    assert (bands["value"], bands["status"]) == ([[75, 200], [100, 225]], "memory")


def test_a_value_used_comes_with_other_figures_and_why(small_package: Package) -> None:
    key = "movement_joint.spacing.normal.clay"
    other = replace(small_package.design.rules.values[key], value=15000.0, status="memory")
    rules = replace(small_package.design.rules, alternatives={key: (other,)}, why={key: "the less"})
    told = document(replace(small_package.design, rules=rules), small_package.takeoff)
    used = {value["key"]: value for value in told["rules"]["values_used"]}
    assert [(held["value"], held["unit"], held["status"]) for held in used[key]["alternatives"]] == [(15000.0, "mm", "memory")]
    assert used[key]["why"] == "the less"
    assert (used["waste.mortar"]["alternatives"], used["waste.mortar"]["why"]) == ([], None)


def test_one_record_is_one_line(small_package: Package) -> None:
    lines = render(small_package)["design.json"].decode().split("\n")
    assert lines[-1] == ""
    assert sum(line.startswith('{"id": "B') for line in lines) == 3
    assert all(json.loads(line.rstrip(",")) for line in lines if line.startswith('{"'))


def test_numbers_have_four_decimals_and_no_negative_nought() -> None:
    assert text({"a": [{"x": 1 / 3, "y": -0.00001, "z": 215.0, "n": None, "ok": True}]}) == (
        '{\n"a": [\n{"x": 0.3333, "y": 0, "z": 215, "n": null, "ok": true}\n]\n}\n'
    )
    with pytest.raises(ValueError, match="not JSON compliant"):
        text({"a": float("nan")})


@pytest.mark.parametrize("hostile", ['"},\n{"id": 1', "\ud800 alone", "\u2028", "=1+1", "\x00", "é ± ²"])
def test_any_text_comes_back_as_it_was(renamed, hostile: str) -> None:
    data = render(renamed(hostile))["design.json"]
    assert json.loads(data)["findings"][0]["text"] == hostile


def test_the_same_design_gives_the_same_bytes(small_design: Design) -> None:
    def rendered(design: Design) -> bytes:
        return render(Package(design, measure(design), None))["design.json"]  # type: ignore[arg-type]  # JSON draws nothing

    assert rendered(small_design) == rendered(replace(small_design))


def test_quantities_carry_gross_deductions_and_what_is_built(small_design):
    asked = small_design.spec.measurement.model_copy(update={"rules": "pomi-like"})
    design = replace(small_design, spec=small_design.spec.model_copy(update={"measurement": asked}))
    takeoff = measure(design)
    written = json.loads(text(document(design, takeoff)))["quantities"]
    walling = next(q for q in written if q["code"].startswith("WALL-") and q["where"] == "W1/outer")
    assert (walling["gross"], walling["net"], walling["as_built"]) == (0.3014, 0.3014, 0.2661)
    (deduction,) = walling["deductions"]
    assert deduction == {
        "of": "A1",
        "amount": pytest.approx(0.0352, abs=1e-4),
        "allowed": False,
        "rule": "0.0352 m2 is not over 0.5 m2: not deducted",
    }
    units = next(q for q in written if q["code"].startswith("UNIT-"))
    assert (units["gross"], units["deductions"], units["as_built"]) == (None, [], None)
    values = {value["key"] for value in json.loads(text(document(design, takeoff)))["rules"]["values_used"]}
    assert {"measurement.opening_min_area_m2", "measurement.wall_unit"} <= values
