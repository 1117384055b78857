"""Ties under tops, across joints and to partitions, their length and reach: a design that breaks the rule, and it put right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import hypot
from typing import Any

import pytest

from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Tie
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

WINDOW = {"id": "V1", "kind": "window", "at": 4047.5, "width": 1810, "sill": 900, "height": 1210}
WALL: dict[str, Any] = {"id": "A", "type": "cavity", "start": [0, 0], "end": [8090, 0], "top": 2700, "openings": [WINDOW]}
BRICKS = {"brick": {"zones": [{"unit": "brick_65"}]}, "block": {"zones": [{"unit": "brick_65"}]}}
GABLE = {**WALL, "top": [[0, 2700], [3500, 4500], [8090, 2700]]}


def changed(design: Design, change: Callable[[Tie], Tie | None], wall: str = "A", **more: Any) -> Design:
    """The design with the ties of one wall changed or left out."""
    walls = tuple(
        replace(ties, ties=tuple(new for tie in ties.ties if (new := change(tie))), **more) if ties.wall == wall else ties
        for ties in design.fittings.ties
    )
    return replace(design, fittings=replace(design.fittings, ties=walls))


def ruled(design: Design, key: str, number: float) -> Design:
    value = Sourced(key, number, "mm", "", "", "", "practice")
    return replace(design, rules=replace(design.rules, values={**design.rules.values, key: value}))


# ---- tops -----------------------------------------------------------------------------------------------------------------


def test_a_row_near_a_level_top(build: Build, found: Found) -> None:
    design = build([WALL], leaves=BRICKS)
    (passed,) = found(design, "tie-top", everything=True)
    assert (passed.severity, passed.where, passed.limit) == ("pass", "A top from 0 to 8090", 900)
    bare = changed(design, lambda t: None if t.level > 2400 else t)
    (finding,) = found(bare, "tie-top")
    assert (finding.severity, finding.measured) == ("warn", 8090), "a rule of practice warns"
    assert finding.text == "8090 mm without a tie within 300 mm of the top, from 0 mm along"


def test_a_free_top_has_a_tie_to_every_300(build: Build, found: Found) -> None:
    """PD 6697 in NHBC TG 6.1/32 (quoted): one tie to 300 mm of an unbonded edge, or equivalent, within 225 mm of it."""
    design = build([{**WALL, "stands": "parapet", "openings": []}], leaves=BRICKS)
    (passed,) = found(design, "tie-top", everything=True)
    assert (passed.severity, passed.limit) == ("pass", 300)
    top = sorted(t.at for t in design.fittings.ties[0].ties if 2700 - t.level <= 225)
    gone = top[7]
    (finding,) = found(changed(design, lambda t: None if t.at == gone and t.level > 2475 else t), "tie-top")
    assert finding.severity == "fail"
    assert finding.measured == pytest.approx(top[8] - top[6])


def test_a_verge_has_a_tie_to_every_225(build: Build, found: Found) -> None:
    """NHBC 6.1.18 Table 10 (read): 225 mm along, within 300 mm of the verge."""
    design = build([GABLE], leaves=BRICKS)
    (passed,) = found(design, "tie-top", everything=True)
    assert (passed.severity, passed.limit, passed.where) == ("pass", 225, "A verge from 0 to 8090")
    (finding,) = found(changed(design, lambda t: None if 5000 < t.at < 5200 and t.level > 3000 else t), "tie-top")
    assert (finding.severity, finding.operator) == ("fail", "<=")


def test_where_no_bed_comes_near_the_top_the_highest_one_does(build: Build, found: Found) -> None:
    tall = {"tall": {"material": "aircrete", "length": 440, "height": 440, "width": 100}}
    leaves = {"brick": {"zones": [{"unit": "brick_65"}]}, "block": {"zones": [{"unit": "tall"}]}}
    design = build([{**WALL, "openings": [], "stands": "parapet"}], leaves=leaves, units=tall)
    (finding,) = found(design, "tie-top")
    assert (finding.severity, finding.text.split(": ")[-1]) == ("note", "no bed of both leaves there")
    fewer = changed(design, lambda t: None if t.level > 2200 and 3000 < t.at < 3500 else t)
    assert [f.severity for f in found(fewer, "tie-top")] == ["warn"]


# ---- slip ties ------------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def slipped(build: Build) -> Design:
    """A joint over the window as given, one beside it, slip ties asked for."""
    return build([{**WALL, "slip_ties": True}], {"A/outer": [2500.0, 4500.0], "A/inner": [2500.0]}, leaves=BRICKS)


def test_slip_ties_as_placed(slipped: Design, found: Found) -> None:
    passed = {f.where: (f.severity, f.text) for f in found(slipped, "tie-slip", everything=True)}
    assert passed["A/outer/J1"] == ("pass", "9 slip ties, 300 mm apart at most")
    over_the_window = [t for t in slipped.fittings.ties[0].ties if t.kind == "slip" and t.at == 4500]
    assert over_the_window
    assert all(t.level < 900 or t.level > 2110 for t in over_the_window), "none in the window"
    assert {t.leaf for t in over_the_window} == {"A/outer"}
    assert slipped.fittings.joint_parts[1].slip_ties == len(over_the_window)


def test_a_slip_tie_left_out_off_its_bed_or_in_an_opening(slipped: Design, found: Found) -> None:
    slips = [t for t in slipped.fittings.ties[0].ties if (t.kind, t.leaf, t.at) == ("slip", "A/outer", 2500)]
    first = next(t for t in slips if t.level > 600)

    def said(change: Callable[[Tie], Tie | None]) -> list[tuple[str, str, str]]:
        return [(f.severity, f.where, f.text) for f in found(changed(slipped, change), "tie-slip")]

    assert all(row[0] == "fail" and "without a slip tie" in row[2] for row in said(lambda t: None if t == first else t))
    off = said(lambda t: replace(t, level=t.level + 35) if t == first else t)
    assert ("fail", "A/outer/J1", "1 slip tie in no bed") in off
    opening = said(lambda t: replace(t, level=1505.0) if t.kind == "slip" and t.at == 4500 else t)
    assert opening[0][2].endswith("without masonry round both ends")


def test_no_slip_ties_where_the_rules_have_no_spacing(slipped: Design, found: Found, lacking: Callable[..., Design]) -> None:
    assert {f.severity for f in found(lacking(slipped, "tie.slip.vertical"), "tie-slip")} == {"not_checked"}


def test_slip_ties_at_a_joint_in_the_end_of_a_wall_lie_in_beds_of_both(build: Build, found: Found) -> None:
    """The partition stops against the inner leaf with a joint: its slip ties lie where the two leaves' beds meet."""
    walls = [
        {**WALL, "openings": []},
        {"id": "P", "type": "partition", "start": [3000, 302.5], "end": [3000, 4000], "top": 2700, "slip_ties": True},
    ]
    junctions = [{"walls": ["A", "P"], "leaf": "inner", "connection": "jointed"}]
    design = build(walls, {"P/outer": [307.5]}, width=10.0, junctions=junctions)
    leaf = design.building.leaf("P/outer")
    at = leaf.span.start + 5
    design = build(walls, {"P/outer": [at]}, width=10.0, junctions=junctions)
    ties = [t for ties in design.fittings.ties if ties.wall == "P" for t in ties.ties]
    assert {(t.kind, t.leaf) for t in ties} == {("slip", "P/outer")}
    (passed,) = found(design, "tie-slip", everything=True)
    assert passed.severity == "pass", passed.text


# ---- partitions -----------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def tied(build: Build) -> Design:
    walls = [{**WALL, "openings": []}, {"id": "P", "type": "partition", "start": [3000, 302.5], "end": [3000, 4000], "top": 2450}]
    return build(walls, junctions=[{"walls": ["A", "P"], "leaf": "inner", "connection": "tied"}])


def test_a_partition_tied_from_bottom_to_top(tied: Design, found: Found) -> None:
    """NHBC 6.1.11 (read): 300 mm up the wall."""
    (passed,) = found(tied, "tie-partition", everything=True)
    assert (passed.severity, passed.limit, passed.where) == ("pass", 300, "P/outer to A/inner")
    bare = changed(tied, lambda t: None if t.level > 2000 else t, "P")
    (finding,) = found(bare, "tie-partition")
    assert (finding.severity, finding.where) == ("fail", "P/outer to A/inner")
    off = changed(tied, lambda t: replace(t, level=t.level + 40) if t.level > 2000 else t, "P")
    assert [f.severity for f in found(off, "tie-partition")] == ["warn"]
    none = changed(tied, lambda t: None, "P")
    assert [f.measured for f in found(none, "tie-partition")] == [2450]


def test_partitions_of_a_set_without_a_spacing(tied: Design, found: Found, lacking: Callable[..., Design]) -> None:
    assert [f.severity for f in found(lacking(tied, "tie.partition.vertical"), "tie-partition")] == ["not_checked"]


# ---- length ---------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("length", "severity", "words"),
    [
        (199.0, "fail", "no more than 49.5 mm in each leaf"),
        (200.0, "fail", "shorter than the table has it"),
        (225.0, "pass", "across 100 mm"),
        (265.0, "pass", "across 100 mm"),
        (266.0, "note", "the two leaves hold 165 mm with 20 mm of mortar over each end"),
    ],
)
def test_length_by_embedment_table_and_cover(build: Build, found: Found, length: float, severity: str, words: str) -> None:
    """50 mm in each leaf (NHBC 6.1.18, read); 225 for a cavity of 100 (PD 6697, quoted); 20 mm of cover (practice).

    Leaves of 102.5 mm each hold 205 less 40.
    """
    design = changed(build([WALL], leaves=BRICKS), lambda t: t, length=length)
    (finding,) = found(design, "tie-length", everything=True)
    assert finding.severity == severity
    assert finding.text.endswith(words)


def test_without_a_table_the_embedment_finds_what_is_too_short_and_passes_nothing(
    build: Build, found: Found, lacking: Callable[..., Design]
) -> None:
    enough, short = (changed(build([WALL], leaves=BRICKS), lambda t: t, length=length) for length in (200.0, 199.0))
    assert [f.severity for f in found(lacking(enough, "tie.length"), "tie-length")] == ["not_checked"]
    assert [f.severity for f in found(lacking(short, "tie.length"), "tie-length")] == ["fail"]
    assert [f.severity for f in found(lacking(short, "tie.length", "tie.embedment"), "tie-length")] == ["not_checked"]


def test_a_longer_tie_where_more_embedment_is_asked_for(build: Build) -> None:
    def length(embedment: float) -> float | None:
        override = {"rule": "tie.embedment", "value": embedment, "unit": "mm", "reason": "maker", "by": "engineer"}
        from elevgen.fittings.tie_lengths import tie_length
        from elevgen.rules.book import RuleReader
        from elevgen.rules.loader import load_book
        from elevgen.spec.models import Spec

        design = build([WALL], leaves=BRICKS)
        spec = Spec.model_validate({**design.spec.model_dump(exclude_unset=True), "overrides": [override]})
        return tie_length(design.building.walls[0], RuleReader(load_book("uk", spec.overrides)))

    assert [length(e) for e in (40, 62.5, 62.6, 75, 200)] == [225, 225, 250, 250, None]


# ---- density --------------------------------------------------------------------------------------------------------------


def test_a_small_panel_is_let_off_one_tie_and_no_more(build: Build, found: Found) -> None:
    """1.1 m by 2.7 m by the corner: 3.0 m2 less the corner's, 2.5 to the square metre."""
    design = build([{**WALL, "openings": []}], {"A/outer": [1300.0]}, leaves=BRICKS)
    panel = design.fittings.ties[0].panels[0]
    assert (panel.judged, panel.ties) == (False, sum(1 for t in design.fittings.ties[0].ties if t.at < 1300))
    left = [t for t in design.fittings.ties[0].ties if t.at < 1300]

    def severities(keep: int) -> list[str]:
        return [f.severity for f in found(changed(design, lambda t: None if t in left[keep:] else t), "tie-density")]

    enough = -(-2.45 * panel.area / 1e6 // 1)
    assert severities(int(enough)) == []
    assert severities(int(enough) - 1) == [], "one tie more would be enough"
    assert severities(int(enough) - 2) == ["warn"]


# ---- beds that do not meet -------------------------------------------------------------------------------------------------


def test_levels_where_the_two_coursings_do_not_meet_are_told(build: Build, found: Found) -> None:
    leaves = {"brick": {"zones": [{"unit": "brick_65"}]}, "block": {"zones": [{"unit": "odd"}]}}
    odd = {"odd": {"material": "aircrete", "length": 440, "height": 192, "width": 100}}
    design = build([{**WALL, "openings": [], "top": 1500}], leaves=leaves, units=odd)
    (ties,) = design.fittings.ties
    assert ties.apart
    assert not ties.beds_meet
    (finding,) = found(design, "tie-in-beds")
    assert finding.severity == "warn"
    assert "no bed of the inner leaf at +" in finding.text
    assert all(f"{level / 1000:+.3f}" in finding.text for level in ties.apart), "every level by itself where they are few"


# ---- reach ----------------------------------------------------------------------------------------------------------------


def test_a_hole_in_the_field_that_rows_and_columns_do_not_show(build: Build, found: Found) -> None:
    design = build([{**WALL, "openings": []}], leaves=BRICKS)
    (passed,) = found(design, "tie-reach", everything=True)
    assert (passed.severity, passed.limit) == ("pass", 450)
    assert passed.source is not None
    assert passed.source.status == "derived"
    near = sorted(design.fittings.ties[0].ties, key=lambda t: abs(t.at - 4000) + abs(t.level - 1400))
    (finding,) = found(changed(design, lambda t: None if t == near[0] else t), "tie-reach")
    assert (finding.severity, finding.operator) == ("fail", "<=")


def test_ties_beyond_a_joint_do_not_serve(build: Build, found: Found) -> None:
    """Upright lines of ties 860 mm apart, the first just before the joint: from its far side to the other 842."""

    def lined(joints: dict[str, list[float]]) -> list[Finding]:
        design = build([{**WALL, "openings": []}], joints, leaves=BRICKS)
        (laid,) = design.fittings.ties
        lines = (Tie(at, 80.0 + 75 * k, "joint") for k in range(34) for at in (3990.0, 4850.0))
        ties = (*(t for t in laid.ties if not 3900 < t.at < 4900), *lines)
        return found(replace(design, fittings=replace(design.fittings, ties=(replace(laid, ties=ties),))), "tie-reach")

    assert not lined({})
    (finding,) = lined({"A/outer": [4000.0]})
    assert finding.measured == pytest.approx(hypot(842, 145)), "at the top of the joint, over the last tie"


def test_a_panel_without_any_tie(build: Build, found: Found) -> None:
    design = build([{**WALL, "openings": []}], {"A/outer": [4000.0]}, leaves=BRICKS)
    (finding,) = found(changed(design, lambda t: None if t.at > 4000 else t), "tie-reach")
    assert finding.text.startswith("no tie in 11.00 m2 of masonry of both leaves"), finding.text


def test_slip_ties_nobody_has_spoken_of_are_not_passed(build: Build, found: Found) -> None:
    joints = {"A/outer": [2500.0]}
    (untold,) = found(build([WALL], joints, leaves=BRICKS), "tie-slip", everything=True)
    assert (untold.severity, untold.where) == ("not_checked", "building")
    assert "300 mm" in untold.text
    (declined,) = found(build([{**WALL, "slip_ties": False}], joints, leaves=BRICKS), "tie-slip", everything=True)
    assert declined.severity == "pass"
