"""What the plan tells: developed lengths, what is allowed, overall sizes, names in narrow courts, marks, tables, indexes."""

from __future__ import annotations

import re
import sys
from itertools import combinations
from math import hypot
from pathlib import Path
from typing import Any

import pytest
from shapely import Polygon, box

from elevgen import pipeline
from elevgen.building.model import Run
from elevgen.core.geometry import Rect
from elevgen.drawing import tints
from elevgen.drawing.board import text_box, written
from elevgen.drawing.compose import compose
from elevgen.drawing.corner_details import MOST, corner_details
from elevgen.drawing.corners import corners_of
from elevgen.drawing.font import Fonts
from elevgen.drawing.plan import footprint
from elevgen.drawing.plan_dims import ends_of_parts, outer_faces
from elevgen.drawing.plan_runs import Developed, unbroken
from elevgen.drawing.scene import Dimension, Fill, Polyline, Scene, View
from elevgen.result import Design
from elevgen.spec.models import Spec

ROOT = Path(__file__).parents[3]
sys.path.append(str(ROOT / "tests" / "whole"))
from buildings import random_spec  # noqa: E402

FONTS = Fonts()


@pytest.fixture(scope="module")
def courtyard() -> tuple[Design, Scene]:
    design = pipeline.design_file(ROOT / "tests" / "data" / "hard" / "courtyard.json")
    return design, compose(design)


def walls(*lines: tuple[str, tuple[float, float], tuple[float, float]], **more: dict[str, Any]) -> Design:
    """A building of one leaf of block, each wall from a point to a point; `more`: other fields of a wall, by its id."""
    spec = {
        "spec": 1,
        "leaves": {"block": {"zones": [{"unit": "dense_block_140"}]}},
        "wall_types": {"plain": {"outer": "block"}},
        "walls": [
            {"id": name, "type": "plain", "start": list(a), "end": list(b), "base": 0, "top": 1350} | more.get(name, {})
            for name, a, b in lines
        ],
    }
    return pipeline.design(Spec.model_validate(spec), "plan")


def terrace(houses: int) -> Design:
    """Cavity walls of so many houses in a row, each with its own front and back, party walls of block between them."""
    wide, deep = 5600.0, 9000.0
    door = {"kind": "door", "at": 900, "width": 1010, "sill": 0, "height": 2100}
    fronts: list[dict[str, Any]] = [
        {"id": f"F{n + 1}", "start": [n * wide, 0], "end": [n * wide + wide, 0], "openings": [{"id": f"D{n + 1}"} | door]}
        for n in range(houses)
    ]
    end = {"id": "G2", "start": [houses * wide, 0], "end": [houses * wide, deep]}
    backs = [{"id": f"B{n + 1}", "start": [n * wide + wide, deep], "end": [n * wide, deep]} for n in reversed(range(houses))]
    start = {"id": "G1", "start": [0, deep], "end": [0, 0]}
    inner = [
        {"id": f"P{n}", "type": "party", "start": [n * wide, 302.5], "end": [n * wide, deep - 302.5]} for n in range(1, houses)
    ]
    rows = [*fronts, end, *backs, start, *inner]
    spec = {
        "spec": 1,
        "leaves": {
            "brick": {"zones": [{"unit": "brick_65"}]},
            "block": {"zones": [{"unit": "aircrete_block_100"}]},
            "thick": {"zones": [{"unit": "dense_block_140"}]},
        },
        "wall_types": {"cavity": {"outer": "brick", "inner": "block", "cavity": 100}, "party": {"outer": "thick"}},
        "walls": [{"type": "cavity", "base": 0, "top": 2700} | row for row in rows],
    }
    return pipeline.design(Spec.model_validate(spec), "terrace")


def texts(view: View) -> list[tuple[Rect, str]]:
    scale = float(view.scale)
    return [(text_box(t, FONTS, scale), t.text) for t in written(view.primitives, scale)]


def words(scene: Scene, sheet: str) -> list[str]:
    return [t.text for s in scene.sheets if s.id == sheet or s.id.startswith(f"{sheet}-") for t in written(s.primitives)]


# --- developed lengths -----------------------------------------------------------------------------------------------


def test_corners_of_the_studio_lie_where_its_walls_add_up_to(studio: Design) -> None:
    """Faces of the outer leaf as written in the spec: 11.69, 5.39, 5.85, 3.6, 5.84 and 8.99 m."""
    developed = Developed(studio.runs[0])
    assert list(developed.nodes.values()) == pytest.approx([0, 11690, 17080, 22930, 26530, 32370])
    assert developed.along("W3/outer", 1000) == pytest.approx(18080)
    assert developed.along("W3/inner", 1000) is None


@pytest.mark.parametrize("seed", [0, 1, 2, 4, 6, 12])
def test_along_a_run_every_stretch_counts_once_and_what_meets_meets(seed: int) -> None:
    design = pipeline.design(Spec.model_validate(random_spec(seed)), f"seed {seed}")
    for run in design.runs:
        developed = Developed(run)
        assert set(developed.nodes) == {n.id for n in run.nodes} and min(developed.nodes.values()) == 0
        closing = 0
        for edge in run.edges:
            start, end = developed.along(edge.leaf, edge.span.start), developed.along(edge.leaf, edge.span.end)
            assert start is not None and end is not None
            assert abs(end - start) == pytest.approx(edge.span.length)
            ends = {round(developed.nodes[edge.a], 3), round(developed.nodes[edge.b], 3)}
            reached = {round(start, 3), round(end, 3)}
            assert min(reached) in ends, "it begins where what leads to it ends"
            closing += reached != ends
        assert closing == len(run.edges) - len(run.nodes) + 1, "one stretch for every ring comes back to where it was"
        assert max(developed.nodes.values()) <= run.length + 0.01 and _farthest_if_a_chain(run, developed)


def _farthest_if_a_chain(run: Run, developed: Developed) -> bool:
    """In a chain the other end lies as far along as the run is long."""
    ways = [sum(node.id in (e.a, e.b) for e in run.edges) for node in run.nodes]
    return max(ways) > 2 or run.closed or max(developed.nodes.values()) == pytest.approx(run.length)


def test_a_branch_is_measured_from_where_it_leaves() -> None:
    design = walls(("A", (0, 0), (5000, 0)), ("B", (2000, 0), (2000, 3000)))
    (run,) = design.runs
    developed = Developed(run)
    assert developed.along("A/outer", 5000) == pytest.approx(5000)
    end = developed.along("B/outer", 2999)
    half, through = 140 / 2, 140
    assert end == pytest.approx(2000 - half + 2999 - through), "from the middle of B on A's inner face"


# --- against the limit -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["studio", "duplex"])
def test_the_longest_without_a_joint_is_what_the_checks_measured(name: str, request: pytest.FixtureRequest) -> None:
    design: Design = request.getfixturevalue(name)
    judged = [f for f in design.findings if f.code == "joint-spacing" and f.measured is not None and f.limit]
    for run in design.runs:
        told = unbroken(design)[run.id]
        of_run = [f for f in judged if set(f.leaves) <= set(run.leaves)]
        assert told.way.length == pytest.approx(max(f.measured or 0.0 for f in of_run))
        assert told.pieces == len(of_run)


def test_masonry_that_may_be_longer_elsewhere_is_told_too() -> None:
    """au: 5 m in a wall with a wide opening, 6 m in one without (Housing Provisions, quoted): the longest is not the tightest."""
    window = {"id": "W1", "kind": "window", "at": 2000, "width": 1200, "sill": 900, "height": 860}
    spec = {
        "spec": 1,
        "rules": "au",
        "leaves": {"one": {"zones": [{"unit": "brick_76"}]}},
        "wall_types": {"plain": {"outer": "one"}},
        "walls": [
            {
                "id": "A",
                "type": "plain",
                "start": [0, 0],
                "end": [8800, 0],
                "top": 2408,
                "openings": [window],
                "joints": [{"at": 4800}],
            },
            {
                "id": "B",
                "type": "plain",
                "start": [8800, 0],
                "end": [8800, 7000],
                "top": 2408,
                "joints": [{"at": 900}, {"at": 6600}],
            },
        ],
    }
    design = pipeline.design(Spec.model_validate(spec))
    (run,) = design.runs
    told = unbroken(design)[run.id]
    assert (told.way.length, told.allowed) == (pytest.approx(4900), 5000)
    assert told.longest is not None and told.longest.length == pytest.approx(5700)
    cell = re.sub(r"\s+", " ", " ".join(words(compose(design), "plan")))
    assert "usual limit 5.00 m; elsewhere up to 5.70 m where 6.00 m is usual" in cell


def test_a_run_over_its_limit_is_said_to_be(duplex: Design, studio: Design) -> None:
    """The inner leaf of the real building has no legal placement; the demo building has."""
    told = " ".join(words(compose(duplex), "plan"))
    assert re.search(r"FAILS, over the( \S+)* greatest", told) and "OVER the" not in told, "a check fails: no mere usual limit"
    assert not any("OVER the" in w or "FAILS" in w for w in words(compose(studio), "plan"))


# --- what is drawn ---------------------------------------------------------------------------------------------------


def test_tints_of_runs_are_told_apart_in_grey() -> None:
    """CIE lightness from sRGB (IEC 61966-2-1, from memory): at least five of a hundred between any two."""

    def lightness(rgb: tuple[int, int, int]) -> float:
        linear = [c / 255 / 12.92 if c / 255 <= 0.04045 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in rgb]
        y = sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
        return float(116 * y ** (1 / 3) - 16)

    names = [tints.run_tint(n) for n in range(6)]
    assert len(set(names)) == 6 and tints.run_tint(6) == names[0]
    levels = [lightness(tints.tint(name).rgb) for name in names]
    assert min(abs(a - b) for a, b in combinations(levels, 2)) >= 5.0


def test_every_stretch_of_a_run_is_filled_with_its_own_tint(courtyard: tuple[Design, Scene]) -> None:
    design, scene = courtyard
    for number, run in enumerate(design.runs):
        mine = [p for p in scene.view("plan").primitives if isinstance(p, Fill) and p.source == run.id and p.tint != "panel"]
        assert {p.tint for p in mine} == {tints.run_tint(number)}
        drawn = sum(Polygon(p.points).area for p in mine)
        swatch = 6.0 * 2.6 * scene.view("plan").scale ** 2
        feet = sum(Polygon(footprint(design.building.wall(x.split("/")[0]), design.building.leaf(x))).area for x in run.leaves)
        assert drawn - swatch == pytest.approx(feet, rel=0.001)


def test_overall_dimensions_measure_the_building_and_its_step(studio: Design) -> None:
    view = compose(studio).view("plan")
    dims = [p for p in view.primitives if isinstance(p, Dimension)]
    said = {axis: sorted(float(d.text) for d in dims if d.axis == axis) for axis in ("x", "y")}
    assert said == {"x": [5840, 5850, 11690], "y": [3600, 5390, 8990]}
    for dim in dims:
        measured = dim.b[0] - dim.a[0] if dim.axis == "x" else dim.b[1] - dim.a[1]
        assert float(dim.text) == pytest.approx(measured)


def test_faces_inside_a_court_are_no_outer_faces(courtyard: tuple[Design, Scene]) -> None:
    design, _ = courtyard
    feet = [footprint(design.building.wall(leaf.wall), leaf) for leaf in design.building.leaves]
    assert sorted({round(x) for x in outer_faces(feet, 0)}) == [0, 21200, 26000]
    assert sorted({round(y) for y in outer_faces(feet, 1)}) == [0, 13500, 19000]


def test_what_stands_apart_is_measured_from() -> None:
    """A garden wall 3.5 m long and one brick wide with a store 2 m beside it: thin walls' faces crowd, their ends do not."""
    thin = [(0.0, 0.0), (3500.0, 0.0), (3500.0, 215.0), (0.0, 215.0)]
    store = [(5500.0, 0.0), (8000.0, 0.0), (8000.0, 1700.0), (5500.0, 1700.0)]
    assert ends_of_parts([tuple(thin), tuple(store)], 0) == [0, 3500, 5500, 8000]
    assert ends_of_parts([tuple(thin), tuple(store)], 1) == [0, 0, 215, 1700]


def test_a_building_askew_has_no_dimensions_square_to_the_sheet() -> None:
    design = walls(("A", (0, 0), (4000, 1700)), ("B", (4000, 1700), (2600, 5000)))
    view = compose(design).view("plan")
    assert not [p for p in view.primitives if isinstance(p, Dimension)]
    assert any("Askew" in t for _, t in texts(view))


def test_names_of_walls_round_a_narrow_court_stand_apart_each_at_its_wall(courtyard: tuple[Design, Scene]) -> None:
    design, scene = courtyard
    view = scene.view("plan")
    boxes = texts(view)
    clashes = [
        (a[1], b[1])
        for a, b in combinations(boxes, 2)
        if min(a[0].right, b[0].right) - max(a[0].left, b[0].left) > 1e-6
        and min(a[0].top, b[0].top) - max(a[0].bottom, b[0].bottom) > 1e-6
    ]
    assert clashes == []
    for wall in design.building.walls:
        (at,) = [b for b, text in boxes if text in (f"{wall.id} {wall.name}", wall.id)]
        (dx, dy) = (wall.end[0] - wall.start[0]) / wall.length, (wall.end[1] - wall.start[1]) / wall.length
        foot = Polygon(footprint(wall, design.building.leaf(wall.leaves[0])))
        assert foot.distance(box(at.left, at.bottom, at.right, at.top)) < 10 * view.scale + wall.thickness, wall.id
        assert hypot(dx, dy) == pytest.approx(1.0)


def test_piers_downpipes_columns_and_recesses_are_on_the_plan() -> None:
    kinds = ("pier", "column", "recess", "downpipe")
    features = [{"kind": kind, "at": 900 + 1300 * n} for n, kind in enumerate(kinds)]
    design = walls(("A", (0, 0), (6000, 0)), A={"features": features})
    view = compose(design).view("plan")
    titles = [p.title for p in view.primitives if isinstance(p, Polyline)]
    for n, kind in enumerate(kinds):
        (mark,) = [t for t in titles if t.startswith(f"{kind}, ")]
        assert f"{900 + 1300 * n}" in mark
        assert sum(text == kind for _, text in texts(view)) >= 1


def test_openings_of_an_upper_floor_are_left_to_the_elevations(duplex: Design) -> None:
    view = compose(duplex).view("plan")
    cut = {p.source for p in view.primitives if isinstance(p, Fill) and p.tint == "opening"}
    low = {o.id for w in duplex.building.walls for o in w.openings if o.rect.bottom <= 1300 <= o.rect.top}
    assert cut - {"key"} == low
    assert any("others are on the elevations" in t for _, t in texts(view))
    named = {t for _, t in texts(view)}
    assert not named & {o.id for w in duplex.building.walls for o in w.openings if o.id not in low}


# --- tables and indexes ----------------------------------------------------------------------------------------------


def test_every_joint_wall_and_corner_is_listed(courtyard: tuple[Design, Scene]) -> None:
    design, scene = courtyard
    said = words(scene, "plan")
    runs = [Developed(run) for run in design.runs]
    for joint in design.plan.joints:
        (along,) = [a for r in runs if (a := r.along(joint.leaf, joint.at)) is not None]
        assert said.count(joint.id) == 1
        assert said[said.index(joint.id) + 1] == joint.leaf
        assert said[said.index(joint.id) + 4] == f"{along / 1000:.2f} m"
    whole = " ".join(said)
    for leaf in design.building.leaves:
        assert leaf.id in whole
    for corner in corners_of(design.building):
        assert corner.name in said


def test_corners_are_found_on_the_sheet_the_plan_names(courtyard: tuple[Design, Scene]) -> None:
    design, scene = courtyard
    said = words(scene, "plan")
    on = {w.view: s.id for s in scene.sheets for w in s.windows}
    for corner in corners_of(design.building):
        if corner.id in on:
            assert said[said.index(corner.name) + 2] == on[corner.id]


def test_corners_of_a_terrace_are_grouped_capped_and_all_named() -> None:
    """Ten houses have four corners and eighteen tees."""
    design = terrace(10)
    every = [c.name for c in corners_of(design.building)]
    assert len(every) == 4 + 2 * 9
    for most in (5, MOST):
        details = corner_details(design, most)
        told = [name for d in details.drawn for name in (d.corner.name, *d.alike, *d.changed)]
        assert sorted([*told, *details.left_out]) == sorted(every)
        assert len(details.drawn) <= most
    assert len(details.drawn) < len(every), "some are alike"
