"""Each check of reinforcement in beds: a design that breaks the rule, and the same one put right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.coursing.model import Pattern
from elevgen.fittings.model import BedReinforcement, StockCut
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
Change = Callable[[BedReinforcement], BedReinforcement | None]

WINDOW = {"id": "V1", "kind": "window", "at": 2047.5, "width": 3010, "sill": 900, "height": 1200}
BRICK = {"brick": {"zones": [{"unit": "brick_65"}]}}
SINGLE = {"garden": {"outer": "brick"}}


def corner(build: Build, **more: Any) -> Design:
    """Two brick walls that meet at a corner 450 mm from a window in the first."""
    first = {"id": "A", "type": "garden", "start": [0, 0], "end": [5507.5, 0], "top": 2700, "openings": [WINDOW]}
    second = {"id": "B", "type": "garden", "start": [5507.5, 0], "end": [5507.5, 4100], "top": 2700}
    return build([first, second], leaves=BRICK, wall_types=SINGLE, **more)


def changed(design: Design, change: Change) -> Design:
    laid = tuple(new for r in design.fittings.bed_reinforcement if (new := change(r)) is not None)
    return replace(design, fittings=replace(design.fittings, bed_reinforcement=laid))


@pytest.mark.parametrize(
    "code",
    [
        "opening-reinforced",
        "reinforcement-crosses-joint",
        "reinforcement-lap",
        "reinforcement-laps-staggered",
        "reinforcement-in-bed",
        "reinforcement-stock",
        "low-lap-reinforced",
    ],
)
def test_as_fitted_it_passes(build: Build, found: Found, code: str) -> None:
    design = corner(build)
    assert any(r.returns for r in design.fittings.bed_reinforcement)
    assert any(r.laps for r in design.fittings.bed_reinforcement)
    assert not found(design, code)
    assert found(design, code, everything=True)


def test_a_corner_where_it_does_not_go_on(build: Build, found: Found) -> None:
    bare = changed(corner(build), lambda r: None if r.leaf == "B/outer" else replace(r, returns=()))
    faults = found(bare, "opening-reinforced")
    assert {(f.severity, f.where, f.measured) for f in faults} == {
        ("fail", "A/outer/V1 head", 150),
        ("fail", "A/outer/V1 sill", 150),
    }


def test_a_leg_too_short(build: Build, found: Found) -> None:
    short = changed(corner(build), lambda r: replace(r, span=Span(0, 140)) if r.leaf == "B/outer" else r)
    assert {f.measured for f in found(short, "opening-reinforced")} == {10}


def test_a_return_into_a_leaf_that_is_not_bonded(build: Build, found: Found) -> None:
    design = corner(build)
    leaves = tuple(
        replace(x, finish_end=replace(x.finish_end, connection="jointed")) if x.id == "A/outer" else x
        for x in design.building.leaves
    )
    parted = replace(design, building=replace(design.building, leaves=leaves))
    faults = found(parted, "reinforcement-crosses-joint")
    assert {f.severity for f in faults} == {"fail"}
    assert all("not bonded at a corner" in f.text for f in faults)


def test_a_return_that_nothing_answers(build: Build, found: Found) -> None:
    lost = changed(corner(build), lambda r: replace(r, returns=()) if r.leaf == "B/outer" else r)
    assert all("does not come from it" in f.text for f in found(lost, "reinforcement-lap"))
    assert len(found(lost, "reinforcement-lap")) == 4


def test_a_bent_piece_longer_than_it_is_sold(build: Build, found: Found) -> None:
    def longer(r: BedReinforcement) -> BedReinforcement:
        turns = tuple(replace(turn, leg=turn.leg + 2000) for turn in r.returns)
        return replace(r, returns=turns) if r.leaf == "A/outer" else r

    faults = found(changed(corner(build), longer), "reinforcement-lap")
    assert {(f.severity, f.limit) for f in faults} == {("fail", 2700)}
    assert all(f.measured is not None and f.measured > 2700 for f in faults)


def test_laps_over_one_another(build: Build, found: Found) -> None:
    design = corner(build)
    over = [r for r in design.fittings.bed_reinforcement if r.leaf == "A/outer" and r.level > 2100]
    assert over[0].cuts != over[1].cuts
    straight = changed(design, lambda r: replace(r, cuts=over[0].cuts, pieces=over[0].pieces) if r is over[1] else r)
    (fault,) = found(straight, "reinforcement-laps-staggered")
    assert (fault.severity, fault.where, fault.measured, fault.limit) == ("warn", over[1].id, 0, 450)
    (unknown,) = found(replace(design, rules=replace(design.rules, values={})), "reinforcement-laps-staggered")
    assert unknown.severity == "not_checked"


def test_lengths_that_lie_over_one_another_by_less_than_a_lap(build: Build, found: Found) -> None:
    listed = [{"level": 2175, "at": 0, "length": 2000}, {"level": 2175, "at": 1800, "length": 2700}]
    wall = {"id": "A", "type": "garden", "start": [0, 0], "end": [6075, 0], "top": 2700, "reinforcement": listed}
    design = build([wall], leaves=BRICK, wall_types=SINGLE)
    (fault,) = found(design, "reinforcement-lap")
    assert (fault.severity, fault.where, fault.measured, fault.limit) == ("fail", "A/outer/R-G2", 200, 225)


def test_a_level_in_no_bed(build: Build, found: Found) -> None:
    design = corner(build)
    first = design.fittings.bed_reinforcement[0]
    astray = changed(design, lambda r: replace(r, level=r.level - 30) if r is first else r)
    (fault,) = found(astray, "reinforcement-in-bed")
    assert (fault.severity, fault.where) == ("fail", first.id)
    assert f"{first.level / 1000:+.3f}" in fault.text


def test_beds_too_thin_for_the_wires(build: Build, found: Found) -> None:
    """5 mm of mortar over wires of 4 (EN 1996-1-1 8.2.2, from memory): 9 mm."""
    asked = {"rule": "bed_reinforcement.wire.diameter", "unit": "mm", "reason": "maker", "by": "engineer"}
    assert not found(corner(build, overrides=[asked | {"value": 5}]), "reinforcement-in-bed")
    faults = found(corner(build, overrides=[asked | {"value": 5.1}]), "reinforcement-in-bed")
    assert [(f.severity, f.where) for f in faults] == [("warn", "A/outer"), ("warn", "B/outer")]
    assert all((f.measured, f.limit) == pytest.approx((10, 10.1)) for f in faults)


def test_a_cutting_list_that_lacks_a_piece_or_cuts_too_much(build: Build, found: Found) -> None:
    design = corner(build)
    (stock,) = design.fittings.stock

    def cut(*cuts: StockCut) -> Design:
        return replace(design, fittings=replace(design.fittings, stock=(replace(stock, cuts=cuts),)))

    (lacking,) = found(cut(*stock.cuts[:-1]), "reinforcement-stock")
    assert lacking.severity == "fail"
    assert "cut" in lacking.text
    first, *others = stock.cuts
    (long,) = [
        f for f in found(cut(replace(first, pieces=(*first.pieces, 500.0)), *others), "reinforcement-stock") if "one" in f.text
    ]
    assert "do not come out of one stock length" in long.text


def test_rows_of_perpends_over_one_another(build: Build, found: Found) -> None:
    """Course 3 laid as courses 2 and 4 are: a straight joint all along, in the two beds between them."""
    wall = {"id": "A", "type": "garden", "start": [0, 0], "end": [6075, 0], "top": 2700}
    design = build([wall], leaves=BRICK, wall_types=SINGLE)
    (laid,) = design.coursing.leaves
    second = next(p for p in laid.placements if p.course == 2)
    placed = tuple(replace(p, pattern=second.pattern, span=second.span) if p.course == 3 else p for p in laid.placements)
    straight = replace(design, coursing=replace(design.coursing, leaves=(replace(laid, placements=placed),)))
    pattern: Pattern = design.coursing.pattern(second.pattern)
    lines = [second.span.start + perpend.at + perpend.width / 2 for perpend in pattern.perpends]
    faults = found(straight, "low-lap-reinforced")
    assert [(f.severity, f.where) for f in faults] == [("warn", "A/outer")] * 2
    assert all(f"{lines[0]:.1f} to {lines[-1]:.1f} mm" in f.text for f in faults)
    along = Span(lines[0], lines[-1])
    steel = tuple(
        BedReinforcement(f"R{n}", "A", "A/outer", n, laid.courses[n - 1].top, along, 0, 225.0, (along.length,), (), ())
        for n in (2, 3)
    )
    mended = replace(straight, fittings=replace(straight.fittings, bed_reinforcement=steel))
    assert [f.text for f in found(mended, "low-lap-reinforced", everything=True)] == ["2 rows of low laps reinforced"]
    half = replace(straight, fittings=replace(straight.fittings, bed_reinforcement=steel[:1]))
    assert len(found(half, "low-lap-reinforced")) == 1


def test_force_and_area_are_told_where_they_bear(build: Build, found: Found) -> None:
    plain = corner(build)
    (told,) = found(plain, "reinforcement-force", everything=True)
    assert (told.severity, told.where) == ("pass", "A/outer")
    # 150 mm shared by two beds: 0.3 x 102.5 x 75 over two wires of 4
    assert told.measured == pytest.approx(0.3 * 102.5 * 75 / (2 * 3.14159265 * 4), rel=1e-6)
    assert [f.text for f in found(plain, "reinforcement-area", everything=True)] == ["no leaf is reinforced all over"]
    leaf = {"brick": {"zones": [{"unit": "brick_65"}], "reinforced_every": 450}}
    wall = {"id": "A", "type": "garden", "start": [0, 0], "end": [6075, 0], "top": 2700}
    all_over = build([wall], leaves=leaf, wall_types=SINGLE)
    (force,) = found(all_over, "reinforcement-force")
    assert force.severity == "note"
    assert "one crack opens wide" in force.text
    (area,) = found(all_over, "reinforcement-area", everything=True)
    assert (area.severity, area.measured) == ("pass", pytest.approx(25.1327 * 1000 / 450, rel=1e-4))
    assert area.limit == pytest.approx(0.0003 * 102.5 * 1000)


def test_a_parapet_left_bare(build: Build, found: Found) -> None:
    wall = {"id": "A", "type": "garden", "start": [0, 0], "end": [6075, 0], "top": 1200, "stands": "parapet"}
    design = build([wall], leaves=BRICK, wall_types=SINGLE)
    assert not found(design, "parapet-reinforced")
    first = min(r.level for r in design.fittings.bed_reinforcement)
    (fault,) = found(changed(design, lambda r: None if r.level == first else r), "parapet-reinforced")
    assert (fault.severity, fault.limit) == ("warn", 450)
    assert fault.measured is not None
    assert fault.measured > 450
