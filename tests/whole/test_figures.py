"""design.json and the workbook read back: the fields fixed for them, the design's figures, sums that agree."""

from __future__ import annotations

from collections import Counter, defaultdict

import pytest
from finished_set import Set
from openpyxl import load_workbook

# --- design.json -----------------------------------------------------------------------------------------------------

FIELDS = {
    "leaves": "id wall leaf length height courses units",
    "runs": "id leaf walls length closed nodes",
    "movement_joints": "id wall leaf at from to width given reason basis",
    "placement": "optimal joints lower_bound relaxed",
    "panels": "id wall leaf from to length height ratio",
    "courses": "wall leaf course level height pattern from to",
    "patterns": "id unit pieces perpends",
    "lintels": "id opening leaf level length bearing_start bearing_end depth",
    "bed_reinforcement": "id wall leaf course level from to length laps pieces",
    "ties": "wall general edge slip total",
    "findings": "id code severity where measured operator limit unit document clause text waiver",
    "quantities": "code item unit net waste order where",
}
"""As the design fixes them; more may be added, none renamed or left out."""


@pytest.mark.parametrize("part", FIELDS)
def test_json_has_the_fields_fixed_for_it(made: Set, part: str) -> None:
    records = made.json[part]
    assert isinstance(records, list)
    assert records or (part == "ties" and not made.design.fittings.ties), part
    for record in records:
        assert list(record)[: len(FIELDS[part].split())] == FIELDS[part].split() or set(FIELDS[part].split()) <= set(record)


def test_json_says_what_it_was_made_from(made: Set) -> None:
    from elevgen import __version__

    assert made.json["elevgen"] == __version__
    assert made.json["spec_sha256"] == made.design.spec_sha256
    rules = made.json["rules"]
    assert rules["id"] == "uk"
    assert rules["edition"]
    for value in rules["values_used"]:
        assert {"key", "value", "unit", "document", "edition", "clause", "status"} <= set(value)
        assert value["status"] in ("read", "quoted", "memory", "derived", "practice")
        assert value["document"] or value["status"] in ("practice", "memory", "derived"), value["key"]


def test_json_rests_every_result_on_rules_it_lists(made: Set) -> None:
    listed = {value["key"] for value in made.json["rules"]["values_used"]}
    for part in ("movement_joints", "lintels", "bed_reinforcement", "ties"):
        for record in made.json[part]:
            assert set(record["basis"]) <= listed, record


def test_json_names_lead_somewhere(made: Set) -> None:
    data = made.json
    leaves = {record["id"]: record for record in data["leaves"]}
    for leaf_id, record in leaves.items():
        assert leaf_id == f"{record['wall']}/{record['leaf']}"
    patterns = {record["id"] for record in data["patterns"]}
    for course in data["courses"]:
        assert course["pattern"] in patterns
        assert f"{course['wall']}/{course['leaf']}" in leaves
    joints = {record["id"] for record in data["movement_joints"]}
    assert sorted(j for p in data["placement"] for j in p["joints"]) == sorted(joints)
    for part in ("leaves", "runs", "movement_joints", "panels", "patterns", "lintels", "bed_reinforcement", "findings"):
        ids = [record["id"] for record in data[part]]
        assert len(ids) == len(set(ids)), part
        assert all(ids), part


def test_json_is_the_design(made: Set) -> None:
    data, design = made.json, made.design
    assert [r["at"] for r in data["movement_joints"]] == pytest.approx([j.at for j in design.plan.joints], abs=1e-4)
    assert len(data["courses"]) == sum(len(laid.placements) for laid in design.coursing.leaves)
    for record in data["ties"]:
        assert record["general"] + record["edge"] + (record["slip"] or 0) == record["total"]
    for record in data["patterns"]:
        filled = sum(p["length"] for p in record["pieces"]) + sum(p["width"] for p in record["perpends"])
        assert filled == pytest.approx(record["length"], abs=0.01)
    for area in data["areas"]:
        shared = area["units"] + area["mortar"] + area["movement_joints"] + area["openings"] + area["strips"]
        shared += area["lintels"]
        assert shared == pytest.approx(area["gross"], rel=1e-6)


# --- XLSX ------------------------------------------------------------------------------------------------------------


def test_xlsx_bill_adds_up_to_the_quantities(made: Set) -> None:
    net: dict[str, float] = defaultdict(float)
    units = {}
    for q in made.json["quantities"]:
        net[q["code"]] += q["net"]
        units[q["code"]] = q["unit"]
    rows = [r for r in made.table("Bill", "The whole building") if r["Code"]]
    assert {r["Code"]: r["Quantity"] for r in rows} == pytest.approx(dict(net), abs=1e-3)
    assert {r["Code"]: r["Unit"] for r in rows} == units


def test_xlsx_measurement_is_the_quantities_place_by_place(made: Set) -> None:
    rows = made.table("Measurement", "By leaf and wall")
    one = [(r["Code"], r["Where"], r["Unit"], pytest.approx(r["Quantity"], abs=1e-3)) for r in rows]
    assert one == [(q["code"], q["where"], q["unit"], q["net"]) for q in made.json["quantities"]]


def test_xlsx_orders_are_the_orders(made: Set) -> None:
    rows = made.table("Order list", "Materials")
    packed = {o["code"]: o["packs"][0]["number"] * o["packs"][0]["holds"] for o in made.json["orders"] if o["packs"]}
    assert {r["Code"]: r["Order"] for r in rows} == pytest.approx({o["code"]: o["order"] for o in made.json["orders"]} | packed)
    for o in made.json["orders"]:
        assert o["order"] >= o["needed"] - 1e-6
        if o["code"].startswith("BR-M"):  # measured as fixed, bought in whole stock lengths
            assert o["needed"] >= o["net"] + o["laps"] - 1e-3
        elif not o["code"].startswith("UNIT-NR"):  # measured as pieces laid, bought whole
            assert o["needed"] == pytest.approx(o["net"] + (o["laps"] or 0.0), abs=1e-3)


def test_xlsx_schedules_add_up_to_the_bill(made: Set) -> None:
    """Joints, reinforcement, ties and lintels listed one by one come to the quantities in the bill."""
    data = made.json
    lengths = made.table("Reinforcement", "Lengths as fixed")
    assert sum(r["Net m"] for r in lengths) == pytest.approx(sum(b["length"] for b in data["bed_reinforcement"]) / 1000)
    laps = sum(r["With laps m"] - r["Net m"] for r in lengths)
    assert laps == pytest.approx(sum(sum(b["pieces"]) - b["length"] for b in data["bed_reinforcement"]) / 1000, abs=1e-3)
    reinforcement = [q for q in data["quantities"] if q["code"].startswith("BR-M")]
    assert sum(q["net"] for q in reinforcement) == pytest.approx(sum(r["Net m"] for r in lengths), abs=1e-3)

    parts = made.table("Joints", "What fills each joint")
    assert len(parts) == len(data["movement_joints"]) == len(made.table("Joints", "Movement joints"))
    litres = [q for q in data["quantities"] if q["unit"] == "l" and "sealant" in q["item"].lower()]
    assert sum(q["net"] for q in litres) == pytest.approx(sum(r["Sealant litres"] for r in parts), abs=1e-3)
    sealed = [q for q in data["quantities"] if q["unit"] == "m" and "sealant" in q["item"].lower()]
    lengths_sealed = sum(p["length"] * p["sealant_faces"] for p in data["joint_parts"]) / 1000
    assert sum(q["net"] for q in sealed) == pytest.approx(lengths_sealed, abs=1e-3)

    ties = made.table("Ties", "Wall ties, by wall")
    assert {r["Wall"]: r["All wall ties"] for r in ties} == {t["wall"]: t["total"] - (t["slip"] or 0) for t in data["ties"]}
    units = made.table("Units and cuts", "Units by leaf")
    assert sum(r["Whole"] + r["Cut"] for r in units) == sum(
        n for leaf in data["leaves"] for unit in leaf["units"].values() for n in unit.values()
    )
    assert len(made.table("Lintels", "Lintels")) == len(data["lintels"])


def test_xlsx_lists_every_finding_and_every_rule(made: Set) -> None:
    listed = [(r["Check"], r["Finding"]) for r in made.table("Findings", "Findings") if r["Kind"] != "Passes"]
    assert listed == [(f["code"], f["id"]) for f in made.json["findings"] if f["severity"] != "pass"]
    passes = {r["Check"]: int(r["Where"].split()[0]) for r in made.table("Findings", "Findings") if r["Kind"] == "Passes"}
    assert passes == Counter(f["code"] for f in made.json["findings"] if f["severity"] == "pass")
    keys = [r["Rule"] for r in made.table("Basis", "Rule values used")]
    assert keys == [v["key"] for v in made.json["rules"]["values_used"]]


def test_xlsx_formulas_are_in_the_bill_the_orders_and_the_summary_alone(made: Set) -> None:
    """What a user wrote is in none of them; the other sheets are plain figures."""
    pages = load_workbook(made.file("xlsx"), read_only=True).worksheets
    live = {s.title for s in pages if any(c.data_type == "f" for row in s.iter_rows() for c in row)}
    assert {"Bill", "Order list", "Call-off", "Summary"} <= live
    assert live <= {"Bill", "Order list", "Call-off", "Summary", "Measurement"}
