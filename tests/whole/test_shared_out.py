"""Every quantity that lies somewhere, by panel and scaffold lift: shares add up to the whole, in every building.

Shares are looked at twice: as they were measured, each by itself, and as they stand in the bill, rounded. Faces are measured
here with shapely.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from math import fsum
from pathlib import Path

import pytest
from buildings import SEEDS
from fitted_buildings import fitted_spec
from shapely import LineString, Polygon, box
from shapely.ops import unary_union

from elevgen import pipeline
from elevgen.building.model import Leaf
from elevgen.building.outline import leaf_outline
from elevgen.core.errors import SpecError
from elevgen.drawing.dims import setting_out
from elevgen.drawing.facts import leaf_facts
from elevgen.result import Design
from elevgen.rules.measurement_loader import load_measurement
from elevgen.spec.load import parse_text
from elevgen.takeoff.areas import leaf_area
from elevgen.takeoff.edges import edges_of
from elevgen.takeoff.laid import site_of
from elevgen.takeoff.masonry import masonry_items
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import Quantity
from elevgen.takeoff.mortar import joints_by_place

SUM = 1e-6
NOT_SHARED = ("BR-STOCK-NR",)
"""What has no place: stock lengths are bought for a wall, and their pieces lie all over it."""
DATA = Path(__file__).parent.parent / "data"
BUILDINGS = ("studio", "kitchen-garden", "duplex", "long-wall", *(p.stem for p in sorted((DATA / "hard").glob("*.json"))), *SEEDS)
FITTED = range(12)
"""Seeds of buildings with everything a spec can say of fittings."""


def designed(text: str, name: str) -> Design:
    try:
        return pipeline.design(parse_text(text, name, pipeline.vocabulary()), name)
    except SpecError:
        pytest.skip("a spec that is refused")


@pytest.fixture(scope="module", params=[*BUILDINGS, *(f"fitted-{seed}" for seed in FITTED)], ids=str)
def design(request: pytest.FixtureRequest, design_of: Callable[..., Design]) -> Design:
    name = request.param
    if isinstance(name, str) and name.startswith("fitted-"):
        return designed(json.dumps(fitted_spec(int(name[7:]))), name)
    if isinstance(name, str) and (DATA / "hard" / f"{name}.json").exists():
        return designed((DATA / "hard" / f"{name}.json").read_text(), name)
    return design_of(name)


def real(quantity: Quantity) -> float:
    return quantity.net if quantity.as_built is None else quantity.as_built


def test_shares_add_up_and_are_of_panels_and_lifts_there_are(design: Design) -> None:
    panels = {panel.id: panel.leaf for panel in design.plan.panels}
    lifts = {lift.number for lift in design.coursing.cutting.lifts}
    for q in measure(design).quantities:
        where = (q.code, q.where)
        if q.code.startswith(NOT_SHARED) or not real(q):
            assert q.parts == (), where
            continue
        assert fsum(part.net for part in q.parts) == pytest.approx(real(q), abs=SUM), where
        assert min(part.net for part in q.parts) >= 0, where
        assert len({(part.panel, part.lift) for part in q.parts}) == len(q.parts), where
        for part in q.parts:
            assert part.lift in lifts or not lifts, where
            if part.panel is not None:
                assert panels[part.panel] == q.where or panels[part.panel].split("/")[0] == q.where, where
        if q.needed is None:
            assert all(part.needed is None for part in q.parts), where
        else:
            assert fsum(part.needed or 0.0 for part in q.parts) == pytest.approx(q.needed, abs=SUM), where


def solid(leaf: Leaf) -> Polygon:
    voids = [box(v.left, v.bottom, v.right, v.top) for v in leaf.voids]
    return Polygon(leaf_outline(leaf)).buffer(0).difference(unary_union(voids))


def new_leaves(design: Design, quantities: list[Quantity]) -> tuple[Leaf, ...]:
    """Leaves still to be built; of those that stand already nothing is measured."""
    old = {leaf.id for leaf in design.building.leaves if design.building.wall(leaf.wall).existing}
    assert not [q.code for q in quantities if q.where in old]
    return tuple(leaf for leaf in design.building.leaves if leaf.id not in old)


def test_walling_in_a_panel_and_lift_is_its_face_there(design: Design) -> None:
    """Against shapely, panel by panel cut at the middle of movement joints; to a square centimetre or so of rounding."""
    lifts = {lift.number: lift.levels for lift in design.coursing.cutting.lifts}
    highest = max(lifts, default=0)
    quantities = [q for q in measure(design).quantities if q.code.startswith("WALL-M2")]
    for leaf in new_leaves(design, quantities):
        face = solid(leaf)
        panels = [panel for panel in design.plan.panels if panel.leaf == leaf.id]
        for panel in panels:
            first, last = panel is panels[0], panel is panels[-1]
            for number, levels in lifts.items():
                left = leaf.span.start - 1 if first else panel.span.start
                right = leaf.span.end + 1 if last else panel.span.end
                low = -1e6 if number == min(lifts) else levels.start
                high = 1e6 if number == highest else levels.end
                parts = [p for q in quantities if q.where == leaf.id for p in q.parts if (p.panel, p.lift) == (panel.id, number)]
                area = face.intersection(box(left, low, right, high)).area / 1e6
                assert fsum(p.net for p in parts) == pytest.approx(area, abs=4e-4), (leaf.id, panel.id, number)


def test_units_of_a_lift_are_those_its_cutting_says(design: Design) -> None:
    quantities = [q for q in measure(design).quantities if q.code.startswith("UNIT-NR")]
    for leaf in new_leaves(design, quantities):
        of_leaf = design.coursing.cutting.of(leaf.id)
        mine = [q for q in quantities if q.where == leaf.id]
        for lift, needs in of_leaf.by_lift:
            parts = [part for q in mine for part in q.parts if part.lift == lift]
            assert fsum(part.net for part in parts) == sum(need.whole + need.pieces for need in needs)
            assert fsum(part.needed or 0 for part in parts) == sum(need.to_buy for need in needs)
            assert all(part.net == int(part.net) and part.needed == int(part.needed or 0) for part in parts)
        assert sum(need.to_buy for _, needs in of_leaf.by_lift for need in needs) == sum(need.to_buy for need in of_leaf.needs)


def test_beds_and_perpends_of_all_places_are_those_of_the_leaf(design: Design) -> None:
    """Face that is no unit, lintel or joint, place by place: together what the coursing counted while it laid."""
    site = site_of(design, design.building)
    for leaf in design.building.leaves:
        area = leaf_area(design, leaf)
        by_place = joints_by_place(design, leaf, site.laid[leaf.id], site.on[leaf.id], site.faces[leaf.id])
        assert fsum(by_place.values()) == pytest.approx(area.mortar, abs=2e-6 * area.gross + 1)
        pieces = sum(here.whole + here.cut for places in site.laid[leaf.id].units.values() for here in places.values())
        assert pieces == sum(count.full + count.cut for count in design.coursing.of(leaf.id).counts)


def test_shares_as_measured_are_whole_before_they_are_rounded(design: Design) -> None:
    site = site_of(design, design.building)
    areas = tuple(leaf_area(design, leaf) for leaf in design.building.leaves)
    for item in masonry_items(design, areas, site, load_measurement("net")):
        if item.net:
            assert fsum(part.net for part in item.parts) == pytest.approx(item.net, rel=1e-6), (item.code, item.where)


def test_jambs_and_heads_are_edges_of_holes_in_the_face(design: Design) -> None:
    """Upright edges, and level ones over holes, that masonry and holes share; strips too small to build are holes."""
    for wall in design.building.walls:
        leaves = design.building.leaves_of(wall.id)
        if not wall.openings or not leaves:
            continue
        leaf = leaves[0]
        masonry = solid(leaf)
        rects = [*(o.rect for o in wall.openings), *(strip.rect for group in wall.groups for strip in group.strips)]
        found = {"jamb": 0.0, "head": 0.0}
        for rect in rects:
            for at, beyond in ((rect.left, rect.left - 0.02), (rect.right, rect.right + 0.02)):
                if leaf.span.start < at < leaf.span.end:
                    found["jamb"] += masonry.intersection(LineString([(beyond, rect.bottom), (beyond, rect.top)])).length
            over = LineString([(rect.left, rect.top + 0.02), (rect.right, rect.top + 0.02)])
            found["head"] += masonry.intersection(over).length
        ours = Counter[str]()
        for edge in edges_of(leaf, wall):
            ours[edge.kind] += edge.span.length
        assert {kind: ours[kind] for kind in found} == pytest.approx(found, abs=0.2 * len(rects)), leaf.id


def test_points_set_out_are_the_running_figures_of_the_sheets(design: Design) -> None:
    facts = {one.leaf.id: one for one in leaf_facts(design)}
    for q in measure(design).quantities:
        if q.code == "SET-OUT-NR":
            assert q.net == len(setting_out(facts[q.where])), q.where
