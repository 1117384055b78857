"""Each rule a check reads taken away: what passed because of it passes no longer, and that it was not checked is said.

Driven by what the checks read over a set of buildings of every country, so it grows with both. Whether a finding rests on a
rule is found out, not listed: it cites it, or half or twice its value judges it otherwise.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any, NamedTuple

import pytest

from elevgen import checks, pipeline
from elevgen.checks._subjects import bearing_on
from elevgen.core.discover import load_module, module_names
from elevgen.core.errors import RuleNotCovered
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding
from elevgen.rules.keys import KEYS
from elevgen.rules.loader import country_ids, load_book
from elevgen.spec.models import Spec

sys.path.insert(0, str(Path(__file__).parent))

from test_rules_said import (
    WALLS_OF_EVERY_KIND,
    Watched,
    rendered_over_a_lower_roof,
    with_temperatures_of_the_air,
)

ROOT = Path(__file__).resolve().parents[3]
HARD = ("leg-of-675", "tied-nine-metres-as-built", "garden-wall", "parapet", "mixed-house")
ALL = [load_module(checks, name) for name in module_names(checks)]
ABOUT_RULES = ("rules-not-covered", "rules-not-applied")
CHECKS = [check for check in ALL if check.CODE not in ABOUT_RULES]
NOT_COVERED = next(check for check in ALL if check.CODE == "rules-not-covered")
SAID_ELSEWHERE = {
    (
        "corner-distance",
        "movement_joint.parapet.corner",
    ): "the corner's share of a parapet's spacing is as strict there, and is cited",
    (
        "corner-distance",
        "movement_joint.parapet.fraction",
    ): "the parapet's own distance to a corner is as strict there, and is cited",
    (
        "joint-width",
        "sealant.width.min",
    ): "too narrow to seal is a finding of its own; without the rule there is none, nor a pass",
}
"""Where the rule is named only among what the set does not cover, and why that is enough."""
RENUMBERED = {("joint-width", "sealant.width.min")}
"""A joint too narrow to seal is one more finding at its place: the others there get other ids, and do not rest on it."""


class Sought(Watched):
    """Values that remember too which of them were looked for."""

    def __contains__(self, key: object) -> bool:
        self.asked.add(str(key))
        return super().__contains__(key)


def house_of(country: str) -> Spec:
    """A house, a garden wall and a parapet of whatever units a country has; every material is in it."""
    units = {unit.material: name for name, unit in sorted(load_book(country).units.items(), reverse=True)}
    names = [units[material] for material in sorted(units)]
    leaves: dict[str, Any] = {name: {"zones": [{"unit": name}]} for name in names}
    leaves["steel"] = {
        "zones": [{"unit": names[0]}],
        "lintel": {"kind": "pressed_steel"},
        "reinforced_every": 450,
        "finish": "render",
    }
    types: dict[str, Any] = {f"single_{name}": {"outer": name} for name in names}
    types["cavity"] = {"outer": "steel", "inner": names[-1], "cavity": 75}
    window = {"id": "V1", "kind": "window", "at": 4045, "width": 1210, "sill": 900, "height": 1200}
    corners = ((0, 0), (13490, 0), (13490, 6290), (0, 6290))
    walls: list[dict[str, Any]] = [
        {"id": f"W{n}", "type": "cavity", "start": list(a), "end": list(b), "base": -225, "top": 3000}
        for n, (a, b) in enumerate(zip(corners, (*corners[1:], corners[0]), strict=True))
    ]
    walls[0]["openings"] = [window]
    walls[1]["stands"] = "parapet"
    for n, name in enumerate(names):
        single = {"type": f"single_{name}", "start": [0, 20000 + 3000 * n], "end": [14390, 20000 + 3000 * n], "top": 2400}
        stands = ("building", "free_standing", "parapet")[n % 3]
        walls.append(single | {"id": f"S{n}", "openings": [window | {"id": f"V{n + 2}"}], "stands": stands})
    return Spec.model_validate({"spec": 1, "rules": country, "leaves": leaves, "wall_types": types, "walls": walls})


def buildings(country: str) -> Iterator[Spec]:
    """The quickest first: what is judged in one is not judged again in the next."""
    yield house_of(country)
    if country == "uk":
        yield from (pipeline.load(ROOT / "tests" / "data" / "hard" / f"{name}.json") for name in HARD)
        yield rendered_over_a_lower_roof()
        yield with_temperatures_of_the_air()
        yield Spec.model_validate(WALLS_OF_EVERY_KIND)
    files = [*sorted((ROOT / "specs").glob("[!e]*.json")), *sorted((ROOT / "tests" / "data").glob("*-house.json"))]
    files += sorted((ROOT / "tests" / "data").glob("*-workshop.json"))
    yield from (spec for spec in map(pipeline.load, files) if spec.rules == country)


def judged(check: ModuleType, design: Design, values: Mapping[str, Sourced]) -> dict[str, Finding]:
    known = replace(design, rules=replace(design.rules, values=values))
    return {finding.id: finding for finding in checks._checked(check, known)}


class Case(NamedTuple):
    """A rule a check read in a building, what passed because of it, and what is said without it."""

    check: ModuleType
    key: str
    design: Design
    rested: dict[str, Finding]
    without: dict[str, Finding]

    @property
    def name(self) -> str:
        return f"{self.check.CODE} without {self.key}"

    def names_it(self, findings: Any) -> list[Finding]:
        """Those that say it was not checked."""
        words = self.key, KEYS[self.key].meaning
        return [f for f in findings if f.severity == "not_checked" and any(word in f.text for word in words)]

    @property
    def left(self) -> list[Finding]:
        """What passes all the same, with nothing said at that place and by no other rule."""
        said = self.names_it(self.without.values())
        passing = [self.without[name] for name in self.rested if name in self.without and self.without[name].severity == "pass"]
        return [f for f in passing if not any(_at(f, s) for s in said) and not self._by_another(f)]

    def _by_another(self, finding: Finding) -> bool:
        """Judged by another rule, which it cites, instead of this one, which it cited; or by a stricter limit."""
        before = self.rested[finding.id]
        was, now = before.source, finding.source
        if was is not None and was.key == self.key and now is not None and now.key != self.key:
            return True
        if before.limit is None or finding.limit is None:
            return False
        return finding.limit < before.limit if finding.operator == "<=" else finding.limit > before.limit

    @property
    def is_said(self) -> bool:
        """By the check itself, or among what the set does not cover."""
        lacking = {key: value for key, value in self.design.rules.values.items() if key != self.key}
        others = judged(NOT_COVERED, self.design, lacking).values()
        material = KEYS[self.key].meaning.rsplit(", ", 1)[0]
        return bool(self.names_it(self.without.values())) or any(
            material in f.text for f in others if f.severity == "not_checked"
        )


def _at(finding: Finding, said: Finding) -> bool:
    nowhere = not said.walls and not said.leaves
    return nowhere or bool(set(said.leaves) & set(finding.leaves)) or bool(set(said.walls) & set(finding.walls))


def rested_on(check: ModuleType, design: Design, key: str, base: dict[str, Finding]) -> dict[str, Finding]:
    """What passes because of a rule."""
    value = design.rules.values[key]
    rested = {name: f for name, f in base.items() if f.severity == "pass" and f.source is not None and f.source.key == key}
    if isinstance(value.value, int | float):
        for other in (value.value / 2, value.value * 2) if value.value else (1.0,):
            found = judged(check, design, {**design.rules.values, key: replace(value, value=other)})
            rested |= {
                name: f
                for name, f in base.items()
                if f.severity == "pass" and (found.get(name, f).severity, found.get(name, f).limit) != ("pass", f.limit)
            }
    return rested


@cache
def cases(country: str) -> tuple[Case, ...]:
    """Each check and each rule it read, in the first building where something passes because of it."""
    found: dict[tuple[str, str], Case] = {}
    for spec in buildings(country):
        design = pipeline.design(spec)
        for check in CHECKS:
            watched = Sought(design.rules.values)
            base = judged(check, design, watched)
            for key in sorted(watched.asked & set(design.rules.values)):
                if (check.CODE, key) in found or not (rested := rested_on(check, design, key, base)):
                    continue
                lacking = {name: value for name, value in design.rules.values.items() if name != key}
                found[check.CODE, key] = Case(check, key, design, rested, judged(check, design, lacking))
    return tuple(found.values())


@pytest.mark.parametrize("country", country_ids())
def test_what_passed_because_of_a_rule_does_not_pass_without_it(country: str) -> None:
    silent = {
        case.name: [finding.id for finding in case.left[:3]]
        for case in cases(country)
        if not KEYS[case.key].optional and (case.check.CODE, case.key) not in SAID_ELSEWHERE and case.left
    }
    assert not silent


@pytest.mark.parametrize("country", country_ids())
def test_a_rule_taken_away_is_named_unless_it_is_optional(country: str) -> None:
    assert [case.name for case in cases(country) if not KEYS[case.key].optional and not case.is_said] == []


def test_enough_rules_are_taken_away_to_mean_something() -> None:
    known = cases("uk")
    assert len(known) > 120
    assert len({case.check.CODE for case in known}) > 35


def test_what_is_excused_is_still_so() -> None:
    left = {(case.check.CODE, case.key) for case in cases("uk") if case.left and not KEYS[case.key].optional}
    assert set(SAID_ELSEWHERE) == left


@pytest.mark.parametrize("country", country_ids())
def test_a_building_designed_without_a_rule_says_so(country: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The stages too: a design is made and names what it lacked and bears on it, or is refused for want of that very rule."""
    house = house_of(country)
    spec = house.model_copy(update={"walls": (house.walls[0].model_copy(update={"end": (6290.0, 0.0)}),)})
    whole = load_book(country)
    used = sorted(value.key for value in pipeline.design(spec).rules_used)
    silent = []
    for key in used:
        values = {name: value for name, value in whole.values.items() if name != key}
        monkeypatch.setattr(pipeline, "load_book", lambda *_, v=values: replace(whole, values=v))
        try:
            design = pipeline.design(spec)
        except RuleNotCovered as refused:
            assert key in str(refused)
            continue
        material = KEYS[key].meaning.rsplit(", ", 1)[0]
        said = [f for f in design.findings if f.severity == "not_checked" and (key in f.text or material in f.text)]
        if not said and not KEYS[key].optional and bearing_on(design, [key]):
            silent.append(key)
    assert silent == []


@pytest.mark.parametrize("country", country_ids())
def test_what_rests_on_a_rule_names_it(country: str) -> None:
    """So that one that is from memory is not shown as read because another beside it was."""
    silent = {
        case.name: unnamed[:3]
        for case in cases(country)
        if (case.check.CODE, case.key) not in RENUMBERED
        and (unnamed := [name for name, f in case.rested.items() if case.key not in {value.key for value in f.rests_on}])
    }
    assert not silent
