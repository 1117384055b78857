"""The real building: four faces of an open sample model (attribution in tests/data/README.md), designed whole.

Everything is measured from the positions in the result and from the openings in the spec file, never by asking a solver.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import pytest

from elevgen.core.geometry import Rect, Span
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

SPEC = Path(__file__).parent.parent / "data" / "duplex.json"
LENGTHS = {"W1": 8800.0, "W2": 17800.0, "W3": 8800.0, "W4": 17800.0}
ROUND = 53200.0
CLAY_SPACING = 12000.0
"""Brick Development Association, Movement Joints, May 2014: 12 m; as in the uk rules."""
LONG_SPAN, SHORT_BEARING, LONG_BEARING = 1200.0, 100.0, 150.0
"""NHBC Standards table of lintel bearings as in the uk rules: 150 over 1.2 m, or with a tray; else 100."""
LEAST_PIER, LEAST_BAND = 215.0, 150.0


@dataclass(frozen=True)
class Hole:
    """An opening as the spec file has it."""

    id: str
    wall: str
    rect: Rect


@pytest.fixture(scope="module")
def holes() -> list[Hole]:
    raw = json.loads(SPEC.read_text())
    return [
        Hole(o["id"], wall["id"], Rect(o["at"], o["sill"], o["at"] + o["width"], o["sill"] + o["height"]))
        for wall in raw["walls"]
        for o in wall["openings"]
    ]


def slivers(holes: list[Hole]) -> Iterator[tuple[str, Hole, Hole, float, float]]:
    """Neighbours too close for masonry between, straight from the file: pier or band, the two, its width and height."""
    for n, a in enumerate(holes):
        for b in holes[n + 1 :]:
            if a.wall != b.wall:
                continue
            beside = max(a.rect.left, b.rect.left) - min(a.rect.right, b.rect.right)
            above = max(a.rect.bottom, b.rect.bottom) - min(a.rect.top, b.rect.top)
            if above < 0 < beside < LEAST_PIER:
                yield "pier", a, b, beside, -above
            if beside < 0 < above < LEAST_BAND:
                yield "band", a, b, -beside, above


def outer_joints(design: Design) -> list[MovementJoint]:
    return [j for j in design.plan.joints if j.leaf.endswith("/outer")]


def test_the_slivers_are_those_measured_in_the_model(holes: list[Hole]) -> None:
    found = sorted((kind, width if kind == "pier" else height) for kind, _, _, width, height in slivers(holes))
    # South and North: door beside window 100, windows 89 apart beside three stacked ones, 67 and 66 between these;
    # East and West: windows 100 apart beside the stack, 67 and 66 in it.
    assert found == sorted(
        [("pier", 100)] * 2 + [("pier", 89)] * 6 + [("pier", 100)] * 6 + [("band", 67)] * 4 + [("band", 66)] * 4
    )


@pytest.mark.parametrize("wall", ["W2", "W4"])
def test_the_17_8_m_faces_get_joints(duplex: Design, wall: str) -> None:
    for leaf in duplex.building.leaves_of(wall):
        assert [j for j in duplex.plan.joints if j.leaf == leaf.id], leaf.id


def test_the_outer_leaf_is_one_ring_of_53_2_m(duplex: Design) -> None:
    rings = [r for r in duplex.runs if any(leaf.endswith("/outer") for leaf in r.leaves)]
    assert len(rings) == 1
    assert rings[0].closed
    assert rings[0].length == pytest.approx(ROUND, abs=0.01)
    assert set(rings[0].leaves) == {f"{w}/outer" for w in LENGTHS}
    inner = [r for r in duplex.runs if r is not rings[0]]
    assert [r.closed for r in inner] == [True]
    # Outer face of the inner leaf: brick 92 and cavity 75 in from the outer face, at both ends of every side.
    assert inner[0].length == pytest.approx(ROUND - 8 * (92 + 75), abs=0.01)


def test_every_sliver_is_reported_with_its_size(duplex: Design, holes: list[Hole]) -> None:
    reported = [f for f in duplex.findings if f.code == "opening-strip"]
    assert reported
    for kind, a, b, width, height in slivers(holes):
        size, limit = (width, LEAST_PIER) if kind == "pier" else (height, LEAST_BAND)
        about = [f for f in reported if f.severity == "fail" and _names(f, a, b)]
        mine = [f for f in about if (f.measured, f.limit) == pytest.approx((size, limit), abs=0.5)]
        assert mine, (kind, a.id, b.id, size)
        assert all(f"{size:g}" in f.text and kind in f.text for f in mine)


def _names(finding: Finding, *named: Hole) -> bool:
    return all(hole.id in finding.where for hole in named)


def test_openings_at_a_sliver_share_one_lintel(duplex: Design, holes: list[Hole]) -> None:
    """Of two openings side by side at a pier nobody can build, no lintel stops between them, in either leaf."""
    checked = 0
    for kind, a, b, _, _ in slivers(holes):
        for leaf in duplex.building.leaves_of(a.wall):
            lintels = [x for x in duplex.fittings.lintels if x.leaf == leaf.id and {a.id, b.id} & set(x.openings)]
            assert lintels
            assert all({a.id, b.id} <= set(x.openings) for x in lintels)
            gap = Span(min(a.rect.right, b.rect.right), max(a.rect.left, b.rect.left))
            over = [x for x in lintels if kind == "band" or (x.span.start < gap.start and gap.end < x.span.end)]
            assert over, (leaf.id, a.id, b.id)
            checked += 1
    assert checked == 2 * 22


def test_every_opening_is_covered_by_exactly_one_lintel_in_each_leaf(duplex: Design, holes: list[Hole]) -> None:
    for hole in holes:
        for leaf in duplex.building.leaves_of(hole.wall):
            over = [
                x
                for x in duplex.fittings.lintels
                if x.leaf == leaf.id and hole.id in x.openings and x.clear.contains((hole.rect.left + hole.rect.right) / 2)
            ]
            assert len(over) == 1, (leaf.id, hole.id)
            assert over[0].level >= hole.rect.top - 0.01


def test_no_lintel_bears_on_a_hole_or_a_sliver(duplex: Design, holes: list[Hole]) -> None:
    for x in duplex.fittings.lintels:
        bearings = Span(x.span.start, x.clear.start), Span(x.clear.end, x.span.end)
        for bearing in bearings:
            assert bearing.length >= (LONG_BEARING if x.clear.length > LONG_SPAN else SHORT_BEARING) - 0.01, x.id
        for hole in (h for h in holes if h.wall == x.wall and h.rect.bottom < x.level - 0.01 <= h.rect.top - 0.02):
            assert not any(b.overlaps(hole.rect.along) for b in bearings), (x.id, hole.id)


def test_no_joint_passes_an_opening_on_any_storey(duplex: Design, holes: list[Hole]) -> None:
    """A joint runs the whole height of its leaf, so it must be clear of every opening of the wall."""
    for joint in duplex.plan.joints:
        assert (joint.levels.start, joint.levels.end) == (0, 6609)
        for hole in (h for h in holes if h.wall == joint.wall):
            assert not joint.gap.overlaps(hole.rect.along), (joint.id, joint.gap, hole)


def test_no_joint_passes_a_lintel_or_what_it_bears_on(duplex: Design, holes: list[Hole]) -> None:
    for joint in duplex.plan.joints:
        for lintel in (x for x in duplex.fittings.lintels if x.leaf == joint.leaf):
            assert not joint.gap.overlaps(lintel.span), (joint.id, lintel.id)
        # And by the openings alone: the least bearing there is, beside every reveal under a head that is carried.
        for hole in (h for h in holes if h.wall == joint.wall):
            bearing = LONG_BEARING if hole.rect.width > LONG_SPAN else SHORT_BEARING
            assert not joint.gap.overlaps(hole.rect.along.grown(bearing)), (joint.id, hole)


def test_never_more_than_12_m_round_the_outer_ring_unless_said(duplex: Design) -> None:
    offsets = dict(zip(LENGTHS, (0.0, 8800.0, 26600.0, 35400.0), strict=True))
    marks = sorted(offsets[j.wall] + j.at for j in outer_joints(duplex))
    stretches = [b - a for a, b in pairwise([*marks, marks[0] + ROUND])]
    assert sum(stretches) == pytest.approx(ROUND)
    said = [r for p in duplex.plan.placements for r in p.relaxed if r.rule == "movement_joint.spacing.normal.clay"]
    longer = sorted(s for s in stretches if s > CLAY_SPACING + 0.01)
    assert longer == pytest.approx(sorted(r.measured for r in said), abs=1.0)
    assert len(marks) >= 5, "53.2 m at 12 m takes five"


def test_the_proof_counts_the_joints_there_are(duplex: Design) -> None:
    by_run = {p.run: p for p in duplex.plan.placements}
    for run in duplex.runs:
        mine = [j.id for j in duplex.plan.joints if j.leaf in run.leaves]
        assert sorted(by_run[run.id].joints) == sorted(mine)
        assert by_run[run.id].lower_bound <= len(mine)
        if by_run[run.id].optimal:
            assert by_run[run.id].lower_bound == len(mine)


def test_what_had_to_give_is_a_warning(duplex: Design) -> None:
    relaxed = [r for p in duplex.plan.placements for r in p.relaxed]
    warned = [f for f in duplex.findings if f.code == "placement-relaxed" and f.severity == "warn"]
    assert len(warned) == len(relaxed)
    assert sorted(f.measured for f in warned) == pytest.approx(sorted(r.measured for r in relaxed))


def test_reinforcement_never_runs_through_a_joint_or_a_hole(duplex: Design, holes: list[Hole]) -> None:
    assert duplex.fittings.bed_reinforcement
    for bed in duplex.fittings.bed_reinforcement:
        for joint in (j for j in duplex.plan.joints if j.leaf == bed.leaf):
            assert not bed.span.overlaps(joint.gap), (bed.id, joint.id)
        for hole in (h for h in holes if h.wall == bed.wall and h.rect.bottom < bed.level - 0.01 and bed.level < h.rect.top - 12):
            assert not bed.span.overlaps(hole.rect.along), (bed.id, hole.id)
