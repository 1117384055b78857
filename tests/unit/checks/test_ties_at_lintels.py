"""Checks of ties beside lintels that take the place of units: a design that breaks the rule, and it put right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.core.geometry import Rect
from elevgen.fittings.model import Tie
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

WINDOW = {"id": "V1", "kind": "window", "at": 3035.0, "width": 1810, "sill": 900, "height": 1210}
WALL: dict[str, Any] = {"id": "A", "type": "cavity", "start": [0, 0], "end": [8090, 0], "top": 3150, "openings": [WINDOW]}
LEAVES = {
    "brick": {"zones": [{"unit": "brick_65"}], "lintel": {"kind": "concrete", "depth": 215}},
    "block": {"zones": [{"unit": "brick_65"}], "lintel": {"kind": "concrete", "depth": 140}},
}


@pytest.fixture(scope="module")
def with_lintels(build: Build) -> Design:
    return build([WALL], {"A/outer": [5200.0]}, leaves=LEAVES)


def bodies(design: Design) -> list[Rect]:
    return [body for x in design.fittings.lintels if (body := x.body)]


def changed(design: Design, change: Callable[[Tie], Tie | None]) -> Design:
    (ties,) = design.fittings.ties
    kept = tuple(new for tie in ties.ties if (new := change(tie)))
    return replace(design, fittings=replace(design.fittings, ties=(replace(ties, ties=kept),)))


def test_as_placed_nothing_is_found(with_lintels: Design, found: Found) -> None:
    assert len(bodies(with_lintels)) == 2
    for code in ("tie-spacing", "tie-near-joint-and-reveal", "tie-in-beds", "tie-reach", "tie-density", "lintel-clear"):
        assert [f.text for f in found(with_lintels, code) if f.severity == "fail"] == []


def test_a_tie_in_a_lintel_of_either_leaf_is_found(with_lintels: Design, found: Found) -> None:
    (ties,) = with_lintels.fittings.ties
    for body in bodies(with_lintels):
        inside = [bed for bed in (2105.0 + 75 * k for k in range(5)) if body.bottom < bed < body.top][-1]
        moved = changed(with_lintels, lambda t, level=inside: replace(t, at=4000.0, level=level) if t == ties.ties[40] else t)  # type: ignore[misc]
        (finding,) = found(moved, "tie-in-beds")
        assert (finding.severity, finding.text) == ("fail", "1 tie in an opening, a joint, a lintel or past the masonry")


def test_a_lintel_without_a_row_over_it_fails_where_a_bed_was_free(with_lintels: Design, found: Found) -> None:
    outer = max(bodies(with_lintels), key=lambda body: body.top)
    bare = changed(with_lintels, lambda t: None if outer.left < t.at < outer.right and 0 < t.level - outer.top < 236 else t)
    failed = [f for f in found(bare, "tie-spacing") if f.severity == "fail"]
    assert "no row of ties over it within 450 mm of its underside" in {f.text for f in failed}
    assert {f.where for f in failed} >= {x.id for x in with_lintels.fittings.lintels}


def test_a_gap_beside_a_joint_that_another_bed_could_have_filled_fails(with_lintels: Design, found: Found) -> None:
    """The bed under the bearing and the bed over the lintel are both free: without ties there the gap is a fault."""
    top = max(body.top for body in bodies(with_lintels))
    bare = changed(with_lintels, lambda t: None if 5200 < t.at < 5450 and top - 300 < t.level < top + 250 else t)
    (finding,) = [f for f in found(bare, "tie-near-joint-and-reveal") if f.where.endswith("right side")]
    assert finding.severity == "fail"


@pytest.mark.parametrize(("depth", "severities"), [(440, []), (460, ["note", "note"])])
def test_where_a_deep_lintel_leaves_no_bed_near_enough_that_is_said(
    build: Build, found: Found, depth: float, severities: list[str]
) -> None:
    """Underside at +2.035, blocks with a bed from +2.475 to +2.485: free over a lintel of 440 mm, taken by one of 460."""
    lintel = {"kind": "concrete", "depth": depth}
    leaves = {
        "brick": {"zones": [{"unit": "brick_65"}], "lintel": lintel},
        "block": {"zones": [{"unit": "aircrete_block_100"}], "lintel": lintel},
    }
    findings = found(build([{**WALL, "top": 3600, "openings": [{**WINDOW, "height": 1125}]}], leaves=leaves), "tie-spacing")
    assert [f.severity for f in findings] == severities
    assert all(f.text.endswith("no bed of both leaves there") for f in findings)
