"""What an American and an Australian see: the workbook's inputs in feet, and sheets that say what no rule could place."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.gauge import course_table
from elevgen.drawing.hold_points import hold_points
from elevgen.drawing.schedule_findings import finding_table
from elevgen.result import Design
from elevgen.spec.models import Spec
from elevgen.writers._xlsx_records import inputs

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def workshop() -> Design:
    return pipeline.design(pipeline.load(ROOT / "tests" / "data" / "us-workshop.json"))


def cottage(rules: str, **wall: Any) -> Design:
    """A straight cavity wall of bricks of its own with a door and a window."""
    openings = [
        {"id": "D1", "kind": "door", "at": 1345, "width": 910, "sill": 0, "height": 2100},
        {"id": "V1", "kind": "window", "at": 4045, "width": 1210, "sill": 900, "height": 1200},
    ]
    spec = {
        "spec": 1,
        "rules": rules,
        "units": {"own": {"material": "clay", "length": 215, "height": 65, "width": 102.5}},
        "leaves": {"a": {"zones": [{"unit": "own"}]}},
        "wall_types": {"cavity": {"outer": "a", "inner": "a", "cavity": 50}},
        "walls": [{"id": "W", "type": "cavity", "start": [0, 0], "end": [7190, 0], "top": 2700, "openings": openings, **wall}],
    }
    return pipeline.design(Spec.model_validate(spec))


def not_placed(design: Design) -> list[str]:
    facts = leaf_facts(design)[0]
    return [row.cells[1].split(":")[0] for row in finding_table(facts, "warn", "To look at").rows if row.cells[0] == "NOT PLACED"]


def cleaned(design: Design) -> str:
    (said,) = (row.cells[2] for row in hold_points(leaf_facts(design)[0]).rows if "Cavity kept clear" in row.cells[2])
    return said


def test_inputs_are_in_feet_where_the_building_is(workshop: Design) -> None:
    sheet = inputs(workshop)
    given = dict(sheet.blocks[0].rows)
    assert "feet and inches" in sheet.purpose
    assert given["walls[0].end[0]"] == "39' 11 5/8\""
    assert given["walls[0].openings[1].width"] == "2' 8 3/8\""
    assert given["leaves.backup.reinforced_every"] == "1' 4\""
    assert given["wall_types.front.cavity"] == '4 3/8"'
    assert (given["spec"], given["sheet.scale"]) == (1, 48), "no lengths"


def test_inputs_are_the_numbers_given_where_it_is_metric() -> None:
    design = cottage("uk", top=[[0, 2700], [7190, 3000]])
    given = dict(inputs(design).blocks[0].rows)
    assert (given["walls[0].end[0]"], given["walls[0].top[1][1]"], given["units.own.width"]) == (7190, 3000, 102.5)
    feet = design.spec.model_copy(update={"sheet": design.spec.sheet.model_copy(update={"lengths": "feet"})})
    shown = dict(inputs(replace(design, spec=feet)).blocks[0].rows)
    assert (shown["walls[0].top[1][1]"], shown["walls[0].openings[0].height"]) == ("9' 10 1/8\"", "6' 10 11/16\"")


def test_a_sheet_says_what_no_rule_could_place() -> None:
    assert not_placed(cottage("eu")) == ["Lintels", "Wall ties", "Reinforcement at openings"]
    assert not_placed(cottage("au")) == ["Reinforcement at openings"]
    assert not_placed(cottage("uk")) == []


def test_nothing_is_said_of_what_the_wall_has_no_need_of() -> None:
    assert not_placed(cottage("eu", openings=[])) == ["Wall ties"]


def test_a_cavity_without_ties_is_not_cleaned_at_their_rows() -> None:
    assert "as the leaves go up" in cleaned(cottage("eu"))
    assert "at every row of ties" in cleaned(cottage("uk"))


def test_courses_stand_two_to_a_row_in_feet_and_three_in_metric(workshop: Design) -> None:
    assert len(course_table(leaf_facts(workshop)[0]).columns) == 6
    assert len(course_table(leaf_facts(cottage("uk"))[0]).columns) == 9


def test_a_wall_too_short_to_keep_its_joints_off_both_corners_is_told_so() -> None:
    ends = [[0, 0], [4790, 0], [4790, 11990], [0, 11990]]
    walls = [
        {"id": f"W{n}", "type": "single", "start": a, "end": b, "top": 2666}
        for n, (a, b) in enumerate(zip(ends, [*ends[1:], ends[0]], strict=True))
    ]
    spec = {
        "spec": 1,
        "rules": "au",
        "leaves": {"a": {"zones": [{"unit": "brick_76"}]}},
        "wall_types": {"single": {"outer": "a"}},
        "walls": [
            *({**wall, "joints": [{"at": 2390}]} for wall in walls[::2]),
            *({**wall, "joints": [{"at": 1795}, {"at": 7000}]} for wall in walls[1::2]),
        ],
    }
    design = pipeline.design(Spec.model_validate(spec))
    found = [f for f in design.findings if f.code == "joint-clear-of-corner"]
    curable = {"W0/outer corner with W1/outer": "W1", "W2/outer corner with W3/outer": "W3"}
    assert len(found) == 4
    for finding in found:
        long = curable.get(finding.where)
        assert finding.severity == ("warn" if long else "note")
        assert "is so far from its corners" in finding.text
        nearest = next((j.id for j in design.plan.joints if j.wall == long and j.id in finding.joints), "")
        assert (f"move {nearest} further along" in finding.text) == (long is not None)
