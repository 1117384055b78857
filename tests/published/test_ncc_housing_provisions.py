"""Australia: the Housing Provisions of the National Construction Code, AS 4773.1 and AS 3700, as the au rule set carries them.

Bibliography: NCC 2022 Housing Provisions 5.2.3, 5.3, Table 5.6.5 (read); 5.6.8 and BCA 3.3.1 on training slides and an answer
page, 5.6.7 on a page that sums up the code (quoted); AS 4773.1 on the same slides (quoted); AS 3700 4.8 in the Bricks & Pavers
Technical Manual 1.209 (quoted). Check-values AU-07, AU-09, AU-10, AU-11. What is from memory says so in its test's name.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from elevgen import pipeline
from elevgen.core.sourced import Value
from elevgen.result import Design
from elevgen.rules.book import RuleBook
from elevgen.rules.key import MATERIALS
from elevgen.rules.loader import load_book

HOUSE = Path(__file__).parents[1] / "data" / "au-house.json"


@pytest.fixture(scope="module")
def au() -> RuleBook:
    return load_book("au")


@pytest.fixture(scope="module")
def house() -> Design:
    """A cavity house with a door of 970, a window of 2170 and one of 490, all bricks of the set's own."""
    return pipeline.design(pipeline.load(HOUSE))


SPACING = "movement_joint.spacing"


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        *(pytest.param(f"{SPACING}.normal.{m}", 6000.0, "quoted", id=f"AU-09 straight wall 6 m, {m}") for m in MATERIALS),
        *(pytest.param(f"{SPACING}.with_openings.{m}", 5000.0, "quoted", id=f"AU-09 with openings 5 m, {m}") for m in MATERIALS),
        pytest.param("movement_joint.with_openings.width", 900.0, "quoted", id="AU-09 openings over 900 wide"),
        pytest.param("movement_joint.with_openings.height", 900.0, "quoted", id="AU-09 openings over 900 high"),
        pytest.param("movement_joint.corner.height_fraction", 1.0, "quoted", id="no nearer a corner than the wall is high"),
        *(pytest.param(f"movement_joint.width.nominal.{m}", 10.0, "quoted", id=f"AU-09 joint 10 mm, {m}") for m in MATERIALS),
        pytest.param("movement_joint.high_wall.height", 8500.0, "quoted", id="AU-09 walls over 8.5 m"),
        pytest.param("movement_joint.high_wall.width", 15.0, "quoted", id="AU-09 joint 15 mm in them"),
        pytest.param("movement_joint.left_open", 5.0, "quoted", id="AU-07 5 mm left"),
        pytest.param("movement.thermal.low.clay", 0.008, "quoted", id="AS 3700 4.8 thermal"),
        pytest.param("movement.thermal.high.clay", 0.008, "quoted", id="AS 3700 4.8 thermal, other end"),
        pytest.param("movement.moisture.low.clay", 0.3, "quoted", id="growth from 0.3"),
        pytest.param("movement.moisture.high.clay", 1.6, "quoted", id="growth to 1.6"),
        pytest.param("tie.embedment", 50.0, "read", id="5.6.5 embedment 50"),
        pytest.param("lintel.bearing.short.simple", 100.0, "quoted", id="AU-10 bearing 100"),
        pytest.param("lintel.bearing.long", 150.0, "quoted", id="AU-10 bearing 150"),
        pytest.param("lintel.bearing.short_span", 1000.0, "quoted", id="5.6.7 up to 1 m"),
        pytest.param("lintel.needed_over", 500.0, "read", id="AU-11 no steel lintel up to 500"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(
    au: RuleBook, carried: Callable[..., None], key: str, printed: Value, status: str
) -> None:
    carried(au.get(key).document, key, printed, status, country="au")


@pytest.mark.parametrize(
    ("key", "figure"),
    [
        ("movement_joint.at_opening.within", 1200.0),
        ("movement_joint.change_of_height.fraction", 0.2),
        ("tie.spacing.horizontal", 600.0),
        ("tie.spacing.vertical", 600.0),
        ("tie.edge.distance", 300.0),
        ("tie.top.vertical", 300.0),
        ("waste.units", 10.0),
    ],
)
def test_figures_from_memory_say_so(au: RuleBook, carried: Callable[..., None], key: str, figure: float) -> None:
    carried(au.get(key).document, key, figure, "memory", country="au")


@pytest.mark.parametrize(
    ("key", "figure", "document", "status"),
    [
        ("movement_joint.width.nominal.clay", 20.0, "AS 3700", "quoted"),
        (f"{SPACING}.normal.clay", 15000.0, "arithmetic on AS 3700 4.8", "derived"),
        (f"{SPACING}.normal.dense_concrete", 8000.0, "Australian trade web page", "quoted"),
        (f"{SPACING}.normal.lightweight_concrete", 6000.0, "Australian trade web page", "quoted"),
        (f"{SPACING}.with_openings.clay", 6000.0, "Australian trade web page", "quoted"),
        ("tie.edge.distance", 300.0, "NCC Housing Provisions", "read"),
    ],
)
def test_what_documents_say_otherwise_is_an_alternative(
    au: RuleBook, carried: Callable[..., None], key: str, figure: float, document: str, status: str
) -> None:
    assert document in {a.document for a in au.alternatives[key]}
    carried(document, key, figure, status, country="au")


def test_spacing_that_closes_a_joint_by_15_mm_derived(au: RuleBook) -> None:
    """AU-08: 15 mm over growth of 1.0 mm to a metre and no change of temperature is 15 m."""
    growth = next(a.number for a in au.alternatives["movement.moisture.high.clay"] if a.note.startswith("usual"))
    (spacing,) = [a.number for a in au.alternatives[f"{SPACING}.normal.clay"] if a.status == "derived"]
    assert spacing / 1000 * growth == 15


def test_the_course_documents_disagree_on_is_carried(au: RuleBook) -> None:
    """AU-05: seven courses 602 (quoted) or 600 mm (read)."""
    brick, usual = au.units["brick_76"], au.get("joint.nominal")
    (other,) = au.alternatives["joint.nominal"]
    assert 7 * (brick.height + usual.number) == 602
    assert 7 * (brick.height + other.number) == pytest.approx(600, abs=1e-6)


@pytest.mark.parametrize(("opening", "bearing"), [("D1", 100), ("W1", 150)])
def test_bearings_of_a_drawn_house(house: Design, opening: str, bearing: float) -> None:
    """AU-10 on either side of 1 m: a door of 970 and a window of 2170, both leaves."""
    lintels = [x for x in house.fittings.lintels if x.openings == (opening,)]
    assert {x.leaf for x in lintels} == {"S/outer", "S/inner"}
    assert {x.bearing_start for x in lintels} | {x.bearing_end for x in lintels} == {bearing}


def test_joints_of_a_drawn_house(house: Design) -> None:
    """AU-09: 6 m at most in one piece, 10 mm wide; Table 5.6.5 (read): a tie within 300 mm of each side of every joint."""
    joints = house.plan.joints
    assert joints
    assert {joint.width.built for joint in joints} == {10}
    for wall in house.fittings.ties:
        for joint in (j for j in joints if j.wall == wall.wall):
            for side in (-1, 1):
                near = [t for t in wall.ties if 0 < side * (t.at - joint.at) <= 300 + joint.width.built / 2]
                assert near, (joint.id, side)
