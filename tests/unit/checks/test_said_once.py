"""What a rule set has no value for is said once: not at every wall, not for every rule of one kind."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from elevgen import checks, pipeline
from elevgen.result import Design
from elevgen.spec.models import Spec

MODULE = 203.2


def workshop(rules: str, outer: str, **leaf: Any) -> Spec:
    """Two walls round a corner with a window each; lengths on the module of either country's brick, mm."""
    window = {"kind": "window", "at": 10 * MODULE, "width": 6 * MODULE, "sill": 900, "height": 1200}
    return Spec.model_validate(
        {
            "spec": 1,
            "rules": rules,
            "leaves": {"a": {"zones": [{"unit": outer}], **leaf}},
            "wall_types": {"single": {"outer": "a"}},
            "walls": [
                {
                    "id": "S",
                    "type": "single",
                    "start": [0, 0],
                    "end": [40 * MODULE, 0],
                    "top": 2600,
                    "openings": [{"id": "V1", **window}],
                },
                {
                    "id": "E",
                    "type": "single",
                    "start": [40 * MODULE, 0],
                    "end": [40 * MODULE, 26 * MODULE],
                    "top": 2600,
                    "openings": [{"id": "V2", **window}],
                },
            ],
        }
    )


@pytest.fixture(scope="module")
def american() -> Design:
    return pipeline.design(workshop("us", "modular_brick", reinforced_every="16 in"))


@pytest.fixture(scope="module")
def australian() -> Design:
    return pipeline.design(workshop("au", "brick_76"))


@pytest.mark.parametrize("which", ["american", "australian"])
def test_nothing_unchecked_is_said_twice(which: str, request: pytest.FixtureRequest) -> None:
    findings = checks.run_checks(request.getfixturevalue(which))
    said = Counter((f.code, f.text) for f in findings if f.severity == "not_checked")
    assert said and max(said.values()) == 1
    assert len({f.id for f in findings}) == len(findings)


def test_the_one_finding_has_the_ids_of_all_places(american: Design) -> None:
    (thin,) = (f for f in checks.run_checks(american) if f.code == "reinforcement-in-bed" and f.severity == "not_checked")
    assert thin.where == "building" and thin.id == "reinforcement-in-bed:building"
    assert sorted(thin.leaves) == ["E/outer", "S/outer"]


def test_a_place_somebody_accepts_stays_by_itself(american: Design) -> None:
    waiver = {"finding": "reinforcement-in-bed", "where": "E", "reason": "thin wire", "by": "engineer"}
    spec = american.spec.model_copy(update={"waivers": (Spec.model_validate({**PLAIN, "waivers": [waiver]}).waivers[0],)})
    found = [f for f in checks.run_checks(pipeline.design(spec)) if f.code == "reinforcement-in-bed"]
    assert [(f.where, bool(f.waiver)) for f in found if f.severity == "not_checked"] == [("S/outer", False), ("E/outer", True)]
    assert not [f for f in found if f.code == "unused-waiver"]


PLAIN: dict[str, Any] = {
    "spec": 1,
    "leaves": {"a": {"zones": [{"unit": "brick_65"}]}},
    "wall_types": {"t": {"outer": "a"}},
    "walls": [{"id": "W", "type": "t", "start": [0, 0], "end": [1000, 0], "top": 900}],
}


@pytest.mark.parametrize(
    ("which", "words", "reason"),
    [
        ("american", "10 rules for the load triangle over lintels", "the load triangle is British practice"),
        (
            "australian",
            "10 rules for the load triangle over lintels and 6 rules for arching",
            "no Australian load triangle was seen",
        ),
    ],
)
def test_rules_of_one_kind_are_one_clause(which: str, words: str, reason: str, request: pytest.FixtureRequest) -> None:
    (lintels,) = (f for f in checks.run_checks(request.getfixturevalue(which)) if f.id == "rules-not-covered:lintels")
    assert words in lintels.text
    assert lintels.text.count(reason) == 1


@pytest.mark.parametrize("which", ["american", "australian"])
def test_a_reason_is_said_once_a_subject(which: str, request: pytest.FixtureRequest) -> None:
    design = request.getfixturevalue(which)
    found = [f for f in checks.run_checks(design) if f.code == "rules-not-covered"]
    assert found
    reasons = set(design.rules.not_covered.values())
    assert not [(f.where, reason) for f in found for reason in reasons if f.text.count(f"({reason})") > 1]


def test_lintel_loads_are_measured_again_without_a_load_triangle(american: Design) -> None:
    """The American set has no load triangle: the full load is checked all the same, and the rule that lacks is named."""
    found = [f for f in checks.run_checks(american) if f.code == "lintel-load"]
    assert {f.where for f in found if f.severity == "pass"} == {"S/outer", "E/outer"}
    (lacking,) = (f for f in found if f.severity == "not_checked")
    assert "least masonry at each side" in lacking.text and "enough masonry at each side" in lacking.text
    assert {load.used.method for load in american.fittings.lintel_loads if load.used} == {"full"}


@pytest.mark.parametrize(("rules", "unit", "cure"), [("us", "concrete_block_8", False), ("uk", "dense_block_100", True)])
def test_steel_is_no_cure_for_a_long_panel_where_the_spacing_asks_for_it(rules: str, unit: str, cure: bool) -> None:
    spec = workshop(rules, unit, reinforced_every=406.4)
    walls = [w.model_copy(update={"joints": (), "openings": (), "top": 1016.0}) for w in spec.walls]
    findings = checks.run_checks(pipeline.design(spec.model_copy(update={"walls": tuple(walls)})))
    long = [f for f in findings if f.code == "panel-ratio" and f.severity in ("fail", "warn") and "movement joint" in f.text]
    assert long
    assert all(("have its beds reinforced" in f.text) is cure for f in long)
