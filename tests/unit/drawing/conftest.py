"""Designs to draw: plain walls made by hand with everything in them, and two buildings through all stages.

The folder is on the path so that tests can import `reading`.
"""

import sys
from pathlib import Path

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
    Strip,
    Unit,
    Wall,
    Zone,
)
from elevgen.core.geometry import Point, Rect, Span, subtract
from elevgen.coursing.model import Course, Coursing, LeafCoursing, Pattern, Perpend, Piece, Placement, UnitCount, UnitMass
from elevgen.fittings.model import BedReinforcement, DampCourse, Fittings, JointParts, Lintel, Tie, WallTies
from elevgen.joints.model import JointPlan, JointWidth, MovementJoint, Panel, RunPlacement
from elevgen.pipeline import design_file
from elevgen.result import Design, Finding
from elevgen.rules.book import RuleBook
from elevgen.spec.models import Spec

sys.path.insert(0, str(Path(__file__).parent))
ROOT = Path(__file__).parents[3]
BRICK = Unit("facing", "clay", 215, 65, 102.5, 10)
BLOCK = Unit("dense_block_140", "dense_concrete", 440, 215, 140, 10)
MASSES = (UnitMass("dense_block_140", 30.46, False, 20.0), UnitMass("facing", 3.2, False, 20.0))
BASE = -150.0
BASIS = ("movement_joint.spacing.normal.clay",)

Openings = tuple[tuple[str, float, float, float, float], ...]
"""Id, left reveal, width, sill, height."""


class Bricklayer:
    """Lays plain courses between voids, keeping each distinct stretch once."""

    def __init__(self) -> None:
        self.patterns: dict[tuple[str, float, bool], Pattern] = {}

    def lay(self, leaf: Leaf, gaps: tuple[Span, ...]) -> LeafCoursing:
        unit = leaf.zones[0].unit
        top = leaf.top.lowest(leaf.span)
        count = int((top - BASE) // unit.gauge)
        courses, placements = [], []
        for k in range(1, count + 1):
            level = BASE + (k - 1) * unit.gauge + unit.joint
            courses.append(Course(k, unit.name, level, unit.joint, unit.height, leaf.span))
            holes = [v.along for v in leaf.voids if v.levels.overlaps(Span(level, level + unit.height))]
            for span in subtract(leaf.span, (*holes, *gaps)):
                pattern = self.pattern(unit, round(span.length, 3), k % 2 == 0)
                placements.append(Placement(k, level, pattern.id, span))
        return LeafCoursing(leaf.id, tuple(courses), tuple(placements), (), (UnitCount(unit.name, 700, 43),), 1.0, 1.0, ())

    def pattern(self, unit: Unit, length: float, odd: bool) -> Pattern:
        key = (unit.name, length, odd)
        if key not in self.patterns:
            pieces, perpends, at = [], [], 0.0
            while length - at > 1e-6:
                whole = unit.length / 2 if odd and at == 0 else unit.length
                size = min(whole, length - at)
                pieces.append(Piece(at, size, "full" if size == unit.length else "cut"))
                at += size
                if length - at > 1e-6:
                    wide = min(unit.joint, length - at)
                    perpends.append(Perpend(at, wide))
                    at += wide
            name = f"{unit.name}.{len(self.patterns) + 1}"
            self.patterns[key] = Pattern(name, unit.name, length, unit.height, False, tuple(pieces), tuple(perpends))
        return self.patterns[key]


def wall_of(wall_id: str, start: Point, end: Point, leaves: tuple[str, ...], openings: Openings, strip: bool) -> Wall:
    length = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    made = tuple(Opening(i, "window", Rect(at, sill, at + width, sill + high)) for i, at, width, sill, high in openings)
    groups = [OpeningGroup(f"{wall_id}-G{n}", (o.id,), o.rect, ()) for n, o in enumerate(made, start=1)]
    if strip:
        a, b = made[-2], made[-1]
        pier = Strip("pier", Rect(a.rect.right, a.rect.bottom, b.rect.left, a.rect.top), (a.id, b.id))
        clear = Rect(a.rect.left, a.rect.bottom, b.rect.right, a.rect.top)
        groups[-2:] = [OpeningGroup(f"{wall_id}-G{len(groups)}", (a.id, b.id), clear, (pier,))]
    return Wall(
        wall_id, "South", "cavity", start, end, length, "face", leaves, 100, 342.5, False, made, tuple(groups), (), "place"
    )


def leaf_of(wall: Wall, side: str, unit: Unit, offset: float, top: float, inset: float) -> Leaf:
    span = Span(inset, wall.length - inset)
    stopped = (LeafEnd("stopped", span.start, span.start), LeafEnd("stopped", span.end, span.end))
    voids = tuple(o.rect for o in wall.openings) + tuple(s.rect for g in wall.groups for s in g.strips)
    return Leaf(
        id=f"{wall.id}/{side}",
        wall=wall.id,
        side=side,  # type: ignore[arg-type]
        zones=(Zone(unit, Span(BASE, top)),),
        bond="stretcher",
        thickness=unit.width,
        offset=offset,
        span=span,
        start_end=stopped[0],
        finish_end=stopped[1],
        base=Profile(((0.0, BASE), (wall.length, BASE))),
        top=Profile(((0.0, top), (wall.length, top))),
        voids=voids,
        exposed=side == "outer",
    )


def joint_of(number: int, leaf: Leaf, at: float, top: float) -> MovementJoint:
    width = JointWidth(12.0, None, 12.0)
    return MovementJoint(
        f"MJ{number}", leaf.wall, leaf.id, at, Span(BASE, top), width, False, "spacing, clear of the bearings", BASIS
    )


def make_design(length: float, top: float, openings: Openings, joints: tuple[float, ...] = (), strip: bool = False) -> Design:
    wall = wall_of("W1", (0.0, 0.0), (length, 0.0), ("W1/outer", "W1/inner"), openings, strip)
    outer = leaf_of(wall, "outer", BRICK, 0.0, top, 0.0)
    inner = leaf_of(wall, "inner", BLOCK, 202.5, top, 150.0)
    placed = tuple(joint_of(n, outer, at, top) for n, at in enumerate(joints, start=1))
    bricklayer = Bricklayer()
    laid = (bricklayer.lay(outer, tuple(j.gap for j in placed)), bricklayer.lay(inner, ()))
    lintels, beds = [], []
    for leaf in (outer, inner):
        for group in wall.groups:
            c, name = group.clear, f"{leaf.side[0]}-{group.id}"
            lintels.append(Lintel(f"L-{name}", "W1", leaf.id, group.openings, c.top, c.along, 150, 150, None, BASIS))
            course = round((c.top - BASE) / leaf.zones[0].unit.gauge) + 1
            span = Span(max(c.left - 600, leaf.span.start), min(c.right + 600, leaf.span.end))
            for k in (course, course + 1):
                level = BASE + k * leaf.zones[0].unit.gauge
                beds.append(
                    BedReinforcement(
                        f"R-{name}-{k}", "W1", leaf.id, k, level, span, 1, 225, (2700.0, 500.0), group.openings, BASIS
                    )
                )
    ties = tuple(
        Tie(at, level, "field")
        for level in range(300, int(top), 450)
        for at in range(225, int(length), 900)
        if not any(v.left < at < v.right and v.bottom < level < v.top for v in outer.voids)
    )
    panels = tuple(
        Panel(f"P{n}", "W1", outer.id, s, top - BASE)
        for n, s in enumerate(subtract(outer.span, [j.gap for j in placed]), start=1)
    )
    nodes = (RunNode("N1", "end", ((outer.id, 0.0),)), RunNode("N2", "end", ((outer.id, length),)))
    run = Run("R1", (RunEdge("E1", outer.id, outer.span, "N1", "N2"),), nodes, length, False)
    spec = Spec.model_validate(
        {
            "spec": 1,
            "project": {"title": "Test wall", "number": "T-1", "revision": "B", "date": "2026-03-02"},
            "leaves": {"outer": {"zones": [{"unit": "facing"}]}},
            "wall_types": {"cavity": {"outer": "outer"}},
            "walls": [{"id": "W1", "type": "cavity", "start": [0, 0], "end": [length, 0], "top": top}],
        }
    )
    return Design(
        name="test",
        spec=spec,
        spec_sha256="0" * 64,
        rules=RuleBook("uk", "test", "2026", ("uk",), {}, {}, {}, {}),
        rules_used=(),
        building=Building((wall,), (outer, inner), (), (BRICK, BLOCK)),
        runs=(run,),
        plan=JointPlan(placed, (RunPlacement("R1", True, tuple(j.id for j in placed), len(placed), ()),), panels),
        coursing=Coursing(tuple(bricklayer.patterns.values()), laid, masses=MASSES),
        fittings=Fittings(
            tuple(lintels),
            tuple(beds),
            (WallTies("W1", ties, 225, True, BASIS),),
            (DampCourse("DPC1", "W1", outer.id, 0.0, outer.span, 102.5, 1, 100, BASIS),),
            (),
            tuple(JointParts(j.id, top - BASE, 12, 92.5, 12, 10, 2, 15, 6, BASIS) for j in placed),
        ),
        findings=(
            Finding("F1", "short-return", "fail", "W1/outer", "A return of 440 mm is shorter than 675 mm.", leaves=("W1/outer",)),
            Finding("F2", "tie-spacing", "warn", "W1/inner", "Ties 910 mm apart.", leaves=("W1/inner",)),
            Finding("F3", "gauge", "note", "W1/outer", "Not for the sheet.", leaves=("W1/outer",)),
        ),
    )


SMALL: Openings = (("A", 1347.5, 910, 0, 2100), ("B", 3490, 1210, 750, 1350), ("C", 4789, 610, 750, 1350))
LONG: Openings = (
    *(("G1", 997, 1250, 0, 2010), ("G2", 11855, 750, 75, 2200), ("F1", 5276, 750, 3150, 2200)),
    *(("F2", 13664, 819, 3150, 750), ("F3", 14583, 2800, 3150, 2400), ("F4", 13664, 819, 4050, 750)),
)


@pytest.fixture(scope="session")
def small() -> Design:
    """A 6140 mm wall with a door, two windows 89 mm apart, one joint."""
    return make_design(6140.0, 2700.0, SMALL, (2790.0,), strip=True)


@pytest.fixture(scope="session")
def long_wall() -> Design:
    """A 17.8 m wall on two storeys with joints near one another."""
    return make_design(17800.0, 6609.0, LONG, (4005.0, 4905.0, 9550.0))


@pytest.fixture(scope="session")
def duplex() -> Design:
    """A real building through all stages: two storeys, strips that cannot be built, 17.8 m faces."""
    return design_file(ROOT / "tests" / "data" / "duplex.json")


@pytest.fixture(scope="session")
def studio() -> Design:
    """The demo building through all stages: two zones in a leaf, a gable, an internal wall."""
    return design_file(ROOT / "specs" / "studio.json")
