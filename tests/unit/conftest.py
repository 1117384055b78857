"""A small design built by hand, every figure in it worked out beside it: what the take-off and the file writers are tried on.

One cavity wall. Outer leaf 1004.5 x 300 in bricks 215 x 65, four courses, a joint 12 wide at 671, one opening 235 x 150;
inner leaf 665 x 300 of the same grid without the joint. Stretches between joint and reveals hold whole bricks, but for
one half brick at the far end of each course.
"""

from dataclasses import replace

import pytest

from elevgen.building.model import (
    Building,
    Leaf,
    LeafEnd,
    Opening,
    OpeningGroup,
    Profile,
    Run,
    RunEdge,
    RunNode,
    Unit,
    Wall,
    Zone,
)
from elevgen.core.geometry import Rect, Span
from elevgen.core.sourced import Sourced
from elevgen.coursing.cutting import cutting_of
from elevgen.coursing.model import (
    Course,
    Coursing,
    LeafCoursing,
    Misfit,
    Pattern,
    Perpend,
    Piece,
    Placement,
    UnitCount,
    UnitMass,
)
from elevgen.drawing.scene import Scene
from elevgen.fittings.model import BedReinforcement, DampCourse, Fittings, JointParts, Lintel, Tie, TiePanel, Tray, WallTies
from elevgen.joints.model import JointPlan, JointWidth, MovementJoint, Panel, Relaxed, RunPlacement
from elevgen.result import Design, Finding
from elevgen.rules.book import RuleBook
from elevgen.spec.models import Spec
from elevgen.takeoff.measure import measure
from elevgen.writers._package import Package

SPACING = Sourced(
    "movement_joint.spacing.normal.clay", 12000.0, "mm", "An invented document", "2001", "4.2", "quoted", "for these tests only"
)
BANDS = Sourced("tie.length", ((75.0, 200.0), (100.0, 225.0)), "mm", "An invented document", "2001", "7", "memory")
WASTE = {
    "waste.units": 5.0,
    "waste.mortar": 10.0,
    "waste.bed_reinforcement": 2.5,
    "waste.sealant": 10.0,
    "waste.filler": 7.0,
    "waste.lintels": 0.0,
}

FACING = Unit("facing", "clay", 215.0, 65.0, 102.5, 10.0)
INNER = Unit("inner block", "aircrete", 215.0, 65.0, 100.0, 10.0)
MASSES = (UnitMass("facing", 3.5, True, 20.0), UnitMass("inner block", 21.25, False, 20.0))
HOLE = Rect(215.0, 75.0, 450.0, 225.0)


def _pattern(name: str, unit: str, lengths: tuple[float, ...]) -> Pattern:
    """Pieces side by side with 10 mm perpends; a piece under 215 is a cut one."""
    pieces, perpends, at = [], [], 0.0
    for index, length in enumerate(lengths):
        if index:
            perpends.append(Perpend(at, 10.0))
            at += 10.0
        pieces.append(Piece(at, length, "full" if length == 215.0 else "cut"))
        at += length
    return Pattern(name, unit, at, 65.0, False, tuple(pieces), tuple(perpends))


PATTERNS = (
    _pattern("P1", "facing", (215.0, 215.0, 215.0)),
    _pattern("P2", "facing", (215.0, 102.5)),
    _pattern("P3", "facing", (215.0,)),
    _pattern("P4", "inner block", (215.0, 215.0, 215.0)),
    _pattern("P5", "inner block", (215.0,)),
)


def _laid(leaf: str, unit: str, whole: str, single: str, beyond: str | None) -> LeafCoursing:
    end = 1004.5 if beyond else 665.0
    courses = tuple(Course(k, unit, 75.0 * k - 65.0, 10.0, 65.0, Span(0.0, end)) for k in (1, 2, 3, 4))
    placements = []
    for course in courses:
        stretches = [(whole, 0.0, 665.0)] if course.number in (1, 4) else [(single, 0.0, 215.0), (single, 450.0, 665.0)]
        if beyond:
            stretches.append((beyond, 677.0, 1004.5))
        placements += [Placement(course.number, course.level, p, Span(a, b)) for p, a, b in stretches]
    full, cut, outer = (14, 4, True) if beyond else (10, 0, False)
    beds = 2 * (665.0 + 327.5 * outer) * 10 + 2 * (430.0 + 327.5 * outer) * 10
    perpends = (2 * (2 + outer) + 2 * outer) * 10.0 * 65.0
    return LeafCoursing(
        leaf,
        courses,
        tuple(placements),
        (),
        (UnitCount(unit, full, cut),),
        full * 215.0 * 65.0 + cut * 102.5 * 65.0,
        beds + perpends,
        (Misfit(leaf, "head of A1", 2110.0, 2100.0, 2175.0),) if outer else (),
    )


def _leaf(side: str, unit: Unit, span: Span, offset: float) -> Leaf:
    stopped = LeafEnd("stopped", span.start, span.start), LeafEnd("stopped", span.end, span.end)
    zones = (Zone(unit, Span(0.0, 150.0)), Zone(unit, Span(150.0, 300.0)))
    flat = [Profile(((span.start, level), (span.end, level))) for level in (0.0, 300.0)]
    name = f"W1/{side}"
    return Leaf(name, "W1", side, zones, "stretcher", unit.width, offset, span, *stopped, *flat, (HOLE,), side == "outer")


def _building() -> Building:
    outer, inner = _leaf("outer", FACING, Span(0.0, 1004.5), 0.0), _leaf("inner", INNER, Span(0.0, 665.0), 202.5)
    opening = Opening("A1", "window", HOLE)
    wall = Wall(
        *("W1", "South", "cavity", (0.0, 0.0), (1004.5, 0.0), 1004.5, "face", ("W1/outer", "W1/inner"), 100.0, 302.5, False),
        (opening,),
        (OpeningGroup("A1", ("A1",), HOLE, ()),),
        (),
        "place",
    )
    return Building((wall,), (outer, inner), (), (FACING, INNER))


def _fittings() -> Fittings:
    basis = ("movement_joint.spacing.normal.clay",)
    return Fittings(
        lintels=(
            Lintel("L1", "W1", "W1/outer", ("A1",), 225.0, HOLE.along, 100.0, 115.0, None, basis),
            Lintel("L2", "W1", "W1/inner", ("A1",), 225.0, HOLE.along, 100.0, 100.0, 65.0, basis),
        ),
        bed_reinforcement=(
            BedReinforcement("B1", "W1", "W1/outer", 1, 65.0, Span(20.0, 657.3), 1, 225.0, (500.0, 362.3), ("A1",), basis),
            BedReinforcement("B2", "W1", "W1/outer", 3, 215.0, Span(450.0, 657.3), 0, 225.0, (207.3,), ("A1",), basis),
            BedReinforcement("B3", "W1", "W1/inner", 1, 65.0, Span(20.0, 645.0), 0, 225.0, (625.0,), ("A1",), basis),
        ),
        ties=(
            WallTies(
                "W1",
                (
                    *(
                        Tie(100.0, 75.0, "field"),
                        Tie(190.0, 150.0, "reveal"),
                        Tie(475.0, 150.0, "reveal"),
                        Tie(640.0, 75.0, "joint"),
                    ),
                    *(Tie(671.0, level, "slip", "W1/outer") for level in (75.0, 150.0, 225.0)),
                ),
                225.0,
                False,
                basis,
                panels=(TiePanel(Span(0.0, 671.0), 1.6e5, 4, False), TiePanel(Span(671.0, 1004.5), 0.0, 0, False)),
                required=2.5,
                apart=(150.0,),
                reasons=(("field", ("tie.density",)), ("slip", ("tie.slip.vertical",))),
            ),
        ),
        damp_courses=(DampCourse("D1", "W1", "W1/outer", 0.0, Span(0.0, 1004.5), 102.5, 2, 100.0, basis),),
        trays=(Tray("T1", "W1", "A1", 225.0, Span(90.0, 590.0), 2, (200.0, 460.0, 580.0), basis),),
        joint_parts=(JointParts("J1", 300.0, 12.0, 92.5, 12.0, 10.0, 1, 15.0, 3, basis),),
    )


def _plan() -> JointPlan:
    joint = MovementJoint(
        *("J1", "W1", "W1/outer", 671.0, Span(0.0, 300.0), JointWidth(10.0, None, 12.0), False, "half way", (SPACING.key,))
    )
    placement = RunPlacement("R1", True, ("J1",), 1, (Relaxed("movement_joint.beside_opening.clear", "J1", 215.0, 300.0),))
    panels = (
        Panel("W1/outer/1", "W1", "W1/outer", Span(0.0, 665.0), 300.0),
        Panel("W1/outer/2", "W1", "W1/outer", Span(677.0, 1004.5), 300.0),
    )
    return JointPlan((joint,), (placement,), panels)


def _rules() -> RuleBook:
    values = {SPACING.key: SPACING, BANDS.key: BANDS}
    values |= {key: Sourced(key, value, "percent", "", "", "", "memory") for key, value in WASTE.items()}
    return RuleBook("uk", "Test rules", "2001", ("uk",), values, {}, {}, {"lintel.length_step": "no source that may be coded"})


def _spec() -> Spec:
    return Spec.model_validate(
        {
            "spec": 1,
            "project": {"title": "Hen house", "number": "T-7", "date": "2026-02-03", "client": "Nobody"},
            "units": {"inner block": {"material": "aircrete", "length": 215, "height": 65, "width": 100}},
            "leaves": {"outer": {"zones": [{"unit": "facing"}]}, "inner": {"zones": [{"unit": "inner block"}]}},
            "wall_types": {"cavity": {"outer": "outer", "inner": "inner", "cavity": 100}},
            "walls": [
                {
                    "id": "W1",
                    "name": "South",
                    "type": "cavity",
                    "start": [0, 0],
                    "end": [1004.5, 0],
                    "top": 300,
                    "openings": [{"id": "A1", "kind": "window", "at": 215, "width": 235, "sill": 75, "height": 150}],
                }
            ],
            "measurement": {"waste": {"ties": 12.5}},
        }
    )


def _findings() -> tuple[Finding, ...]:
    return (
        Finding("F1", "joint-spacing", "fail", "W1/outer", "9 m without a joint", 9000.0, "<=", 6000.0, "mm", SPACING),
        Finding("F2", "lintel-step", "not_checked", "W1", "the rule set has no stock lengths"),
        Finding("F3", "short-return", "warn", "W1", "short", 400.0, ">=", 675.0, "mm", SPACING, "tied to steel (engineer)"),
    )


@pytest.fixture
def small_design() -> Design:
    edge = RunEdge("W1/outer", "W1/outer", Span(0.0, 1004.5), "n1", "n2")
    nodes = (RunNode("n1", "end", (("W1/outer", 0.0),)), RunNode("n2", "end", (("W1/outer", 1004.5),)))
    laid = (
        _laid("W1/outer", "facing", "P1", "P3", "P2"),
        _laid("W1/inner", "inner block", "P4", "P5", None),
    )
    return Design(
        name="hen-house",
        spec=_spec(),
        spec_sha256="0" * 63 + "7",
        rules=_rules(),
        rules_used=(SPACING, BANDS),
        building=_building(),
        runs=(Run("R1", (edge,), nodes, 1004.5, False),),
        plan=_plan(),
        coursing=Coursing(PATTERNS, laid, cutting_of(_building(), PATTERNS, laid, 4.0, 1500.0), MASSES),
        fittings=_fittings(),
        findings=_findings(),
    )


@pytest.fixture
def small_package(small_design: Design) -> Package:
    return Package(small_design, measure(small_design), Scene("Hen house", "", (), (), (), (), ()))


@pytest.fixture
def renamed(small_design: Design):
    """A function that gives the small design with another project text, unit name, finding text and reason."""

    def with_text(text: str) -> Package:
        project = small_design.spec.project.model_copy(update={"title": text, "client": text, "drawn_by": text})
        spec = small_design.spec.model_copy(update={"project": project})
        findings = tuple(replace(finding, text=text, where=text) for finding in small_design.findings)
        joints = tuple(replace(joint, reason=text) for joint in small_design.plan.joints)
        design = replace(small_design, spec=spec, findings=findings, plan=replace(small_design.plan, joints=joints))
        return Package(design, measure(design), Scene("Hen house", "", (), (), (), (), ()))

    return with_text
