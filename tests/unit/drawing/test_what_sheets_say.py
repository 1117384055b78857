"""What a bricklayer reads off a sheet: steps, walls met, openings, names of dimensions, scale, ties, flags."""

import json
from itertools import combinations, pairwise

import pytest

from elevgen.core.geometry import Rect
from elevgen.core.measures import level, millimetres
from elevgen.drawing.board import written
from elevgen.drawing.compose import compose
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.hold_points import hold_points
from elevgen.drawing.listing import in_rows
from elevgen.drawing.scene import Dimension, Line, Polyline, Role, Scene, Symbol, Text
from elevgen.drawing.schedules import schedules
from elevgen.pipeline import design, vocabulary
from elevgen.result import Design
from elevgen.spec.load import parse_text

BASE = [[0, -225], [3365, -225], [3365, -675], [8990, -675]]
TOP = [[0, 1800], [4490, 2400], [6740, 2400], [6740, 2100], [8990, 2100]]


def made(walls: list[dict[str, object]], **more: object) -> Design:
    spec = {
        "spec": 1,
        "units": {"facing": {"material": "clay", "length": 215, "height": 65, "width": 102.5}},
        "leaves": {"brick": {"zones": [{"unit": "facing"}]}, "block": {"zones": [{"unit": "aircrete_block_100"}]}},
        "wall_types": {"single": {"outer": "brick"}, "partition": {"outer": "block"}},
        "walls": walls,
        **more,
    }
    return design(parse_text(json.dumps(spec), "test", vocabulary()))


def wall(wall_id: str, start: list[float], end: list[float], kind: str = "single", **more: object) -> dict[str, object]:
    return {"id": wall_id, "type": kind, "start": start, "end": end, "base": -225, "top": 2400, **more}


@pytest.fixture(scope="module")
def stepped() -> Design:
    """A wall whose base steps down at 3365 and whose top rises to 4490, runs level and steps down at 6740."""
    opening = {"id": "A", "kind": "window", "at": 1340, "width": 910, "sill": 600, "height": 900}
    return made(
        [{"id": "W1", "type": "single", "start": [0, 0], "end": [8990, 0], "base": BASE, "top": TOP, "openings": [opening]}]
    )


@pytest.fixture(scope="module")
def met() -> Design:
    """A front with a partition against it, and a cross wall that the partition runs through."""
    walls = [
        wall("F", [0, 0], [7990, 0]),
        wall("P", [3000, 102.5], [3000, 4000], "partition", line="centre"),
        wall("Q", [1000, 2500], [6000, 2500], "partition", line="centre", top=2100),
    ]
    tied = {"connection": "tied"}
    return made(walls, junctions=[{"walls": ["F", "P"], **tied}, {"walls": ["P", "Q"], **tied}])


def texts(scene: Scene, view: str, role: Role | None = None) -> list[str]:
    return [p.text for p in scene.view(view).primitives if isinstance(p, Text) and (role is None or p.role is role)]


def running(scene: Scene, view: str) -> list[str]:
    """The figures turned upright under the wall."""
    low = min(p.at[1] for p in scene.view(view).primitives if isinstance(p, Text) and p.role is Role.LEVEL)
    upright = (p for p in scene.view(view).primitives if isinstance(p, Text) and p.rotation == 90 and p.at[1] < low)
    found = [p for p in upright if p.role is not Role.MARK]
    return [p.text for p in sorted(found, key=lambda p: p.at[0])]


def strings(scene: Scene, view: str) -> dict[str, list[float]]:
    """The figures of the dimension lines under a wall by name, each name on the level of its line; narrow ones included."""
    primitives = scene.view(view).primitives
    dims = [p for p in primitives if isinstance(p, Dimension) and p.axis == "x"]
    found = {}
    for line_at in sorted({d.line_at for d in dims}, reverse=True):
        scale = scene.view(view).scale
        names = [
            p.text
            for p in primitives
            if isinstance(p, Text) and p.align == "right" and p.height == 1.8 and abs(p.at[1] - line_at) < 3 * scale
        ]
        found[" ".join(names)] = [float(d.text) for d in dims if d.line_at == line_at]
    return found


def words_on(scene: Scene, view: str) -> str:
    return " ".join(p.text for s in scene.sheets if s.id.split("-")[0] == view for p in written(s.primitives))


def test_steps_and_slopes_of_base_and_top_are_set_out(stepped: Design) -> None:
    scene = compose(stepped)
    assert {"3365", "4490", "6740"} <= set(running(scene, "W1/outer"))
    found = strings(scene, "W1/outer")
    assert found["base"] == [3365, 5625]
    assert found["top"] == [4490, 2250, 2250]
    primitives = scene.view("W1/outer").primitives
    upright = [p for p in primitives if isinstance(p, Dimension) and p.axis == "y"]
    assert {-675, -225, 600, 1500} <= {round(y) for d in upright for y in (d.a[1], d.b[1])}
    # Stretches of 300 are too short for a figure at this scale: the gauge rod has their levels, in bold.
    bold = {p.text.split()[0] for p in primitives if isinstance(p, Text) and p.role is Role.LEVEL and p.bold}
    assert {level(y) for y in (-225, 600, 1500, 1800, 2100, 2400)} <= bold
    # Every flat stretch and the foot of the slope say their level; the slope's head is the flat's.
    said = [t for t in texts(scene, "W1/outer", Role.LEVEL) if t.startswith(("+", "-")) and " " not in t]
    assert sorted(said) == sorted(level(y) for y in (-225, -675, 1800, 2400, 2100))


def test_walls_of_one_level_say_nothing_of_steps(met: Design) -> None:
    scene = compose(met)
    assert not {"base", "top"} & set(strings(scene, "F/outer"))
    assert not [t for t in texts(scene, "F/outer", Role.LEVEL) if t == level(2400)]


def test_a_wall_met_is_drawn_on_the_face_it_meets_and_dimensioned(met: Design) -> None:
    scene = compose(met)
    edges = [p for p in scene.view("F/outer").primitives if isinstance(p, Polyline) and p.role is Role.MEETING]
    assert [e.points for e in edges] == [((2950.0, -225.0), (2950.0, 2400.0)), ((3050.0, -225.0), (3050.0, 2400.0))]
    assert "P tied" in texts(scene, "F/outer")
    assert running(scene, "F/outer")[:3] == ["0", "2950", "3050"]
    assert strings(scene, "F/outer")["walls met"] == [2950, 4940]  # and 100 between them, under the line
    assert "100" in texts(scene, "F/outer", Role.DIMENSION)


def test_a_crossing_is_shown_on_both_walls(met: Design) -> None:
    scene = compose(met)
    host, stem = ("P", "Q") if met.building.meetings[-1].host.startswith("P") else ("Q", "P")
    assert f"{stem} crosses, tied" in texts(scene, f"{host}/outer")
    assert f"{host} runs through, tied" in texts(scene, f"{stem}/outer")
    band = [p for p in scene.view(f"{host}/outer").primitives if isinstance(p, Polyline) and p.role is Role.MEETING]
    assert {p.points[1][1] for p in band} == {2100.0}
    gap = met.building.leaf(f"{stem}/outer").crossings[0]
    assert {millimetres(gap.left), millimetres(gap.right)} <= set(running(scene, f"{stem}/outer"))


def test_every_opening_is_in_a_table_on_every_leaf_it_is_in(duplex: Design) -> None:
    scene = compose(duplex)
    for leaf in duplex.building.leaves:
        cells = {(p.source, p.text) for s in scene.sheets if s.id.startswith(leaf.id) for p in written(s.primitives)}
        for opening in duplex.building.wall(leaf.wall).openings:
            rect = opening.rect
            for text in (opening.id, millimetres(rect.left), millimetres(rect.width), level(rect.bottom), level(rect.top)):
                assert (opening.id, text) in cells


def test_strings_of_openings_are_named_by_row(long_wall: Design, small: Design, duplex: Design) -> None:
    assert list(strings(compose(small), "W1/outer")) == ["openings", "panels", "overall"]
    names = list(strings(compose(long_wall), "W1/outer"))
    assert names == ["openings, lower row", "openings, upper row", "panels", "overall"]
    assert not [t for t in texts(compose(duplex), "W1/outer") if t.startswith("at ")]


def test_a_scale_that_does_not_fit_is_owned_up_to() -> None:
    long = [wall("W1", [0, 0], [8990, 0])]
    scene = compose(made(long, sheet={"size": "A4", "scale": 20}))
    assert scene.view("W1/outer").scale == 50
    assert "Asked for 1:20, drawn at 1:50: too large for A4." in texts(scene, "W1/outer")
    fits = compose(made(long, sheet={"size": "A1", "scale": 20}))
    assert fits.view("W1/outer").scale == 20
    assert not [t for t in texts(fits, "W1/outer") if "too large" in t]


def test_a_wall_too_long_for_its_sheet_is_parted_and_one_too_high_names_the_paper_for_it() -> None:
    assert compose(made([wall("W1", [0, 0], [40040, 0])])).view("W1/outer").scale == 50
    high = {"top": 15000}
    scene = compose(made([wall("W1", [0, 0], [9040, 0], **high)]))
    assert scene.view("W1/outer").scale == 100
    notes = [t for t in texts(scene, "W1/outer") if t.startswith("Too")]
    assert notes == ["Too high to be drawn larger on A3; A2 takes 1:50. Take positions and sizes from the tables."]
    larger = compose(made([wall("W1", [0, 0], [9040, 0], **high)], sheet={"size": "A2"}))
    assert larger.view("W1/outer").scale == 50
    assert not [t for t in texts(larger, "W1/outer") if t.startswith("Too")]


def test_ties_are_spoken_of_only_where_there_are_any(met: Design, studio: Design) -> None:
    alone = compose(made([wall("W1", [0, 0], [21000, 0])]))
    assert "formed full height, no mortar bridging" in words_on(alone, "W1/outer")
    assert "ties" not in words_on(alone, "W1/outer").replace("ties in the wall", "")
    assert "no mortar bridging, ties both sides" in words_on(compose(studio), "W1/outer")
    partition = words_on(compose(met), "P/outer")
    assert "to walls met, as marked" in partition and "Ties as marked" not in partition


def test_pointing_at_a_thing_tells_what_it_is_with_its_true_length(studio: Design, small: Design) -> None:
    scene = compose(studio)
    ties = {p.title.split(", at ")[0] for v in scene.views for p in v.primitives if isinstance(p, Symbol) and p.role is Role.TIE}
    assert {"wall tie", "wall tie beside a movement joint", "wall tie beside an opening"} <= ties
    cut = {p.title for b in scene.blocks for p in b.primitives if isinstance(p, Polyline) and p.title}
    assert "cut 102.5" in cut or "return 102.5" in cut
    shown = {(p.kind, p.length) for pattern in studio.coursing.patterns for p in pattern.pieces if not pattern.split}
    assert {f"{kind} {millimetres(length)}" for kind, length in shown if kind != "full"} <= cut
    doors = [p.title for p in compose(small).view("W1/outer").primitives if isinstance(p, Polyline) and "A, " in p.title]
    assert doors == ["window A, 910 wide, 2100 high"]


def test_pointing_at_a_thing_names_it_as_its_label_does(studio: Design) -> None:
    """Not with its wall and leaf before it: they are the drawing's own name."""
    titles = [p.title for v in compose(studio).views for p in v.primitives if isinstance(p, Polyline | Line | Symbol)]
    assert {t.split(",")[0] for t in titles} >= {
        "lintel L-W1a",
        "cavity tray T-W1a",
        "damp-proof course DPC",
        "lap of reinforcement",
    }
    assert not [t for t in titles if "outer/" in t or "inner/" in t]


@pytest.mark.parametrize("spacing", [300.0, 700.0, 1500.0, 4000.0])
def test_flags_meet_neither_flags_nor_stalks(spacing: float) -> None:
    joints = [{"at": 1500 + n * spacing} for n in range(9)]
    scene = compose(made([wall("W1", [0, 0], [36000, 0], joints=joints)], sheet={"size": "A1"}))
    primitives = [p for p in scene.view("W1/outer").primitives if p.role is Role.MOVEMENT_JOINT]
    stalks = {p.source: Rect(p.a[0], p.a[1], p.b[0], p.b[1]) for p in primitives if isinstance(p, Line)}
    flags = {p.source: box(p) for p in primitives if isinstance(p, Polyline) and not p.title}
    assert len(stalks) == len(flags) == 9
    for (_, a), (_, b) in combinations(flags.items(), 2):
        assert not (a.along.overlaps(b.along) and a.levels.overlaps(b.levels))
    for name, stalk in stalks.items():
        for other, flag in flags.items():
            crossed = flag.left < stalk.left < flag.right and flag.levels.overlaps(stalk.levels)
            assert not crossed, (name, other)
    assert all(b.left - a.left == pytest.approx(spacing) for a, b in pairwise(stalks.values()))


def box(p: Polyline) -> Rect:
    xs, ys = [x for x, _ in p.points], [y for _, y in p.points]
    return Rect(min(xs), min(ys), max(xs), max(ys))


def listed(made: Design, joints: str = "MJ") -> list[tuple[str, ...]]:
    """The rows of the tables of the first leaf that begin with a joint."""
    (facts,) = leaf_facts(made)
    return [row.cells for table in schedules(facts) for row in table.rows if row.cells[0].startswith(joints)]


def test_a_sheet_says_how_wide_a_joint_is_and_why_with_joints_alike_in_one_row():
    joints = [{"at": 5000}, {"at": 10000}]
    own = {"by": "maker", "reason": "data sheet"}
    overrides = [
        {"rule": "sealant.movement_capability", "value": 40, **own},
        {"rule": "movement.moisture.clay", "value": 0.4, **own},
    ]
    bare = made([wall("W1", [0, 0], [15000, 0], joints=joints)])
    words = [cells[1] for cells in listed(bare) if len(cells) == 2 and "rule of thumb" in cells[1]]
    assert words == [
        "16 mm: 16 mm by rule of thumb; not calculated, no figure for how far the sealant may move, of the width of the joint"
    ]
    assert [cells[0] for cells in listed(bare) if "rule of thumb" in cells[1]] == ["MJ1, MJ2"]
    known = made([wall("W1", [0, 0], [15000, 0], joints=joints)], overrides=overrides)
    (said,) = [cells[1] for cells in listed(known) if "rule of thumb" in cells[1]]
    width = 5 * (0.48 + 0.4 + 0.2) * 2.5 + 3
    assert said.startswith("17 mm: 16 mm by rule of thumb; 10.5 to 16.5 mm by calculation, closing governs")
    assert width == pytest.approx(16.5)


def test_the_hold_points_name_filler_rod_and_slip_ties():
    joints = [{"at": 5000}]
    (facts,) = leaf_facts(made([wall("W1", [0, 0], [10000, 0], joints=joints, slip_ties=True)]))
    points = [row.cells[-1] for row in hold_points(facts).rows]
    assert "MJ1 formed full height, no mortar bridging, 8 slip ties across" in points
    assert "Joints filled with polyethylene foam, polyurethane foam or foam rubber, never hemp, fibreboard or cork" in points
    assert "MJ1 cleaned out, open right through, backed with 20 mm rod and sealed 16 wide, 10 deep" in points
    untold = [row.cells[-1] for row in hold_points(leaf_facts(made([wall("W1", [0, 0], [10000, 0], joints=joints)]))[0]).rows]
    assert not [point for point in untold if "slip" in point]


def test_joints_in_a_row_are_named_first_to_last() -> None:
    assert in_rows(("MJ6", "MJ7", "MJ8")) == "MJ6 to MJ8"
    assert in_rows(("MJ1", "MJ2")) == "MJ1, MJ2"
    assert in_rows(("MJ1", "MJ9", "MJ10", "MJ11", "MJ20")) == "MJ1, MJ9 to MJ11, MJ20"
