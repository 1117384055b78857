"""What lintels carry is measured again: a wrong reckoning is found, what cuts the load triangle is told, and who it is for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from random import Random
from typing import Any

import pytest

from elevgen.checks import lintel_load
from elevgen.core.geometry import Span
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

CODE = "lintel-load"


def wall(length: float = 9000, top: Any = 4000, **more: Any) -> dict[str, Any]:
    opening = {"id": "D1", "kind": "door", "at": 3600, "width": 1010, "sill": 0, "height": 2100}
    return {"id": "A", "type": "cavity", "start": [0, 0], "end": [length, 0], "top": top, "openings": [opening]} | more


def one(build: Build, found: Found, *args: Any, **more: Any) -> list[Finding]:
    return found(build(*args, **more), CODE, everything=True)


def tampered(design: Design, **figures: float) -> Design:
    """The design with the first lintel's load told otherwise: each figure times so much."""
    first, *rest = design.fittings.lintel_loads
    reading = replace(first.readings[0], **{name: getattr(first.readings[0], name) * factor for name, factor in figures.items()})
    changed = (replace(first, readings=(reading, *first.readings[1:])), *rest)
    return replace(design, fittings=replace(design.fittings, lintel_loads=changed))


def test_a_sound_reckoning_passes_and_is_for_the_engineer(build: Build, found: Found) -> None:
    findings = one(build, found, [wall()])
    assert [(f.severity, f.where) for f in findings] == [("note", "building"), ("pass", "A/outer"), ("pass", "A/inner")]
    assert "For the engineer or the maker's load table, not an approval" in findings[0].text
    assert "kN/m" in findings[0].text and "the lintel's own weight" in findings[0].text


@pytest.mark.parametrize(
    ("figures", "said"),
    [
        ({"masonry": 1.1}, "masonry reckoned"),
        ({"masonry": 0.9}, "masonry reckoned"),
        ({"reaction_start": 1.2}, "reaction at its left end"),
        ({"reaction_end": 0.8}, "reaction at its right end"),
        ({"moment": 0.9}, "greatest moment"),
        ({"reaction_start": 0.8, "reaction_end": 0.8}, "reactions together"),
    ],
)
def test_a_figure_that_is_wrong_fails(build: Build, found: Found, figures: dict[str, float], said: str) -> None:
    findings = found(tampered(build([wall()]), **figures), CODE)
    assert any(f.severity == "fail" and f.where == "A/outer/L-D1" and said in f.text for f in findings)


def test_an_opening_in_the_triangle_is_warned_of_and_one_clear_of_it_repairs_it(build: Build, found: Found) -> None:
    door = {"id": "D1", "at": 3000, "width": 2685, "sill": 0, "height": 2100}
    low, high = ({"id": "W1", "at": 3600, "width": 1210, "sill": sill, "height": 900} for sill in (2850, 3750))
    warned = [f for f in found(build([wall(top=6000, openings=[door, low])]), CODE) if f.severity == "warn"]
    assert [f.leaves for f in warned] == [("A/outer",), ("A/inner",)]
    assert warned[0].openings == ("D1",)
    assert warned[0].text.startswith("an opening in the load triangle over 1 lintel: nothing arches, all above is carried (L-D1 ")
    assert warned[0].source is not None and warned[0].source.document == "BS 5977-1"
    assert not [f for f in found(build([wall(top=6000, openings=[door, high])]), CODE) if f.severity == "warn"]


def test_a_movement_joint_in_the_triangle_is_named(build: Build, found: Found) -> None:
    (warned,) = (f for f in found(build([wall()], {"A/outer": [4100]}), CODE) if f.severity == "warn")
    assert warned.leaves == ("A/outer",) and warned.joints == ("J1",)
    assert "a movement joint in the load triangle" in warned.text


def test_a_triangle_used_over_a_joint_fails(build: Build, found: Found) -> None:
    sound, cut = build([wall()]), build([wall()], {"A/outer": [4100]})
    hidden = replace(cut, fittings=replace(cut.fittings, lintel_loads=sound.fittings.lintel_loads))
    assert any(f.severity == "fail" and "as if the masonry over it arched" in f.text for f in found(hidden, CODE))


def test_a_triangle_used_in_a_low_wall_fails(build: Build, found: Found) -> None:
    sound, low = build([wall()]), build([wall(top=2550)])
    hidden = replace(low, fittings=replace(low.fittings, lintel_loads=sound.fittings.lintel_loads))
    assert any(f.severity == "fail" and "too low" in f.text for f in found(hidden, CODE))


def test_loads_of_the_spec_and_of_lintels_above_are_balanced_too(build: Build, found: Found) -> None:
    loads = [
        {"leaf": "inner", "level": 2700, "at": 0, "length": 9000, "load": 6.5},
        {"level": 2300, "at": 3900, "load": 4.0},
        {"leaf": "outer", "level": 5900, "at": 4100, "load": 12.5},
        {"leaf": "outer", "level": 2500, "at": 3300, "length": 700, "load": 8.0},
    ]
    window = {"id": "W1", "at": 4100, "width": 2010, "sill": 2700, "height": 900}
    design = build([wall(top=6000, loads=loads, openings=[*wall()["openings"], window])])
    carried = [r for load in design.fittings.lintel_loads for r in load.readings]
    assert any(r.imposed > 1 for r in carried) and any(r.brought > 1 for r in carried)
    assert not [f for f in found(design, CODE) if f.severity == "fail"]


@pytest.mark.parametrize("seed", range(25))
def test_walls_nobody_drew_are_balanced(build: Build, found: Found, seed: int) -> None:
    """Gables, two materials, openings over one another and loads, each reckoned and measured again."""
    draw = Random(seed)
    length, openings, at = draw.randrange(6000, 14000, 10), [], 700
    while at < length - 3000:
        width = draw.randrange(600, 2600, 5)
        openings.append({"id": f"O{len(openings)}", "at": at, "width": width, "sill": 900, "height": 1200})
        if draw.random() < 0.7:
            shift = draw.randrange(-300, 600, 5)
            openings.append({"id": f"O{len(openings)}", "at": at + shift, "width": width // 2, "sill": 3300, "height": 1200})
        at += width + draw.randrange(700, 2500, 5)
    top = draw.choice(
        [5400, [[0, 5200], [length / 2, 7500], [length, 5200]], [[0, 3000], [3000, 3000], [3000, 5600], [length, 5600]]]
    )
    loads = [
        {"level": draw.randrange(2200, 5500), "at": draw.randrange(0, 3000), "load": draw.uniform(1, 9)}
        | draw.choice([{}, {"length": draw.randrange(200, length - 3000)}])
        for _ in range(draw.randint(0, 4))
    ]
    leaves = {
        "brick": {"zones": [{"unit": "brick_65", "to": 2400}, {"unit": "stone_100"}]},
        "block": {"zones": [{"unit": "dense_block_100"}]},
    }
    design = build([wall(length, top, openings=openings, loads=loads)], leaves=leaves)
    assert len(design.fittings.lintel_loads) >= 2
    assert not [f.text for f in found(design, CODE) if f.severity == "fail"]


def test_a_lintel_over_a_pier_is_an_engineers(build: Build, found: Found) -> None:
    design = build([wall()])
    first, second = design.fittings.lintel_loads
    middle = first.clear.middle
    parts = (
        replace(first, part=1, parts=2, clear=Span(first.clear.start, middle - 100), supports=Span(first.supports.start, middle)),
        replace(first, part=2, parts=2, clear=Span(middle + 100, first.clear.end), supports=Span(middle, first.supports.end)),
    )
    cut = replace(design, fittings=replace(design.fittings, lintel_loads=(*parts, second)))
    (note,) = (f for f in found(cut, CODE) if f.severity == "note" and f.where == "A/outer")
    pier = first.used.reaction_end + first.used.reaction_start  # type: ignore[union-attr]
    assert f"sets {pier:.1f} kN on the pier at {middle / 1000:.2f} m" in note.text and "an engineer must say" in note.text


def test_a_long_span_says_it_was_taken_as_of_one_storey(build: Build, found: Found) -> None:
    gate = {"id": "G1", "at": 4000, "width": 4000, "sill": 0, "height": 2100}
    notes = [f for f in found(build([wall(12000, 6000, openings=[gate])]), CODE) if f.where == "A/outer"]
    assert [(f.severity, f.measured, f.limit) for f in notes] == [("note", 4000, 3600)]
    assert "no opening here is a storey higher" in notes[0].text


def test_what_the_rules_lack_is_not_checked(build: Build, found: Found) -> None:
    design = build([wall()])
    bare = replace(design.rules, values={k: v for k, v in design.rules.values.items() if k != "unit.density.clay"})
    loads = tuple(replace(x, readings=(), lacking=("unit.density.clay",)) for x in design.fittings.lintel_loads[:1])
    fittings = replace(design.fittings, lintels=design.fittings.lintels[:1], lintel_loads=loads)
    lacking = replace(design, rules=bare, fittings=fittings)
    assert [f.severity for f in found(lacking, CODE)] == ["not_checked"]


def test_without_lintels_there_is_nothing_to_carry(build: Build, found: Found) -> None:
    (finding,) = one(build, found, [wall(openings=[])])
    assert finding.severity == "pass"


def test_rationale_is_told() -> None:
    assert lintel_load.TITLE == "What lintels carry"


def test_a_lintel_nobody_reckoned_fails(build: Build, found: Found) -> None:
    design = build([wall()])
    short = replace(design, fittings=replace(design.fittings, lintel_loads=design.fittings.lintel_loads[1:]))
    (failed,) = (f for f in found(short, CODE) if f.severity == "fail")
    assert (failed.where, failed.openings) == ("A/outer/L-D1", ("D1",))
