"""NHBC Standards and PD 6697: what the placed fittings come to, measured on a wall.

Bibliography: NHBC Standards 6.1.18 Table 10 (2020) ties, embedment, laps (read); 6.1.12 Table 5 (2020) lintel bearings
(read); 6.11.5 (2018) reinforced beds (read); render guidance, reach past an opening (quoted); PD 6697:2019, tie lengths
by cavity and ties a square metre, as quoted on trade web pages (quoted).
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from elevgen.building.model import Leaf
from elevgen.building.resolve import resolve
from elevgen.core.geometry import Span
from elevgen.coursing.model import Course, Coursing, LeafCoursing
from elevgen.coursing.seats import seats_of
from elevgen.fittings.fit import fit
from elevgen.fittings.model import Fittings
from elevgen.fittings.ties import columns
from elevgen.joints.model import JointPlan, JointWidth, MovementJoint
from elevgen.rules.book import RuleBook, RuleReader
from elevgen.spec.models import Spec

DOCUMENT = "PD 6697:2019"


def fitted(
    book: RuleBook, openings: list[dict[str, Any]], cavity: float = 100, joint: float | None = None, **wall: Any
) -> Fittings:
    """A brick and block cavity wall 11.3 m long, its courses at 75 and 225, with a joint where one is given."""
    reader = RuleReader(book)
    given = {"id": "W1", "type": "t", "start": (0, 0), "end": (11300, 0), "base": -225, "top": 2700, "openings": openings}
    spec = Spec.model_validate(
        {
            "spec": 1,
            "leaves": {"out": {"zones": [{"unit": "brick_65"}]}, "in": {"zones": [{"unit": "aircrete_block_100"}]}},
            "wall_types": {"t": {"outer": "out", "inner": "in", "cavity": cavity}},
            "walls": [{**given, **wall}],
        }
    )
    building = resolve(spec, reader)
    joints = () if joint is None else (movement_joint(building.leaves[0], joint),)
    plan = JointPlan(joints, (), ())
    coursing = Coursing((), tuple(map(laid, building.leaves)), lintels=seats_of(building, plan, reader))
    return fit(building, (), plan, coursing, reader)


def movement_joint(leaf: Leaf, at: float) -> MovementJoint:
    levels = Span(leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span))
    return MovementJoint("J1", "W1", leaf.id, at, levels, JointWidth(16, None, 16), False, "spacing", ())


def laid(leaf: Leaf) -> LeafCoursing:
    """Courses at the unit's gauge, the last cut to the top."""
    unit, bottom, top = leaf.zones[0].unit, leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span)
    undersides = [bottom + k * unit.gauge + unit.joint for k in range(int((top - bottom) // unit.gauge) + 1)]
    courses = tuple(
        Course(k, unit.name, level, unit.joint, min(unit.height, top - level), leaf.span)
        for k, level in enumerate(undersides, 1)
        if top - level >= 20
    )
    return LeafCoursing(leaf.id, courses, (), (), (), 0.0, 0.0, ())


NHBC = "NHBC Standards"
WINDOW = {"id": "O1", "at": 4000, "width": 1810, "sill": 900, "height": 1200}


def test_6_1_18_table_10_general_ties_900_by_450_read(published: Any, uk: RuleBook) -> None:
    (ties,) = fitted(uk, []).ties
    rows = {level: sorted(t.at for t in ties.ties if t.level == level) for level in sorted({t.level for t in ties.ties})}
    field = [level for level in rows if any(t.kind == "field" and t.level == level for t in ties.ties)]
    apart = max(b - a for a, b in pairwise([-220, *field, 2705]))
    published(
        "NHBC-06", "ties up a wall of 2.925 m, furthest apart", 450, apart, unit="mm", document=NHBC, clause="6.1.18 Table 10"
    )
    assert 800 < max(b - a for level in field for a, b in pairwise(rows[level])) <= 900


def test_6_1_18_table_10_reveals_225_and_300_read(published: Any, uk: RuleBook) -> None:
    (ties,) = fitted(uk, [WINDOW]).ties
    for reveal, side in ((4000, -1), (5810, 1)):
        levels = [t.level for t in ties.ties if 0 < side * (t.at - reveal) <= 225 and 900 < t.level < 2100]
        ours = max(b - a for a, b in pairwise([900, *sorted(levels), 2100])) <= 300
        published(
            "NHBC-07", "within 225 of a reveal, ties no more than 300 apart", True, ours, document=NHBC, clause="6.1.18 Table 10"
        )


def test_6_1_18_table_10_movement_joint_225_and_300_read(published: Any, uk: RuleBook) -> None:
    (ties,) = fitted(uk, [], joint=6080).ties
    for face, side in ((6072, -1), (6088, 1)):
        levels = [t.level for t in ties.ties if t.kind == "joint" and 0 < side * (t.at - face) <= 225]
        ours = max(b - a for a, b in pairwise([-225, *sorted(levels), 2700])) <= 300
        published(
            "NHBC-07", "within 225 of a joint, ties no more than 300 apart", True, ours, document=NHBC, clause="6.1.18 Table 10"
        )


def test_6_1_18_table_10_gable_top_225_and_300_read(published: Any, uk: RuleBook) -> None:
    (ties,) = fitted(uk, [], top=[(0, 2700), (5650, 6000), (11300, 2700)]).ties

    def top(at: float) -> float:
        return 6000 - abs(at - 5650) * 3300 / 5650

    near = sorted(t.at for t in ties.ties if 0 < top(t.at) - t.level <= 300 and 500 < t.at < 10800)
    ours = max(b - a for a, b in pairwise(near)) <= 225.01
    published(
        "NHBC-08", "within 300 of a gable top, ties no more than 225 apart", True, ours, document=NHBC, clause="6.1.18 Table 10"
    )


@pytest.mark.parametrize("cavity", [50, 75, 76, 100, 150, 151, 300])
def test_6_1_18_embedment_50_each_leaf_read(published: Any, uk: RuleBook, cavity: float) -> None:
    (ties,) = fitted(uk, [], cavity=cavity).ties
    assert ties.length is not None
    assert uk.get("tie.embedment").number == 50
    ours = (ties.length - cavity) / 2 >= 50
    published("NHBC-09", f"cavity of {cavity:g}, 50 in each leaf", True, ours, document=NHBC, clause="6.1.18")


def test_6_1_18_laps_225_read(uk: RuleBook) -> None:
    lengths = fitted(uk, [{**WINDOW, "width": 4810}]).bed_reinforcement
    assert {(r.span.length, r.laps, r.lap, r.with_laps) for r in lengths if r.leaf == "W1/outer"} == {(6010, 2, 225, 6460)}


@pytest.mark.parametrize(("span", "simple", "with_tray"), [(1200, 100, 150), (1201, 150, 150)])
def test_6_1_12_table_5_bearings_read(published: Any, uk: RuleBook, span: float, simple: float, with_tray: float) -> None:
    outer, inner = fitted(uk, [{**WINDOW, "width": span}]).lintels
    assert (outer.bearing_start, inner.bearing_start) == (outer.bearing_end, inner.bearing_end)
    for which, printed, lintel in (("with tray", with_tray, outer), ("simple", simple, inner)):
        check, given = ("NHBC-11" if span == 1200 else "NHBC-12"), f"lintel over {span} mm, {which}, bearing"
        published(check, given, printed, lintel.bearing_start, unit="mm", document=NHBC, clause="6.1.12 Table 5")


def test_6_11_5_first_two_beds_above_and_below_read(published: Any, uk: RuleBook) -> None:
    lengths = [r for r in fitted(uk, [WINDOW]).bed_reinforcement if r.leaf == "W1/outer"]
    assert [r.level - 2100 for r in lengths if r.level > 2100] == [75, 150]
    assert [900 - r.level for r in lengths if r.level < 900] == [150, 75]
    for where, beds in (("above", [r for r in lengths if r.level > 2100]), ("below", [r for r in lengths if r.level < 900])):
        published("NHBC-20", f"reinforced beds {where} an opening", 2, len(beds), document=NHBC, clause="6.11.5")


def test_render_guidance_600_past_the_opening_quoted(published: Any, uk: RuleBook) -> None:
    (span,) = {r.span for r in fitted(uk, [WINDOW]).bed_reinforcement}
    for side, ours in (("left", 4000 - span.start), ("right", span.end - 5810)):
        published(
            "NHBC-21",
            f"reinforcement past an opening, {side}",
            600,
            ours,
            unit="mm",
            document=NHBC,
            clause="render guidance",
            status="quoted",
        )


@pytest.mark.parametrize(
    ("cavity", "length"),
    [
        *[(50, 200), (75, 200), (76, 225), (100, 225), (101, 250), (125, 250), (126, 275), (150, 275)],
        *[(151, 300), (175, 300), (176, 325), (200, 325), (201, 350), (225, 350), (226, 375), (250, 375)],
        *[(251, 400), (275, 400), (276, 425), (300, 425), (301, None)],
    ],
)
def test_pd_6697_tie_length_by_cavity_quoted(published: Any, uk: RuleBook, cavity: float, length: float | None) -> None:
    published(
        "PDT-01 to PDT-03",
        f"cavity of {cavity} mm, tie",
        length,
        fitted(uk, [], cavity=cavity).ties[0].length,
        unit="mm",
        status="quoted",
    )


@pytest.mark.parametrize(("across", "printed", "half_digit"), [(900, 2.47, 0.005), (750, 2.963, 0.0005)])
def test_ties_a_square_metre_of_a_large_wall_quoted(published: Any, across: float, printed: float, half_digit: float) -> None:
    """900 x 450: 2.47 as printed (quoted); 750 x 450: 2.963 (derived). Edges come to nothing on so long a wall."""
    length = across / 2 * 100_001
    odd, even = columns(Span(0, length), across)
    check, status = ("PDT-07", "quoted") if across == 900 else ("PDT-08", "derived")
    ours = (len(odd) + len(even)) / (length / 1000 * 0.9)
    published(
        check,
        f"ties at {across:g} x 450, a m2",
        printed,
        ours,
        within=half_digit,
        status=status,
        document="Trade web page on wall ties",
    )
