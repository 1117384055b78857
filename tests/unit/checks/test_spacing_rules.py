"""The checks' own reading of the spacing rules: parapets, free-standing walls, reinforced beds, leaves that stop with a joint."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]


def wall(wall_id: str, start: tuple[float, float], end: tuple[float, float], **more: Any) -> dict[str, Any]:
    return {"id": wall_id, "type": "garden", "start": list(start), "end": list(end), "top": 6000, "line": "face"} | more


def spacing(found: Found, design: Design) -> list[tuple[str, float | None]]:
    return [(f.severity, f.limit) for f in found(design, "joint-spacing", everything=True)]


@pytest.mark.parametrize(
    ("stands", "length", "severity", "most"),
    [
        ("parapet", 6000, "pass", 6000),
        ("parapet", 6001, "warn", 6000),
        ("parapet", 7500, "warn", 6000),
        ("parapet", 7501, "fail", 7500),
        ("free_standing", 7000, "pass", 7000),
        ("free_standing", 7001, "fail", 7000),
        ("building", 12000, "pass", 12000),
    ],
)
def test_less_where_nothing_holds_the_top(
    build: Build, found: Found, stands: str, length: float, severity: str, most: float
) -> None:
    """NHBC 6.1 (quoted): half in a parapet, of 12 m and of the greatest 15 m. Lyons (read): clay standing free 7 m."""
    assert spacing(found, build([wall("A", (0, 0), (length, 0), stands=stands)])) == [(severity, most)]


def test_a_fraction_the_set_lacks_is_said(build: Build, found: Found) -> None:
    block = {"garden": {"outer": "block"}}
    findings = found(build([wall("A", (0, 0), (5800, 0), stands="free_standing")], wall_types=block), "joint-spacing")
    assert [f.severity for f in findings] == ["not_checked"]
    assert "movement_joint.free_standing.fraction" in findings[0].text
    half = [{"rule": "movement_joint.free_standing.fraction", "value": 0.5, "reason": "advice", "by": "engineer"}]
    given = build([wall("A", (0, 0), (5800, 0), stands="free_standing")], wall_types=block, overrides=half)
    assert spacing(found, given) == [("fail", 3000)]


@pytest.mark.parametrize(
    ("unit", "every", "length", "severity", "most"),
    [
        pytest.param("brick_65", 450, 15000, "pass", 15000, id="Pocket Book's 15 m"),
        pytest.param("brick_65", 450, 15001, "warn", 15000, id="over it, within its 18 m"),
        pytest.param("brick_65", 450, 18001, "fail", 18000, id="over 18 m, though Data Pack says 20"),
        pytest.param("brick_65", 225, 18000, "pass", 18000, id="18 m at 225"),
        pytest.param("brick_65", 225, 20001, "fail", 20000, id="over 20 m at 225, though Data Pack says 24"),
        pytest.param("dense_block_140", 450, 12000, "pass", 12000, id="Data Pack's 12 m, 140 mm"),
        pytest.param("dense_block_140", 450, 12001, "fail", 12000, id="over it, though Pocket Book says 15 to 18"),
        pytest.param("dense_block_140", 225, 14001, "fail", 14000, id="14 m at 225"),
        pytest.param("thicker", 225, 16000, "pass", 16000, id="Data Pack's 16 m over 140 mm"),
        pytest.param("thicker", 450, 14001, "fail", 14000, id="Data Pack's 14 m over 140 mm"),
        pytest.param("aircrete_block_140", 450, 10001, "fail", 10000, id="aircrete 10 m"),
        pytest.param("calcium_silicate_brick_65", 225, 14001, "fail", 14000, id="calcium silicate 14 m"),
        pytest.param("stone_100", 225, 6001, "fail", 6000, id="stone has no more"),
        pytest.param("brick_65", 600, 12001, "warn", 12000, id="too far apart to count"),
    ],
)
def test_reinforced_beds_by_the_lower_table(
    build: Build, found: Found, unit: str, every: float, length: float, severity: str, most: float
) -> None:
    """Check values SEPB-01, SEPB-04, DPCK-01 to DPCK-07."""
    design = build(
        [wall("A", (0, 0), (length, 0))],
        leaves={"brick": {"zones": [{"unit": unit}], "reinforced_every": every}},
        wall_types={"garden": {"outer": "brick"}},
        units={"thicker": {"material": "dense_concrete", "length": 440, "height": 215, "width": 140.5}},
    )
    assert spacing(found, design) == [(severity, most)]


def test_both_tables_are_shown(build: Build, found: Found) -> None:
    leaves = {"brick": {"zones": [{"unit": "dense_block_140"}], "reinforced_every": 450}}
    design = build([wall("A", (0, 0), (11000, 0))], leaves=leaves, wall_types={"garden": {"outer": "brick"}})
    (finding,) = found(design, "joint-spacing", everything=True)
    assert "12 m by Civil & Structural Designers Data Pack" in finding.text
    assert "15 m by Structural Engineer's Pocket Book" in finding.text
    assert finding.source is not None
    assert finding.source.key == "movement_joint.spacing.reinforced_450.dense_concrete"


@pytest.mark.parametrize(
    ("stands", "at", "severity"),
    [("parapet", 1500, "pass"), ("parapet", 1500.5, "fail"), ("building", 1500.5, "pass"), ("building", 6000.5, "warn")],
)
def test_the_first_joint_from_a_parapets_corner(build: Build, found: Found, stands: str, at: float, severity: str) -> None:
    """NHBC 6.1 (quoted): 1.5 m."""
    walls = [wall("A", (0, 0), (9000, 0), stands=stands), wall("B", (9000, 0), (9000, 4300), stands=stands)]
    both = found(build(walls, {"A/outer": [9000 - at]}), "corner-distance", everything=True)
    finding, beyond = sorted(both, key=lambda f: f.where)
    assert (finding.severity, finding.where) == (severity, "A/outer corner with B/outer")
    assert (beyond.severity, beyond.measured) == (("note" if stands == "parapet" else "pass"), pytest.approx(4300))


JOINTED = [{"walls": ["A", "B"], "connection": "jointed"}]


def test_a_joint_that_a_leaf_stops_at_is_no_joint_within_it(build: Build, found: Found) -> None:
    """B stops against A and has its joint there; round its other end it goes on into C, 8.5 m from it."""
    walls = [wall("A", (0, 0), (5000, 0)), wall("B", (5000, 0), (5000, 8602.5)), wall("C", (5000, 8602.5), (2000, 8602.5))]
    design = build(walls, {"B/outer": [102.5 + 8]}, junctions=JOINTED)
    assert not found(design, "joint-room")
    corners = found(design, "corner-distance", everything=True)
    assert {(f.where, f.joints) for f in corners} == {("B/outer corner with C/outer", ()), ("C/outer corner with B/outer", ())}
    assert [f.severity for f in corners] == ["note", "pass"], "8.5 m and 3 m without a joint in them"
    spans = [f.measured for f in found(design, "joint-spacing", everything=True)]
    assert sorted(spans) == pytest.approx([5000, 8500 + 3000])
    assert [f.where for f in found(design, "panel-ratio", everything=True) if "B/" in f.where] == ["B/outer 102.5 to 8602.5"]
    bonded = build(walls, {"B/outer": [8]})
    assert [f.severity for f in found(bonded, "joint-room")] == ["fail"], "at a bonded corner there is nothing to stop at"


def test_a_joint_near_such_an_end_but_not_in_it_has_too_little_beside_it(build: Build, found: Found) -> None:
    walls = [wall("A", (0, 0), (5000, 0)), wall("B", (5000, 0), (5000, 8602.5))]
    assert [f.severity for f in found(build(walls, {"B/outer": [102.5 + 40]}, junctions=JOINTED), "joint-room")] == ["fail"]
    both = build(walls, {"B/outer": [102.5 + 8, 102.5 + 60]}, junctions=JOINTED)
    assert [f.severity for f in found(both, "joint-room")] == ["fail"], "28 mm between the two"
