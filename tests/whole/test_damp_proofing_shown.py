"""One rendered wall over a lean-to, with a dpc step: every output says the same of its trays, sheets, beads and mesh."""

from __future__ import annotations

import json
import re
from io import BytesIO
from math import dist, sqrt

import pytest
from openpyxl import load_workbook

from elevgen import pipeline
from elevgen.drawing.compose import compose
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.hold_points import hold_points
from elevgen.drawing.scene import Line, Polyline, Role, Scene, Symbol
from elevgen.drawing.schedule_damp import tray_lines, tray_table
from elevgen.result import Design
from elevgen.spec.models import Spec
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import Takeoff
from elevgen.writers._package import Package
from elevgen.writers.dxf import render as render_dxf
from elevgen.writers.json import render as render_json
from elevgen.writers.svg import render as render_svg
from elevgen.writers.xlsx import render as render_xlsx

BOAT_SHED = {
    "spec": 1,
    "project": {"title": "Boat shed", "date": "2026-03-02"},
    "leaves": {
        "outer": {"zones": [{"unit": "brick_65"}], "finish": "render"},
        "inner": {"zones": [{"unit": "aircrete_block_100"}], "finish": "plaster"},
    },
    "wall_types": {"cavity": {"outer": "outer", "inner": "inner", "cavity": 100}, "garden": {"outer": "outer"}},
    "walls": [
        {
            "id": "W1",
            "type": "cavity",
            "start": [0, 0],
            "end": [12037.5, 0],
            "base": [[0, -225], [9000, -225], [9000, 450], [12037.5, 450]],
            "top": 5400,
            "ground": [[0, -200], [9000, -200], [9000, 300], [12037.5, 300]],
            "openings": [
                {"id": "D1", "kind": "door", "at": 1350, "width": 910, "sill": 0, "height": 2100},
                {"id": "A", "kind": "window", "at": 3150, "width": 910, "sill": 900, "height": 1200},
                {"id": "B", "kind": "window", "at": 4500, "width": 1210, "sill": 900, "height": 1200},
            ],
            "joints": [{"at": 6400}],
            "abutments": [{"line": [[7000, 3600], [9700, 2100]]}, {"line": [[400, 2700], [5800, 2700]]}],
        },
        {"id": "G1", "type": "garden", "start": [20000, 0], "end": [25000, 0], "base": -225, "top": 1500}
        | {"stands": "free_standing", "joints": []},
    ],
}


@pytest.fixture(scope="module")
def shed() -> Design:
    return pipeline.design(Spec.model_validate(BOAT_SHED), "boat-shed")


@pytest.fixture(scope="module")
def scene(shed: Design) -> Scene:
    return compose(shed)


@pytest.fixture(scope="module")
def bill(shed: Design) -> Takeoff:
    return measure(shed)


def net(bill: Takeoff, beginning: str, where: str = "") -> float:
    return sum(q.net for q in bill.quantities if q.code.startswith(beginning) and q.where.startswith(where))


# worked out by hand


def test_the_bill_by_hand(bill: Takeoff) -> None:
    """Joints stand 5.625 m high, one in each leaf; W1's sheet is 9 m, then 0.6 up and 3.0375 m."""
    assert net(bill, "JT-BEAD-M/RENDER") == net(bill, "JT-BEAD-M/PLASTER") == pytest.approx(2 * 5.625)
    assert net(bill, "DPC-M/102.5", "W1/outer") == pytest.approx(9 + 0.6 + 3.0375, abs=1e-4)
    assert net(bill, "DPC-M/102.5/COPING", "G1") == net(bill, "DPC-M/102.5", "G1") / 2 == 5
    (sheet,) = [q for q in bill.quantities if q.code == "DPC-M/102.5" and q.where == "W1/outer"]
    assert sheet.laps == pytest.approx(0.2) and "1 at a movement joint, 1 at a step" in sheet.derivation
    assert net(bill, "MESH-NR/300x200") == 2 * (2 + 4 + 4), "the door has none at its threshold"
    assert net(bill, "TRAY-M/385") == pytest.approx(1.26 + 2.91), "over D1, and over A and B as one"
    assert net(bill, "TRAY-M/ABUTMENT/") == pytest.approx(5.4)


def test_the_bill_counts_what_is_placed(shed: Design, bill: Takeoff) -> None:
    trays = shed.fittings.trays
    assert net(bill, "TRAY-END-NR") == sum(t.stop_ends for t in trays)
    assert net(bill, "WEEP-NR") == sum(len(t.weeps) for t in trays)
    steps = [t for t in trays if t.kind == "step"]
    assert net(bill, "TRAY-NR/STEP") == len(steps) > 5
    assert net(bill, "TRAY-NR/STEP-LOWEST") == sum(t.stop_ends == 2 for t in steps) == 1
    assert all("not of polyethylene" in q.item for q in bill.quantities if q.code.startswith("TRAY-M") or "COPING" in q.code)


def test_design_json_has_them(shed: Design) -> None:
    package = Package(shed, measure(shed), compose(shed))
    written = json.loads(render_json(package)["design.json"])
    assert [t["opening"] for t in written["trays"] if t["kind"] == "opening"] == ["D1", "A+B"]
    assert {len(t["weeps"]) for t in written["trays"] if t["kind"] == "step" and t["stop_ends"] < 2} == {0}
    (up,) = [c for c in written["damp_courses"] if c["leaf"] == "outer" and c["level"] == 600]
    assert (up["length"], up["lapped_at"]["steps"], up["given"]) == (3037.5 + 600, 1, False)
    assert [c["not_of"] for c in written["damp_courses"] if c["place"] == "coping"] == [["polyethylene"]]
    assert len(written["corner_mesh"]) == len(shed.fittings.mesh)
    assert {(p["finish"], p["stop_beads"]) for p in written["joint_parts"]} == {("render", 11250), ("plaster", 11250)}


def test_the_workbook_has_them(shed: Design) -> None:
    (content,) = render_xlsx(Package(shed, measure(shed), compose(shed))).values()
    book = load_workbook(BytesIO(content))
    damp = {str(row[0]): row for row in book["Damp-proofing"].iter_rows(values_only=True)}
    for thing in (*shed.fittings.trays, *shed.fittings.damp_courses):
        assert thing.id in damp
    tray = next(t for t in shed.fittings.trays if t.openings == ("A", "B"))
    assert damp[tray.id][1] == "A, B" and damp[tray.id][7] == len(tray.weeps)
    headings = [cell for row in book["Joints"].iter_rows(values_only=True) for cell in row]
    assert "Mesh across the corners of openings" in headings and "Stop beads in the finish m" in headings


# drawn


def of(scene: Scene, view: str, kind: type, role: Role) -> list:
    return [p for p in scene.view(view).primitives if isinstance(p, kind) and p.role is role]


def test_every_tray_is_drawn_at_its_level_and_turned_up_where_it_is_stopped(shed: Design, scene: Scene) -> None:
    drawn = {p.source: p for p in of(scene, "W1/outer", Polyline, Role.DPC)}
    assert set(drawn) == {t.id for t in shed.fittings.trays}
    for tray in shed.fittings.trays:
        points = drawn[tray.id].points
        assert {(tray.span.start, tray.level), (tray.span.end, tray.level)} <= set(points)
        assert len(points) == 2 + tray.stop_ends
    assert not of(scene, "W1/inner", Polyline, Role.DPC)


def test_a_slot_at_every_weep_in_a_perpend(shed: Design, scene: Scene) -> None:
    slots = sorted(p.at for p in of(scene, "W1/outer", Symbol, Role.MARK) if p.name == "weep")
    assert slots == sorted((at, t.level) for t in shed.fittings.trays for at in t.weeps)
    assert all(t.cut_weeps == () for t in shed.fittings.trays)


def test_mesh_lies_across_its_corner_and_off_the_opening(shed: Design, scene: Scene) -> None:
    rects = {o.id: o.rect for o in shed.building.wall("W1").openings}
    strips = [p for p in of(scene, "W1/outer", Polyline, Role.MARK) if "mesh" in p.title]
    assert len(strips) == 10
    for strip in strips:
        a, b, c, d = strip.points
        rect = rects[strip.source]
        assert [dist(a, b), dist(b, c), dist(c, d), dist(d, a)] == pytest.approx([300, 200, 300, 200])
        middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        assert min(dist(middle, (x, y)) for x in (rect.left, rect.right) for y in (rect.bottom, rect.top)) < 1e-6
        far = (c[0] + d[0]) / 2, (c[1] + d[1]) / 2
        assert not (rect.left < far[0] < rect.right) and not (rect.bottom < far[1] < rect.top)
        assert abs(far[0] - middle[0]) == pytest.approx(200 / sqrt(2))


def test_the_roof_and_the_ground_are_drawn_on_the_outer_leaf_only(scene: Scene) -> None:
    titles = {
        view: [p.title for p in scene.view(view).primitives if isinstance(p, Polyline)] for view in ("W1/outer", "W1/inner")
    }
    assert titles["W1/outer"].count("lower roof or building meets the wall here") == 2
    assert "ground outside" in titles["W1/outer"]
    assert not [t for t in titles["W1/inner"] if "roof" in t or "ground" in t]


def test_a_step_of_the_sheet_is_drawn_upright(scene: Scene) -> None:
    ends = {view: {tuple(sorted((p.a, p.b))) for p in of(scene, view, Line, Role.DPC)} for view in ("W1/outer", "W1/inner")}
    assert ((9000.0, 0.0), (9000.0, 600.0)) in ends["W1/outer"]
    assert ((9000.0, 0.0), (9000.0, 675.0)) in ends["W1/inner"], "the first bed of the blocks 150 over the base"


def test_what_the_bricklayers_sheet_says(shed: Design) -> None:
    outer = next(facts for facts in leaf_facts(shed) if facts.leaf.id == "W1/outer")
    rows = {row.cells[0]: row.cells for row in tray_table(outer).rows}
    assert sum(len(line) for line in tray_lines(outer.trays)) == len(shed.fittings.trays)
    assert len(rows) < len(shed.fittings.trays), "a row of steps has one row of the table"
    assert rows["T-D1"][1:5] == ("1175", "1260", "+2.100", "2")
    said = "\n".join(row.cells[-1] for row in hold_points(outer).rows)
    assert "Damp-proof course at ±0.000, 1 lap" in said and "Damp-proof course at +0.600, 1 lap" in said
    assert "runs on through movement joints" in said and "a stop bead each side" in said
    assert "Mesh in the render across 10 corners" in said
    coping = next(facts for facts in leaf_facts(shed) if facts.leaf.id == "G1/outer")
    assert "under the coping at +1.500, not of polyethylene" in "\n".join(r.cells[-1] for r in hold_points(coping).rows)


def test_formats_hold_the_weeps(shed: Design) -> None:
    package = Package(shed, measure(shed), compose(shed))
    weeps = sum(len(t.weeps) for t in shed.fittings.trays)
    svg = next(body for name, body in render_svg(package).items() if "W1-outer" in name).decode()
    assert len(re.findall("weep hole", svg)) >= weeps
    dxf = render_dxf(package)["boat-shed.dxf"]
    assert dxf.decode().upper().count("WEEP") >= weeps
