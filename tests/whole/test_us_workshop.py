"""A workshop in the United States, drawn by the set `us`: everything an American bricklayer marks lies on the tape in inches.

Heights of courses: TN 10B (3C = 8 in read; its fractions, to 1/16 in, from memory). Lengths: n modules of 8 in less a joint.
"""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from elevgen import pipeline
from elevgen.core.figures import feet_and_inches
from elevgen.drawing.board import written
from elevgen.drawing.compose import compose
from elevgen.drawing.scene import Scene
from elevgen.result import Design
from elevgen.takeoff.measure import measure

SPEC = Path(__file__).parents[1] / "data" / "us-workshop.json"
INCH, JOINT = 25.4, 3 / 8


@pytest.fixture(scope="module")
def workshop() -> Design:
    return pipeline.design_file(SPEC)


@pytest.fixture(scope="module")
def scene(workshop: Design) -> Scene:
    return compose(workshop)


def texts(scene: Scene, leaf: str) -> set[str]:
    view = scene.view(leaf)
    return {t.text for t in written(view.primitives, view.scale)}


@pytest.mark.parametrize("leaf", ["W1/outer", "W2/outer", "PA/outer"])
def test_three_courses_of_modular_brick_come_to_eight_inches(workshop: Design, leaf: str) -> None:
    (laid,) = (one for one in workshop.coursing.leaves if one.leaf == leaf)
    base = workshop.building.leaf(leaf).base.lowest(workshop.building.leaf(leaf).span)
    tops = [(course.level + course.height - base) / INCH for course in laid.courses]
    assert tops == pytest.approx([8 / 3 * n for n in range(1, len(tops) + 1)], abs=1e-6)


def test_courses_of_block_come_to_eight_inches(workshop: Design) -> None:
    for leaf in ("W1/inner", "W2/inner", "B1/outer", "B2/outer"):
        (laid,) = (one for one in workshop.coursing.leaves if one.leaf == leaf)
        assert [course.bed / INCH for course in laid.courses] == pytest.approx([JOINT] * len(laid.courses), abs=1e-6)


def test_the_gauge_rod_says_it_in_sixteenths(scene: Scene) -> None:
    """From the underside of the first bed up, and by level: the first three courses are under the damp-proof course."""
    rods = texts(scene, "W1/outer")
    for rod in (
        '2 11/16" 1',
        '5 5/16" 2',
        '8" 3',
        "1' 1 5/16\" 5",
        "1' 4\" 6",
        '-5 5/16" 1',
        '±0" 3',
        '+2 11/16" 4',
        "+4' 0\" 21",
    ):
        words, course = rod.rsplit(" ", 1)
        assert any(text.split() == [*words.split(), course] for text in rods) or {words, course} <= rods, rod


def test_the_gauge_table_tells_courses_that_come_to_whole_inches(scene: Scene) -> None:
    said = {
        t.text
        for sheet in scene.sheets
        for t in written(sheet.primitives)
        if t.text.startswith(("3 courses", "4 courses", "1 course"))
    }
    assert said == {'3 courses = 8"', '1 course = 8"'}


def test_middles_of_joints_are_on_the_module(workshop: Design) -> None:
    """n modules of 8 in less half a joint, along each wall of those whose module begins at its start."""
    for joint in workshop.plan.joints:
        modules = (joint.at / INCH + JOINT / 2) / 8
        assert modules == pytest.approx(round(modules * 2) / 2, abs=1e-6), joint.id


def test_joints_are_whole_sixteenths_wide_and_no_narrower_than_asked(workshop: Design) -> None:
    for joint in workshop.plan.joints:
        sixteenths = joint.width.built / INCH * 16
        assert sixteenths == pytest.approx(round(sixteenths), abs=1e-9), joint.id
        asked = [joint.width.calculated, joint.width.rule_of_thumb]
        least = max(width for width in asked if width is not None)
        assert least - 0.01 <= joint.width.built < least + INCH / 16


def test_most_perpends_of_a_course_are_a_module_apart(workshop: Design) -> None:
    """Where a movement joint wider than a mortar joint stands, the perpends beside it give way by hundredths of an inch."""
    (laid,) = (one for one in workshop.coursing.leaves if one.leaf == "B2/outer")
    gaps = []
    for placed in laid.placements:
        middles = [p.at + p.width / 2 for p in workshop.coursing.pattern(placed.pattern).perpends]
        gaps += [(b - a) / INCH for a, b in pairwise(middles)]
    on = [gap for gap in gaps if abs(gap - 16) < 1 / 16]
    assert len(on) > 0.8 * len(gaps)


def test_openings_and_lintels_are_exact(workshop: Design) -> None:
    by_id = {lintel.id: lintel for lintel in workshop.fittings.lintels}
    assert feet_and_inches(by_id["W1/outer/L-D1"].length) == "12' 8 3/8\""
    assert by_id["W1/outer/L-D1"].bearing_start == pytest.approx(4 * INCH)
    assert feet_and_inches(by_id["W1/inner/L-D1"].length) == "13' 4 3/8\""
    assert by_id["W1/inner/L-D1"].bearing_end == pytest.approx(8 * INCH)


def test_every_opening_of_the_cavity_wall_has_its_own_tray(workshop: Design) -> None:
    """Levels of heads differ by what adding inches leaves over; trays are told from the left all the same."""
    said = {tray.opening: (round(tray.span.start / INCH, 3), round(tray.span.end / INCH, 3)) for tray in workshop.fittings.trays}
    assert said == {
        "D1": (47.625, 208.0),
        "V1": (271.625, 320.0),
        "V2": (383.625, 432.0),
        "V3": (167.625, 200.0),
    }


def test_no_lap_is_short_by_a_hair(workshop: Design) -> None:
    """Courses cut anew by an opening lapped 0.0113 mm too little where whole units took the place of pieces as good as whole."""
    assert [(f.where, f.text) for f in workshop.findings if f.code == "lap" and f.severity != "pass"] == []


def test_nothing_fails(workshop: Design) -> None:
    assert [(f.code, f.where) for f in workshop.findings if f.severity == "fail"] == []


def test_the_angles_are_told(workshop: Design) -> None:
    said = [f.text for f in workshop.findings if f.code == "lintel-angle"]
    assert any("L-D1: over 12' 0 3/8\"" in text and "6 x 3 1/2 in" in text for text in said)
    assert any("L-V1 and L-V2" in text and "3 x 3 in" in text for text in said)


def test_rules_of_thumb_are_those_for_modular_brick_and_block(workshop: Design) -> None:
    thumbs = {(t.source.key, t.unit): t for t in measure(workshop).thumbs}
    bricks, blocks = thumbs["thumb.units.half_brick", "nr/m2"], thumbs["thumb.units.block", "nr/m2"]
    assert bricks.rule * 0.3048**2 == pytest.approx(6.75)
    assert bricks.ours == pytest.approx(bricks.rule, rel=0.01)
    assert blocks.rule * 0.3048**2 == pytest.approx(1.125)
    assert blocks.ours == pytest.approx(blocks.rule, rel=0.03)


def test_the_scale_bar_is_in_feet_or_inches(scene: Scene) -> None:
    for sheet in scene.sheets:
        said = [t.text for t in written(sheet.primitives)]
        assert [text for text in said if re.fullmatch(r"\d+ (m|mm)", text)] == []
        assert [text for text in said if re.fullmatch(r"\d+ (ft|in)", text)]
