"""A finding that rests on several rules says how surely the least sure of them is known."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.checks._finding import BUILDING, beside, found
from elevgen.cli import _finding_text
from elevgen.core.sourced import OVERRIDE, STATUSES, SUREST_FIRST, Sourced, Status, least_sure
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.schedule_findings import finding_table
from elevgen.result import Finding
from elevgen.spec.models import Spec
from elevgen.writers._xlsx_records import findings


def rule(key: str, status: Status, document: str = "Code", clause: str = "1") -> Sourced:
    return Sourced(key, 1.0, "mm", document, "2020", clause, status)


def resting_on(*statuses: Status) -> Finding:
    source, *also = (rule(f"r{n}", status, clause=str(n)) for n, status in enumerate(statuses))
    return found("warn", BUILDING, "too near", source=source, also=also)


def test_every_status_has_its_place_and_memory_is_last() -> None:
    assert sorted(SUREST_FIRST) == sorted(STATUSES)
    assert (SUREST_FIRST[0], SUREST_FIRST[-1]) == ("read", "memory")


@pytest.mark.parametrize("statuses", list(permutations(("read", "quoted", "memory"))))
def test_one_rule_from_memory_among_others_is_said_whichever_it_is(statuses: tuple[Status, ...]) -> None:
    finding = resting_on(*statuses)
    assert finding.record()["least_sure"] == "memory"
    assert finding.record()["status"] == statuses[0]
    assert finding.doubt == ("from memory, check" if statuses[0] == "memory" else "partly from memory, check")


def test_surer_ones_leave_no_doubt() -> None:
    finding = resting_on("read", "practice", "derived", "quoted")
    assert (finding.doubt, finding.record()["least_sure"]) == ("", "practice")
    assert least_sure([]) is None


def test_what_the_spec_gives_is_as_sure_as_what_was_read() -> None:
    given = replace(rule("g", "practice"), document=f"{OVERRIDE}engineer")
    quoted = rule("q", "quoted")
    assert least_sure([given, quoted]) is quoted
    assert least_sure([given]) is given


def test_a_text_that_says_so_already_does_not_say_it_twice() -> None:
    told = found("warn", BUILDING, "so deep (from memory, check)", source=rule("a", "read"), also=[rule("b", "memory")])
    assert told.doubt == ""


def test_a_finding_of_one_rule_is_as_it_was() -> None:
    finding = resting_on("quoted")
    assert finding.also == ()
    assert finding.citation == finding.source.citation if finding.source else False
    assert (finding.doubt, finding.record()["also"], finding.record()["least_sure"]) == ("", [], "quoted")
    bare = found("fail", BUILDING, "no ties")
    assert (bare.citation, bare.doubt, bare.record()["least_sure"]) == (None, "", None)


def test_each_rule_is_named_once_and_the_cited_one_first() -> None:
    a, b, c = rule("a", "read"), rule("b", "memory", "Guide"), rule("c", "memory", "Guide")
    finding = beside(found("fail", BUILDING, "x", source=a, also=(b, None, a)), b, c, None)
    assert [value.key for value in finding.rests_on] == ["a", "b", "c"]
    assert finding.citation == "Code, 2020, 1 (read in the document); with Guide, 2020, 1 (from memory, check)"


def with_a_window(**more: Any) -> Spec:
    """Brickwork 12 m long with a wide opening and no joint: that an opening asks for one, and how near, are two rules of au."""
    hole = {"id": "W1", "kind": "window", "at": 3000, "width": 1800, "sill": 860, "height": 1204}
    wall = {"id": "A", "type": "one", "start": [0, 0], "end": [12000, 0], "top": 2580, "openings": [hole], "joints": []}
    leaves = {"one": {"zones": [{"unit": "brick_76"}]}}
    return Spec.model_validate(
        {"spec": 1, "rules": "au", "leaves": leaves, "wall_types": {"one": {"outer": "one"}}, "walls": [wall], **more}
    )


def test_a_spacing_asks_by_what_makes_a_wall_one_with_openings_too() -> None:
    """5 m with openings, one over 900 mm (both quoted), and from one on (worked out) in place of 6 m: four rules."""
    design = pipeline.design(with_a_window())
    (finding,) = [f for f in design.findings if f.code == "joint-spacing"]
    assert finding.severity == "fail"
    keys = {rule.key.removeprefix("movement_joint.") for rule in finding.rests_on}
    assert keys == {
        "spacing.with_openings.clay",
        "spacing.normal.clay",
        "with_openings.number",
        "with_openings.width",
        "with_openings.height",
    }
    behind = {value.key for value in design.rules_behind}
    assert {value.key for value in finding.rests_on} <= behind


def test_terminal_sheets_and_workbook_say_partly_from_memory() -> None:
    """Given by the spec how near: that the opening asks at all is still from memory."""
    near = {"rule": "movement_joint.at_opening.within", "value": 1.0, "unit": "m", "reason": "nearer", "by": "engineer"}
    design = pipeline.design(with_a_window(overrides=[near]))
    (finding,) = [f for f in design.findings if f.code == "joint-near-opening"]
    assert finding.severity == "fail"
    assert finding.source is not None and finding.source.is_given
    assert "[partly from memory, check]" in _finding_text(finding)
    (row,) = [row for row in findings(design).blocks[0].rows if row[1] == "joint-near-opening"]
    assert "from memory, check" in str(row[6]) and "given in the spec" in str(row[6])
    (facts,) = leaf_facts(design)
    assert any("[partly from memory, check]" in str(row.cells[1]) for row in finding_table(facts, "fail", "").rows)
