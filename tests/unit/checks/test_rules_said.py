"""Rules without a value, and rules nobody looks at: each is said where it bears on the building, and only there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import product
from pathlib import Path
from typing import Any

import pytest

from elevgen import checks, pipeline
from elevgen.checks._subjects import bearing_on
from elevgen.checks.rules_not_applied import UNREAD
from elevgen.result import Design, Finding
from elevgen.rules.key import COLOURS
from elevgen.rules.keys import KEYS, MATERIALS
from elevgen.spec.models import Spec
from elevgen.takeoff.measure import measure

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

ROOT = Path(__file__).resolve().parents[3]
WINDOW = {"id": "V1", "kind": "window", "at": 3022.5, "width": 1210, "sill": 900, "height": 1200}
GARDEN: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [8090, 0], "top": 1800}
OUTER: list[dict[str, Any]] = [
    {"id": "W1", "type": "cavity", "start": [0, 0], "end": [9300, 0], "top": 2700, "openings": [WINDOW]},
    {"id": "W2", "type": "cavity", "start": [9300, 0], "end": [9300, 6100], "top": 2700},
    {"id": "W3", "type": "cavity", "start": [9300, 6100], "end": [0, 6100], "top": 2700},
    {"id": "W4", "type": "cavity", "start": [0, 6100], "end": [0, 0], "top": 2700},
]
KINDS = ("brick_65", "dense_block_100", "aircrete_block_100", "thick_block", "thick_aircrete")
WALLS_OF_EVERY_KIND: dict[str, Any] = {
    "spec": 1,
    "units": {
        "thick_block": {"material": "dense_concrete", "length": 440, "height": 215, "width": 215},
        "thick_aircrete": {"material": "aircrete", "length": 440, "height": 215, "width": 215},
    },
    "leaves": {
        f"{unit}_{every}": {"zones": [{"unit": unit}], "reinforced_every": every} for unit in KINDS for every in (225, 450)
    },
    "wall_types": {f"{unit}_{every}": {"outer": f"{unit}_{every}"} for unit in KINDS for every in (225, 450)}
    | {"cavity": {"outer": "brick_65_225", "inner": "brick_65_450", "cavity": 75}},
    "walls": [{"id": "W0", "type": "brick_65_225", "start": [6300, 2000], "end": [9000, 2000], "top": 1800}]
    + [{"id": "WC", "type": "cavity", "start": [12000, 2000], "end": [15000, 2000], "top": 900, "stands": "parapet"}]
    + [
        {"id": f"W{n}", "type": f"{unit}_{every}", "start": [0, 2000 * n], "end": [6300, 2000 * n], "top": 1800, "stands": stands}
        for n, (unit, every, stands) in enumerate(product(KINDS, (225, 450), ("building", "parapet", "free_standing")), start=1)
    ],
}
PARTITION = {"id": "P", "type": "partition", "start": [2700, 302.5], "end": [2700, 5797.5], "top": 2700}


@pytest.fixture(scope="module")
def house(build: Build) -> Design:
    return build(
        [*OUTER, PARTITION],
        {"W1/outer": [6000.0], "W1/inner": [6000.0]},
        junctions=[{"walls": ["W1", "P"], "leaf": "inner", "connection": "tied"}],
    )


def said(findings: list[Finding]) -> dict[str, str]:
    assert {f.severity for f in findings} <= {"not_checked"}
    return {f.where: f.text for f in findings}


def test_a_garden_wall_is_told_nothing_of_openings_lintels_ties_and_parapets(build: Build, found: Found) -> None:
    lacking = said(found(build([GARDEN]), "rules-not-covered"))
    assert set(lacking) == {"movement joints"}
    assert KEYS["movement_joint.free_standing.fraction"].meaning in lacking["movement joints"]
    assert "thermal" not in lacking["movement joints"], "there is no joint whose width could be calculated"
    assert not found(build([GARDEN]), "rules-not-applied")


def test_what_bears_on_a_house_is_grouped_by_subject_with_its_reasons(house: Design, found: Found) -> None:
    lacking = said(found(house, "rules-not-covered"))
    assert set(lacking) == {"movement joints", "bed reinforcement", "lintels"}
    assert "in aircrete (no document seen names aircrete)" in lacking["movement joints"]
    assert KEYS["sealant.movement_capability"].meaning in lacking["movement joints"]
    assert "stone" not in lacking["movement joints"]
    assert KEYS["movement_joint.free_standing.fraction"].meaning not in lacking["movement joints"]
    for key in ("bed_reinforcement.wire.min", "bed_reinforcement.joint_clearance"):
        assert f"{KEYS[key].meaning} ({house.rules.not_covered[key]})" in lacking["bed reinforcement"]


def test_a_rule_taken_away_is_said_and_given_back_is_not(house: Design, lacking: Callable[..., Design], found: Found) -> None:
    assert "waste" not in said(found(house, "rules-not-covered"))
    assert set(said(found(lacking(house, "waste.ties"), "rules-not-covered"))) - set(said(found(house, "rules-not-covered"))) == {
        "waste"
    }


def unread(monkeypatch: pytest.MonkeyPatch, house: Design, *keys: str) -> Design:
    """The house as if no stage and no check read some rules; there are none such now."""
    assert UNREAD == ()
    monkeypatch.setattr("elevgen.checks.rules_not_applied.UNREAD", keys)
    return replace(house, rules_used=tuple(value for value in house.rules_used if value.key not in keys))


def test_rules_nobody_looks_at_are_said_with_value_and_source(
    monkeypatch: pytest.MonkeyPatch, house: Design, found: Found
) -> None:
    assert not found(house, "rules-not-applied")
    keys = ("tray.rise", "tie.embedment", "dpc.coping.barred")
    findings = found(unread(monkeypatch, house, *keys), "rules-not-applied")
    seen_to_by_others = said(findings)
    assert set(seen_to_by_others) == {"damp-proofing", "wall ties"}, "no coping here"
    everything = " ".join(seen_to_by_others.values())
    for key in keys[:2]:
        value = house.rules.values[key]
        assert KEYS[key].meaning in everything
        assert f"{value.number:g}" in everything
        assert value.citation in everything
    assert all(f.source is not None for f in findings)


def test_a_rule_some_stage_has_read_is_applied(monkeypatch: pytest.MonkeyPatch, house: Design, found: Found) -> None:
    bare = unread(monkeypatch, house, "tray.rise")
    assert KEYS["tray.rise"].meaning in said(found(bare, "rules-not-applied"))["damp-proofing"]
    read = replace(bare, rules_used=(*bare.rules_used, house.rules.values["tray.rise"]))
    assert [f.severity for f in found(read, "rules-not-applied", everything=True)] == ["pass"]


@pytest.mark.parametrize(
    ("key", "wall", "leaf"),
    [
        ("movement_joint.parapet.fraction", {"stands": "parapet"}, {}),
        ("movement_joint.spacing.reinforced_225.clay", {}, {"reinforced_every": 225}),
    ],
)
def test_a_rule_bears_on_walls_said_to_be_of_that_kind(
    build: Build, found: Found, lacking: Callable[..., Design], key: str, wall: dict[str, Any], leaf: dict[str, Any]
) -> None:
    leaves = {"brick": {"zones": [{"unit": "brick_65"}]} | leaf, "block": {"zones": [{"unit": "aircrete_block_100"}]}}
    meaning = KEYS[key].meaning.removesuffix(", clay")
    of_kind, other = build([GARDEN | wall], leaves=leaves), build([GARDEN])
    assert meaning in said(found(lacking(of_kind, key), "rules-not-covered"))["movement joints"]
    assert meaning not in said(found(lacking(other, key), "rules-not-covered"))["movement joints"]
    assert meaning not in said(found(of_kind, "rules-not-covered"))["movement joints"]


def test_every_key_has_a_subject(house: Design) -> None:
    bearing = bearing_on(house, KEYS)
    elsewhere = set(MATERIALS) - {"clay", "aircrete"}
    unused = ("movement_joint.free_standing.", "movement_joint.parapet.", "movement_joint.spacing.reinforced_")
    unused += ("dpc.coping.", "tray.abutment.", "tray.step.", "finish.", "bed_reinforcement.parapet.")
    expected = {key for key in KEYS if key.rsplit(".", 1)[-1] not in elsewhere and not key.startswith(unused)}
    assert {key for keys in bearing.values() for key in keys} == expected


class Watched(dict[str, Any]):
    """Values that remember which of them were asked for."""

    def __init__(self, values: Any) -> None:
        super().__init__(values)
        self.asked: set[str] = set()

    def __getitem__(self, key: str) -> Any:
        self.asked.add(key)
        return super().__getitem__(key)

    def get(self, key: str, default: Any = None) -> Any:
        self.asked.add(key)
        return super().get(key, default)


def with_temperatures_of_the_air() -> Spec:
    """Garden walls of every colour and of none said, in a place whose temperatures are given; lintels of three kinds."""
    air = "movement.temperature.air."
    given = {"reason": "map of the place", "by": "designer"}
    colours = {f"{colour}": {"zones": [{"unit": "brick_65"}], "colour": colour} for colour in COLOURS}
    lintels = {
        "steel": {"kind": "pressed_steel"},
        "cast": {"kind": "concrete", "depth": 140},
        "hewn": {"kind": "stone", "depth": 140},
    }
    leaves = colours | {name: {"zones": [{"unit": "brick_65"}], "lintel": lintel} for name, lintel in lintels.items()}
    return Spec.model_validate(
        {
            "spec": 1,
            "overrides": [{"rule": f"{air}hottest", "value": 33, **given}, {"rule": f"{air}coldest", "value": -9, **given}],
            "leaves": leaves,
            "wall_types": {name: {"outer": name} for name in leaves},
            "walls": [
                {"id": f"G{n}", "type": name, "start": [0, 5000 * n], "end": [13000, 5000 * n], "top": 5000}
                | ({"openings": [WINDOW]} if name in lintels else {})
                for n, name in enumerate(leaves)
            ],
        }
    )


def rendered_over_a_lower_roof() -> Spec:
    """A rendered cavity wall with a window and a joint, over a roof that slopes against it."""
    return Spec.model_validate(
        {
            "spec": 1,
            "leaves": {
                "outer": {"zones": [{"unit": "brick_65"}], "finish": "render"},
                "inner": {"zones": [{"unit": "aircrete_block_100"}]},
            },
            "wall_types": {"cavity": {"outer": "outer", "inner": "inner", "cavity": 100}},
            "walls": [
                {"id": "W1", "type": "cavity", "start": [0, 0], "end": [9000, 0], "base": -225, "top": 5400, "openings": [WINDOW]}
                | {"joints": [{"at": 6000}], "abutments": [{"line": [[6300, 3300], [8100, 2400]]}]}
            ],
        }
    )


def walls_that_rules_of_thumb_are_printed_for() -> Spec:
    """A wall one brick thick, and one of blocks 140 mm thick, each of one kind of unit."""
    leaves = {
        "brick": {"zones": [{"unit": "brick_65"}], "build": "one_brick", "bond": "english"},
        "block": {"zones": [{"unit": "dense_block_140"}]},
    }
    walls = [
        {"id": f"W{n}", "type": name, "start": [0, 3000 * n], "end": [4490, 3000 * n], "top": 1800}
        for n, name in enumerate(leaves)
    ]
    types = {name: {"outer": name} for name in leaves}
    return Spec.model_validate({"spec": 1, "leaves": leaves, "wall_types": types, "walls": walls})


def test_no_rule_is_held_in_silence(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every value of the set is read by a stage, by a check or in measuring, or is among those said to be left to others."""
    monkeypatch.setattr("elevgen.checks.rules_not_applied.UNREAD", ())
    read: set[str] = set()
    files = [pipeline.load(file) for file in (ROOT / "specs" / "studio.json", ROOT / "tests" / "data" / "duplex.json")]
    for design in map(
        pipeline.design,
        [
            *(*files, Spec.model_validate(WALLS_OF_EVERY_KIND), with_temperatures_of_the_air()),
            *(rendered_over_a_lower_roof(), walls_that_rules_of_thumb_are_printed_for()),
        ],
    ):
        watched = Watched(design.rules.values)
        checks.run_checks(replace(design, rules=replace(design.rules, values=watched)))
        measure(replace(design, rules=replace(design.rules, values=watched)))
        read |= watched.asked | {value.key for value in design.rules_used}
    elsewhere = set(MATERIALS) - {"clay", "dense_concrete", "aircrete"}
    assert {key for key in watched if key.rsplit(".", 1)[-1] not in elsewhere} - read == set(UNREAD)
