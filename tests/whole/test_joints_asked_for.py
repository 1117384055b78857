"""Joints placed by rules of other countries, judged by the checks that share no code with the placing."""

from __future__ import annotations

from typing import Any

import pytest

import elevgen
from elevgen.result import Design, Finding
from elevgen.spec.models import Spec

JUDGES = {
    "joint-spacing",
    "panel-ratio",
    "corner-distance",
    "joint-near-opening",
    "joint-in-opening",
    "joint-missing",
    "joint-room",
}
STEM = "movement_joint"
AUSTRALIAN: dict[str, Any] = {
    "corner.kind": "sum_round_corner",
    "corner.height_fraction": 1,
    "spacing.normal.clay": 6000,
    "spacing.limit.clay": 6000,
    "spacing.with_openings.clay": 5000,
    "with_openings.width": 900,
    "with_openings.height": 900,
    "at_opening.one_side.clay": 900,
    "at_opening.one_side.aircrete": 900,
    "at_opening.within": 1200,
}
AMERICAN: dict[str, Any] = {
    "corner.kind.clay": "one_side_within",
    "corner.within": 3048,
    "spacing.normal.clay": 7620,
    "spacing.limit.clay": 7620,
    "spacing.with_openings.clay": 6096,
    "with_openings.number": 2,
    "at_opening.both_sides.aircrete": 1829,
    "at_opening.one_side.aircrete": 0,
    "at_opening.within": 1400,
}


def opening(name: str, at: float, width: float, kind: str = "window") -> dict[str, Any]:
    low = {"sill": 0, "height": 2100} if kind == "door" else {"sill": 900, "height": 1200}
    return {"id": name, "kind": kind, "at": at, "width": width, **low}


def house(rules: dict[str, Any], *, partition: bool, joints: dict[str, Any] | None = None) -> Design:
    """Cavity walls round an L, openings of many widths, and a partition bonded in."""
    turns = [(0, 0), (14010, 0), (14010, 6090), (8300, 6090), (8300, 10210), (0, 10210)]
    openings: list[list[dict[str, Any]]] = [
        [opening("A1", 1400, 1810), opening("A2", 6000, 2410), opening("A3", 10900, 910, "door")],
        [opening("B1", 2200, 1210)],
        [],
        [opening("D1", 1500, 1210)],
        [opening("E1", 900, 610), opening("E2", 3400, 1810)],
        [opening("F1", 4100, 910, "door")],
    ]
    ends = [*turns[1:], turns[0]]
    walls: list[dict[str, Any]] = [
        {"id": f"W{n}", "type": "cavity", "start": list(a), "end": list(b), "base": -150, "top": 2700, "openings": made}
        | ({} if joints is None else {"joints": joints[f"W{n}"]})
        for n, (a, b, made) in enumerate(zip(turns, ends, openings, strict=True), start=1)
    ]
    if partition:
        walls.append({"id": "P", "type": "partition", "start": [5200, 302.5], "end": [5200, 9907.5], "base": -150, "top": 2700})
    spec = {
        "spec": 1,
        "overrides": [{"rule": f"{STEM}.{k}", "value": v, "reason": "another country's", "by": "test"} for k, v in rules.items()],
        "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}, "block": {"zones": [{"unit": "aircrete_block_100"}]}},
        "wall_types": {"cavity": {"outer": "brick", "inner": "block", "cavity": 100}, "partition": {"outer": "block"}},
        "walls": walls,
    }
    return elevgen.design(Spec.model_validate(spec))


def broken(design: Design) -> list[Finding]:
    """What the judges mind; a panel that only a stricter document would have shorter is none of it."""
    minded = [f for f in design.findings if f.code in JUDGES and f.severity in ("fail", "warn", "not_checked")]
    return [f for f in minded if (f.code, f.severity) != ("panel-ratio", "warn")]


@pytest.mark.parametrize("partition", [False, True], ids=["ring", "branched"])
@pytest.mark.parametrize("rules", [AUSTRALIAN, AMERICAN], ids=["australian", "american"])
def test_every_rule_is_kept_where_a_place_was_found(rules: dict[str, Any], partition: bool) -> None:
    design = house(rules, partition=partition)
    assert any(f.code == "joint-near-opening" and f.severity == "pass" for f in design.findings)
    relaxed = {r.where.split()[0] for p in design.plan.placements for r in p.relaxed}
    assert [(f.code, f.where, f.text) for f in broken(design) if not relaxed.intersection(f.leaves)] == []
    for placement in design.plan.placements:
        assert placement.lower_bound <= len(placement.joints)
        assert not placement.optimal or placement.lower_bound == len(placement.joints)
    assert house(rules, partition=partition).plan == design.plan


@pytest.mark.parametrize("rules", [AUSTRALIAN, AMERICAN], ids=["australian", "american"])
def test_every_joint_is_needed(rules: dict[str, Any]) -> None:
    """With all the joints given but one, a judge minds; one in four is tried."""
    placed = house(rules, partition=False)
    for left_out in placed.plan.joints[::4]:
        given: dict[str, list[dict[str, Any]]] = {wall.id: [] for wall in placed.building.walls}
        for joint in placed.plan.joints:
            if joint is not left_out:
                given[joint.wall].append({"at": joint.at, "leaf": joint.leaf.rsplit("/", 1)[1]})
        assert broken(house(rules, partition=False, joints=given)), (left_out.leaf, left_out.at, left_out.reason)
