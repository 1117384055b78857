"""Changes of height, thickness, material and age without a movement joint, each with its repair and at its limit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
Lacking = Callable[..., Design]

CODE = "joint-missing"
HEIGHT, THICKNESS = "movement_joint.change_of_height", "movement_joint.change_of_thickness"
UNLIKE, OLD_TO_NEW = "movement_joint.unlike_materials", "movement_joint.old_to_new"
MORE: dict[str, Any] = {
    "leaves": {
        "brick": {"zones": [{"unit": "brick_65"}]},
        "block": {"zones": [{"unit": "dense_block_100"}]},
        "thick": {"zones": [{"unit": "dense_block_140"}]},
        "wide": {"zones": [{"unit": "wide"}]},
        "stone": {"zones": [{"unit": "stone_100"}]},
        "plinth": {"zones": [{"unit": "brick_65", "to": 600}, {"unit": "dense_block_100"}]},
    },
    "units": {"wide": {"material": "clay", "length": 215, "height": 65, "width": 152.5}},
    "wall_types": {name: {"outer": name} for name in ("brick", "block", "thick", "wide", "stone", "plinth")},
}


def wall(wall_id: str, start: tuple[float, float], end: tuple[float, float], kind: str = "brick", **more: Any) -> dict[str, Any]:
    return {"id": wall_id, "type": kind, "start": list(start), "end": list(end), "top": 2700} | more


def pair(first: dict[str, Any], second: dict[str, Any], connection: str = "bonded") -> dict[str, Any]:
    """Two walls whose connection the spec states, and the makings of their leaves."""
    return {"walls": [first, second], "junctions": [{"walls": [first["id"], second["id"]], "connection": connection}]} | MORE


def with_rule(design: Design, key: str, word: str) -> Design:
    value: Sourced = replace(design.rules.values[key], value=word)
    return replace(design, rules=replace(design.rules, values={**design.rules.values, key: value}))


# steps within a wall


def stepped(by: float, **more: Any) -> list[dict[str, Any]]:
    return [wall("A", (0, 0), (7310, 0), top=[[0, 3600], [4275, 3600], [4275, 3600 - by], [7310, 3600 - by]]) | more]


@pytest.mark.parametrize(("by", "fails"), [(900, False), (901, True), (-900, False), (-1350, True)])
def test_a_step_in_the_top(build: Build, found: Found, by: float, fails: bool) -> None:
    """Twelve courses of brick, 900 mm: common practice."""
    findings = found(build(stepped(by), **MORE), CODE)
    assert [(f.severity, f.where, f.measured, f.limit) for f in findings] == (
        [("fail", "A/outer step at 4275", pytest.approx(abs(by)), 900)] if fails else []
    )
    assert not fails or "put one at the step, 4275 mm along the wall" in findings[0].text


@pytest.mark.parametrize(("at", "repaired"), [(4275, True), (4500, True), (4500.1, False), (4050, True), (4049.9, False)])
def test_its_repair_is_a_joint_within_a_brick_of_it(build: Build, found: Found, at: float, repaired: bool) -> None:
    """A brick and its perpend: 225 mm."""
    (finding,) = found(build(stepped(1350), {"A/outer": [at]}, **MORE), CODE, everything=True)
    assert (finding.severity, finding.joints) == (("pass", ("J1",)) if repaired else ("fail", ()))


def test_a_joint_that_stops_short_does_not_part_a_step(build: Build, found: Found) -> None:
    good = build(stepped(1350), {"A/outer": [4275]}, **MORE)
    short = tuple(replace(joint, levels=Span(300, 3600)) for joint in good.plan.joints)
    assert [f.severity for f in found(replace(good, plan=replace(good.plan, joints=short)), CODE)] == ["fail"]


def test_a_step_over_a_window(build: Build, found: Found) -> None:
    """From 3000 to 4810 with its lintel 150 mm further on each side; a joint within a brick of that is the next best."""
    window = {"id": "V1", "kind": "window", "at": 3000, "width": 1810, "sill": 900, "height": 1110}
    walls = stepped(1350, openings=[window])
    for at, severity in (
        (None, "fail"),
        (2300.0, "fail"),
        (2626.0, "warn"),
        (2800.0, "warn"),
        (5180.0, "warn"),
        (5190.0, "fail"),
    ):
        (finding,) = found(build(walls, {"A/outer": [at]} if at else {}, **MORE), CODE)
        assert (finding.severity, finding.openings) == (severity, ("V1",))
        assert finding.joints == (("J1",) if severity == "warn" else ())
    assert "V1 is in the way of a movement joint: move the step or the opening, or put one just beside it" in finding.text


def test_a_step_in_the_base(build: Build, found: Found) -> None:
    base = [[0, 0], [2900, 0], [2900, -1050], [7310, -1050]]
    (finding,) = found(build([wall("A", (0, 0), (7310, 0), base=base)], **MORE), CODE)
    assert (finding.severity, finding.where, finding.measured) == ("fail", "A/outer step at 2900", pytest.approx(1050))
    assert "its base steps by 1.05 m" in finding.text


def test_a_step_near_the_end_of_a_wall_is_where_it_is(build: Build, found: Found) -> None:
    top = [[0, 3600], [100, 3600], [100, 1800], [7310, 1800]]
    (finding,) = found(build([wall("A", (0, 0), (7310, 0), top=top)], **MORE), CODE)
    assert finding.where == "A/outer step at 100"


def test_a_slope_is_no_step_but_an_upright_one_is(build: Build, found: Found) -> None:
    """From 3600 to 1800 over 225 mm, a brick: a step. Over 226 mm: a steep slope."""
    for run, fails in ((0.0, True), (225.0, True), (226.0, False), (3000.0, False)):
        top = [[0, 3600], [2900, 3600], [2900 + run, 1800], [7310, 1800]]
        assert bool(found(build([wall("A", (0, 0), (7310, 0), top=top)], **MORE), CODE)) == fails


def test_crow_steps_of_a_gable_are_each_judged_by_themselves(build: Build, found: Found) -> None:
    """Six steps of 300 mm, one every 450 mm; and two of 600 mm 100 mm apart, which are one of 1200 mm."""
    crows = [[0, 3600]]
    for n in range(6):
        crows += [[900 + 450 * n, 3600 - 300 * n], [900 + 450 * n, 3300 - 300 * n]]
    assert not found(build([wall("A", (0, 0), (7310, 0), top=[*crows, [7310, 1800]])], **MORE), CODE)
    close = [[0, 3600], [900, 3600], [900, 3000], [1000, 3000], [1000, 2400], [7310, 2400]]
    (finding,) = found(build([wall("A", (0, 0), (7310, 0), top=close)], **MORE), CODE)
    assert finding.measured == pytest.approx(1200)


def test_a_merlon_stands_over_both_its_steps(build: Build, found: Found) -> None:
    top = [[0, 1800], [2000, 1800], [2000, 3000], [4000, 3000], [4000, 1800], [7310, 1800]]
    findings = found(build([wall("A", (0, 0), (7310, 0), top=top)], **MORE), CODE)
    assert [f.where for f in findings] == ["A/outer step at 2000", "A/outer step at 4000"]
    (left,) = found(build([wall("A", (0, 0), (7310, 0), top=top)], {"A/outer": [2000]}, **MORE), CODE)
    assert left.where == "A/outer step at 4000"


# walls in line


def in_line(kind: str = "brick", **more: Any) -> tuple[dict[str, Any], dict[str, Any]]:
    return wall("A", (0, 0), (4265, 0)), wall("B", (4265, 0), (7310, 0), kind, **more)


@pytest.mark.parametrize(("more", "by"), [({"top": 3601}, 901), ({"base": -1200}, 1200), ({"top": 3600, "base": -900}, None)])
def test_a_wall_that_runs_on_higher_or_lower(build: Build, found: Found, more: dict[str, Any], by: float | None) -> None:
    findings = found(build(**pair(*in_line(**more))), CODE)
    assert [(f.severity, f.walls, f.measured) for f in findings] == ([("fail", ("A", "B"), pytest.approx(by))] if by else [])


@pytest.mark.parametrize(("kind", "by"), [("wide", 50), ("thick", 37.5)])
def test_a_little_thicker_is_no_change(build: Build, found: Found, kind: str, by: float) -> None:
    design = build(**pair(*in_line(kind)))
    leaves = [leaf.thickness for leaf in design.building.leaves]
    assert leaves[1] - leaves[0] == pytest.approx(by)
    assert not [f for f in found(design, CODE) if f.source and f.source.key == THICKNESS]


def test_a_wall_that_runs_on_thicker(build: Build, found: Found) -> None:
    """A brick wide against one and a half: 102.5 and 153 mm, 50.5 mm more; 50 is common practice."""
    units = {"wide": {"material": "clay", "length": 215, "height": 65, "width": 153}}
    (finding,) = found(build(**pair(*in_line("wide")) | {"units": units}), CODE)
    assert (finding.severity, finding.measured, finding.limit) == ("fail", pytest.approx(50.5), 50)
    assert "102.5 mm and 153 mm thick" in finding.text
    assert not found(build(**pair(*in_line("wide"), "jointed") | {"units": units}), CODE)
    assert not found(build(**pair(*in_line("wide")) | {"units": units}, joints={"B/outer": [200.0]}), CODE)


def test_a_corner_may_change_thickness_and_height(build: Build, found: Found) -> None:
    """Round a corner, or at a tee, the two are different walls anyhow."""
    units = {"wide": {"material": "clay", "length": 215, "height": 65, "width": 215}}
    first, second = wall("A", (0, 0), (4265, 0)), wall("B", (4265, 0), (4265, 3045), "wide", top=4800)
    assert not found(build(**pair(first, second) | {"units": units}), CODE)
    assert not found(build(**pair(first, wall("B", (2100, 102.5), (2100, 3045), "wide", top=4800)) | {"units": units}), CODE)


# unlike materials


@pytest.mark.parametrize(
    ("kind", "fails"), [("block", True), ("stone", False), ("brick", False)], ids=["clay and blocks", "clay and stone", "alike"]
)
def test_what_grows_and_what_shrinks(build: Build, found: Found, kind: str, fails: bool) -> None:
    corner = wall("A", (0, 0), (4265, 0)), wall("B", (4265, 0), (4265, 3045), kind)
    for connection in ("bonded", "tied"):
        findings = found(build(**pair(*corner, connection)), CODE)
        assert [f.severity for f in findings] == (["fail"] if fails else [])
    (finding,) = found(build(**pair(*corner, "jointed")), CODE, everything=True)
    assert finding.severity == "pass"


@pytest.mark.parametrize(("word", "fails"), [("none", False), ("any_two", True), ("clay_with_shrinking", False)])
def test_by_the_word_of_the_rule(build: Build, found: Found, word: str, fails: bool) -> None:
    """Clay and stone: neither shrinks."""
    design = build(**pair(wall("A", (0, 0), (4265, 0)), wall("B", (4265, 0), (4265, 3045), "stone")))
    assert bool(found(with_rule(design, UNLIKE, word), CODE)) == fails


def test_a_plinth_of_another_material_is_not_most_of_the_height(build: Build, found: Found) -> None:
    """Bricks to 600 mm and blocks over them: unlike a block wall over 600 of 2700 mm, unlike a brick wall over 2100."""
    for kind, fails in (("block", False), ("brick", True)):
        design = build(**pair(wall("A", (0, 0), (4265, 0), "plinth"), wall("B", (4265, 0), (4265, 3045), kind)))
        findings = found(design, CODE)
        assert bool(findings) == fails
    assert findings[0].text.startswith("dense concrete of A/outer meets clay of B/outer")


@pytest.mark.parametrize(("leaf", "at", "repaired"), [("B/outer", 250, True), ("A/outer", 2132, False), ("B/outer", 900, False)])
def test_a_joint_in_the_stem_of_a_tee_beside_its_host(build: Build, found: Found, leaf: str, at: float, repaired: bool) -> None:
    """A joint in the host, even right at the tee, leaves the stem bonded to one side of it."""
    tee = wall("A", (0, 0), (4265, 0)), wall("B", (2132, 102.5), (2132, 3045), "block")
    assert [f.severity for f in found(build(**pair(*tee)), CODE)] == ["fail"]
    assert bool(found(build(**pair(*tee), joints={leaf: [at]}), CODE)) != repaired


def test_either_leaf_of_a_corner_may_have_the_joint(build: Build, found: Found) -> None:
    corner = wall("A", (0, 0), (4265, 0)), wall("B", (4265, 0), (4265, 3045), "block")
    for joints in ({"A/outer": [4000.0]}, {"A/outer": [3713.0]}, {"B/outer": [330.0]}):
        assert not found(build(**pair(*corner), joints=joints), CODE)
    assert found(build(**pair(*corner), joints={"A/outer": [3712.0]}), CODE), "a block and the thickness of the wall: 552.5 mm"


def test_a_wall_that_runs_through_another_is_met_on_both_sides(build: Build, found: Found) -> None:
    cross = wall("A", (0, 0), (4265, 0)), wall("B", (2132, -1400), (2132, 1800), "block")
    design = build(**pair(*cross))
    (through,) = [m for m in design.building.meetings if m.kind == "cross"]
    assert (through.host, through.stem) == ("A/outer", "B/outer")
    assert [f.where for f in found(design, CODE)] == ["A/outer with B/outer at 1400", "A/outer with B/outer at 1502.5"]
    one = {"B/outer": [1200.0]}
    assert len(found(build(**pair(*cross), joints=one), CODE)) == 1
    assert not found(build(**pair(*cross), joints={"B/outer": [1200.0, 1750.0]}), CODE)


def test_inside_the_building_it_only_warns(build: Build, found: Found) -> None:
    house = [
        wall("A", (0, 0), (5200, 0)),
        wall("B", (5200, 0), (5200, 4300)),
        wall("C", (5200, 4300), (0, 4300)),
        wall("D", (0, 4300), (0, 0)),
        wall("P", (2600, 102.5), (2600, 4197.5), "block"),
    ]
    junctions = [{"walls": [a, "P"], "connection": "bonded"} for a in "AC"]
    findings = found(build(house, junctions=junctions, **MORE), CODE)
    assert [(f.severity, f.walls) for f in findings] == [("warn", ("A", "P")), ("warn", ("C", "P"))]


# old to new


def test_new_masonry_bonded_into_old(build: Build, found: Found) -> None:
    old = wall("A", (0, 0), (4265, 0), existing=True)
    new = wall("B", (4265, 0), (4265, 3045))
    (finding,) = found(build(**pair(old, new)), CODE)
    assert (finding.severity, finding.measured, finding.limit) == ("fail", None, None)
    assert finding.text.startswith("B is new and meets A, which stands already, and no movement joint stands there")
    assert not found(build(**pair(old, new, "jointed")), CODE)
    assert not found(build(**pair(old, new | {"existing": True})), CODE)
    assert not found(with_rule(build(**pair(old, new)), OLD_TO_NEW, "none"), CODE)


# the limits taken away


@pytest.mark.parametrize("key", [HEIGHT, THICKNESS, UNLIKE, OLD_TO_NEW])
def test_without_its_rule_a_change_is_not_checked(build: Build, found: Found, lacking: Lacking, key: str) -> None:
    """One meeting that breaks all four."""
    first, second = wall("A", (0, 0), (4265, 0), existing=True), wall("B", (4265, 0), (7310, 0), "thick", top=4800)
    broad = {"broad": {"material": "dense_concrete", "length": 440, "height": 215, "width": 190}}
    makings = {"leaves": MORE["leaves"] | {"thick": {"zones": [{"unit": "broad"}]}}, "units": MORE["units"] | broad}
    design = build(**pair(first, second) | makings)
    keys = {HEIGHT, THICKNESS, UNLIKE, OLD_TO_NEW}
    assert {f.source.key for f in found(design, CODE) if f.source} == keys
    findings = found(lacking(design, key), CODE, everything=True)
    assert [(f.severity, key in f.text) for f in findings if f.severity != "fail"] == [("not_checked", True)]
    assert {f.source.key for f in findings if f.source} == keys - {key}


def test_a_wall_without_changes_passes_without_the_rules_too(build: Build, found: Found, lacking: Lacking) -> None:
    design = build([wall("A", (0, 0), (4265, 0)), wall("B", (4265, 0), (4265, 3045))], **MORE)
    for judged in (design, lacking(design, HEIGHT, THICKNESS, UNLIKE, OLD_TO_NEW)):
        (passed,) = found(judged, CODE, everything=True)
        assert passed.severity == "pass"
