"""What holds for every check, and how findings are numbered, ordered and waived."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen import checks
from elevgen.core.discover import load_module, module_names
from elevgen.result import SEVERITIES, Design
from elevgen.spec.models import Waiver

NAMES = module_names(checks)
MODULES = [load_module(checks, name) for name in NAMES]
HOUSE = [
    {
        "id": "A",
        "type": "cavity",
        "start": [0, 0],
        "end": [10337.5, 0],
        "top": 2700,
        "openings": [
            {"id": "D1", "kind": "door", "at": 1347.5, "width": 910, "sill": 0, "height": 2110},
            {"id": "V1", "kind": "window", "at": 6072.5, "width": 1810, "sill": 900, "height": 1210},
        ],
    },
    {"id": "B", "type": "cavity", "start": [10337.5, 0], "end": [10337.5, 6515], "top": 2700},
]


@pytest.fixture(scope="module")
def house(build: Callable[..., Design]) -> Design:
    return build(HOUSE, {"A/outer": [4500], "A/inner": [4500]})


def waived(design: Design, *waivers: tuple[str, str]) -> Design:
    given = tuple(Waiver(finding=code, where=where, reason="tied to steel", by="engineer") for code, where in waivers)
    return replace(design, spec=design.spec.model_copy(update={"waivers": given}))


@pytest.mark.parametrize("name", NAMES)
def test_a_check_is_named_by_its_file_and_explained(name: str) -> None:
    module = load_module(checks, name)
    assert name.replace("_", "-") == module.CODE
    assert module.TITLE
    assert module.RATIONALE.endswith(".")


def test_codes_are_known_without_loading_checks() -> None:
    assert {load_module(checks, name).CODE for name in NAMES} == set(checks.codes()) - {"unused-waiver"}


def test_every_check_says_something_of_a_whole_building(house: Design) -> None:
    said = {f.code for f in checks.run_checks(house)}
    not_asked = {module.CODE for module in MODULES if not _asks(house, module)}
    assert not_asked, "some checks are of rules that only other countries have"
    of_the_plan = {"unused-waiver", "placement-relaxed"}
    assert set(checks.codes()) - said == of_the_plan | not_asked, "the plan of these tests has no proof"


def _asks(house: Design, module: Any) -> bool:
    """Whether the rule set has any rule of those a check is for; most are for whatever there is."""
    return any(key.startswith(getattr(module, "ASKED_BY", ("",))) for key in house.rules.values)


def test_findings_come_worst_first_with_ids_of_their_own(house: Design) -> None:
    findings = checks.run_checks(house)
    ranks = [SEVERITIES.index(f.severity) for f in findings]
    assert ranks == sorted(ranks)
    assert len({f.id for f in findings}) == len(findings)
    assert all(f.id.startswith(f"{f.code}:{f.where}") for f in findings)


def test_the_same_design_is_judged_the_same(house: Design) -> None:
    assert checks.run_checks(house) == checks.run_checks(house)


def test_a_waiver_keeps_the_finding_and_says_who_accepts_it(house: Design) -> None:
    before = [f for f in checks.run_checks(house) if f.code == "corner-distance" and f.severity == "fail"]
    assert [f.where for f in before] == ["A/inner corner with B/inner"]
    after = checks.run_checks(waived(house, ("corner-distance", "A")))
    assert [f.waiver for f in after if f.id == before[0].id] == ["tied to steel (engineer)"]
    assert [f.severity for f in after if f.id == before[0].id] == ["fail"]
    assert not [f for f in after if f.code == "unused-waiver"]


@pytest.mark.parametrize("where", ["", "A", "A/inner", "A/inner corner with B", "A/inner corner with B/inner", "J1"])
def test_a_waiver_holds_for_the_parts_of_a_place(house: Design, where: str) -> None:
    findings = checks.run_checks(waived(house, ("corner-distance", where)))
    minded = [f.where for f in findings if f.waiver and f.severity == "fail"]
    assert minded == ["A/inner corner with B/inner"]


@pytest.mark.parametrize("where", ["A/inn", "C", "10", "a", "J"])
def test_a_waiver_of_another_place_accepts_nothing_and_is_pointed_out(house: Design, where: str) -> None:
    findings = checks.run_checks(waived(house, ("corner-distance", where)))
    assert not [f for f in findings if f.waiver]
    assert [(f.severity, f.where) for f in findings if f.code == "unused-waiver"] == [("warn", where)]


def test_a_waiver_of_what_passes_is_unused(house: Design) -> None:
    findings = checks.run_checks(waived(house, ("area-balance", "")))
    assert [f.severity for f in findings if f.code == "unused-waiver"] == ["warn"]
    assert not [f for f in findings if f.waiver]


KEYS_OF = {
    "joint-spacing": "movement_joint.spacing.normal.clay",
    "corner-distance": "movement_joint.corner.fraction",
    "panel-ratio": "movement_joint.panel_ratio.aircrete",
    "joint-width": "movement_joint.width.nominal.aircrete",
    "joint-in-opening": "lintel.bearing.long",
    "lintel-bearing": "lintel.bearing.long",
    "opening-strip": "opening.pier.min",
    "opening-reinforced": "bed_reinforcement.reach",
    "reinforcement-lap": "bed_reinforcement.lap",
    "tie-spacing": "tie.spacing.vertical",
    "tie-density": "tie.density",
    "tie-length": "tie.length",
    "tie-in-beds": "tie.beds.tolerance",
    "tie-near-joint-and-reveal": "tie.edge.vertical",
    "piece-minimum": "bond.piece.min_fraction",
    "lap": "bond.lap.fraction",
    "joint-room": "bond.piece.min_fraction",
    "joint-both-leaves": "movement_joint.spacing.normal.aircrete",
    "beds-meet": "tie.beds.tolerance",
}


@pytest.mark.parametrize(("code", "key"), KEYS_OF.items())
def test_a_rule_taken_away_is_never_a_pass(house: Design, lacking: Callable[..., Design], code: str, key: str) -> None:
    """Whatever was judged by the rule is not checked without it; what did not need it stays as it was."""
    before = {f.id: f for f in checks.run_checks(house) if f.code == code}
    after = {f.id: f for f in checks.run_checks(lacking(house, key)) if f.code == code}
    assert any(f.severity == "not_checked" and key in f.text for f in after.values())
    still_passing = [f for f in after.values() if f.severity == "pass"]
    assert all(before[f.id].severity == "pass" and (f.source is None or f.source.key != key) for f in still_passing)


def test_a_short_return_is_not_checked_without_its_rule(build: Callable[..., Design], lacking: Callable[..., Design]) -> None:
    step = [
        {"id": "A", "type": "garden", "start": [0, 0], "end": [3000, 0], "top": 1800},
        {"id": "B", "type": "garden", "start": [3000, 0], "end": [3000, 500], "top": 1800},
        {"id": "C", "type": "garden", "start": [3000, 500], "end": [6000, 500], "top": 1800},
    ]
    findings = checks.run_checks(lacking(build(step), "movement_joint.short_return.clay"))
    assert [f.severity for f in findings if f.code == "short-return"] == ["not_checked"]
