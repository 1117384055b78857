"""What openings take: both sides of every limit, edges, strips, zones, volumes; and shapely's areas beside all of it."""

import sys
from dataclasses import replace
from itertools import pairwise
from math import fsum, inf
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box, unary_union

from elevgen.building.outline import leaf_outline
from elevgen.core.geometry import Span
from elevgen.pipeline import design
from elevgen.rules.measurement_loader import load_measurement, measurement_ids
from elevgen.takeoff.measure import measure
from elevgen.takeoff.rulings import face_measured, measured_area, ruling

sys.path.insert(0, str(Path(__file__).parent))
from faces import built, spec_of

ALL = (Span(-inf, inf),)
LIMITS = {"nrm2-like": 0.5, "smm7-like": 0.1, "cesmm4-like": 0.25, "is1200-like": 0.1, "south-africa-like": 0.5, "pomi-like": 0.5}


def opening(name, at, sill, width, height):
    return {"id": name, "at": at, "sill": sill, "width": width, "height": height}


def wall(*openings, length=9130, **more):
    return {"start": [0, 0], "end": [length, 0], "openings": list(openings), **more}


def faced(given_wall, rules, bands=ALL):
    building = built([given_wall])
    return face_measured(building.leaves[0], building.walls[0], bands, rules)


def taken(given_wall, rules):
    return {d.of: (d.amount, d.allowed) for d in faced(given_wall, rules).deductions}


# --- limits -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "limit"), LIMITS.items())
def test_an_opening_of_the_limit_stays_and_one_a_centimetre_wider_is_deducted(name, limit):
    at_limit = opening("A", 2000, 900, limit / 0.5 * 1000, 500)
    beyond = opening("B", 5000, 900, limit / 0.5 * 1000 + 10, 500)
    found = taken(wall(at_limit, beyond), load_measurement(name))
    assert found["A"] == (pytest.approx(limit), False)
    assert found["B"] == (pytest.approx(limit + 0.005), True)


def test_every_preset_has_its_limit_tried_on_both_sides():
    assert set(LIMITS) == set(measurement_ids()) - {"net"}
    assert {load_measurement(name).opening_limit for name in LIMITS} == set(LIMITS.values())


@pytest.mark.parametrize("own", [0.3, 0.75])
def test_a_limit_of_the_users_own_is_kept_on_both_sides(own):
    rules = load_measurement("net", {"opening_min_area_m2": own})
    found = taken(wall(opening("A", 2000, 900, own * 2000, 500), opening("B", 5000, 900, own * 2000 + 1, 500)), rules)
    assert (found["A"][1], found["B"][1]) == (False, True)


def test_net_deducts_the_smallest_hole():
    assert taken(wall(opening("A", 2000, 900, 10, 10)), load_measurement("net")) == {"A": (pytest.approx(1e-4), True)}


def test_the_limit_is_for_each_opening_and_never_for_their_sum():
    several = [opening(f"A{n}", 800 + 1000 * n, 900, 600, 800) for n in range(7)]
    face = faced(wall(*several), load_measurement("nrm2-like"))
    assert fsum(d.amount for d in face.deductions) == pytest.approx(7 * 0.48)
    assert [d.allowed for d in face.deductions] == [False] * 7
    assert face.net == face.gross == pytest.approx(9.13 * 2.4)


def test_what_is_refused_stays_in_the_list_with_the_rule():
    face = faced(wall(opening("A", 2000, 900, 500, 900), opening("B", 5000, 900, 1200, 900)), load_measurement("nrm2-like"))
    assert [(d.of, d.rule) for d in face.deductions] == [
        ("A", "0.45 m2 is not over 0.5 m2: not deducted"),
        ("B", "1.08 m2 is over 0.5 m2: deducted"),
    ]


# --- edges --------------------------------------------------------------------------------------------------------

AT_AN_EDGE = {
    "base": opening("A", 2000, 0, 400, 900),
    "top": opening("A", 2000, 1600, 400, 800),
    "start": opening("A", 0, 900, 400, 900),
    "finish": opening("A", 8730, 900, 400, 900),
}


@pytest.mark.parametrize("place", AT_AN_EDGE)
def test_a_small_opening_at_the_edge_is_deducted_and_one_inside_is_not(place):
    rules = load_measurement("nrm2-like")
    at = AT_AN_EDGE[place]
    face = faced(wall(at), rules)
    assert [(d.allowed, d.rule) for d in face.deductions] == [(True, "at the edge of the wall: deducted whatever its size")]
    inwards = {"base": {"sill": 10}, "top": {"sill": 1590}, "start": {"at": 10}, "finish": {"at": 8720}}[place]
    assert [d.allowed for d in faced(wall(at | inwards), rules).deductions] == [False]


@pytest.mark.parametrize("name", sorted(LIMITS.keys() - {"nrm2-like"}))
def test_where_nothing_is_known_of_edges_they_are_deducted_and_it_is_said(name):
    small = opening("A", 2000, 0, 100, 900)
    (deduction,) = faced(wall(small), load_measurement(name)).deductions
    assert deduction.allowed
    assert deduction.rule == "at the edge of the wall, for which the rule set says nothing: deducted"


def test_edges_are_nothing_apart_where_the_user_says_so():
    rules = load_measurement("nrm2-like", {"boundary_openings_always": False})
    assert [d.allowed for d in faced(wall(AT_AN_EDGE["base"]), rules).deductions] == [False]


def test_a_step_of_the_base_and_a_verge_are_edges():
    rules = load_measurement("nrm2-like")
    stepped = [[0, 0], [3000, 0], [3000, 300], [9130, 300]]
    assert taken(wall(opening("A", 2500, 300, 700, 600), base=stepped), rules)["A"][1]
    assert not taken(wall(opening("A", 2200, 300, 700, 600), base=stepped), rules)["A"][1]
    gable = [[0, 2400], [4000, 3600], [9130, 2400]]
    # At 500 along the verge stands at 2550: a head there touches it, one 60 lower does not.
    assert taken(wall(opening("A", 500, 1950, 700, 600), top=gable), rules)["A"][1]
    assert not taken(wall(opening("A", 500, 1890, 700, 600), top=gable), rules)["A"][1]


def test_a_limit_that_is_not_known_lets_everything_be_deducted_and_says_so():
    rules = replace(load_measurement("pomi-like"), values={})
    assert ruling(rules, 0.01, False) == (True, "deducted: the rule set has no limit")


# --- strips and zones ---------------------------------------------------------------------------------------------


def test_a_strip_too_small_to_build_is_judged_by_itself_and_named_by_what_it_lies_between():
    pair = wall(opening("A", 2000, 900, 900, 1200), opening("B", 2960, 900, 1200, 1050))
    building = built([pair])
    assert building.leaves[0].strips
    net = faced(pair, load_measurement("net"))
    by_rule = faced(pair, load_measurement("nrm2-like"))
    assert [d.of for d in net.deductions] == ["A", "B", "strip between A and B", "strip over A and B"]
    assert [d.allowed for d in net.deductions] == [True] * 4
    assert [d.allowed for d in by_rule.deductions] == [True, True, False, False]
    assert [d.amount for d in net.deductions[2:]] == pytest.approx([0.06 * 1.05, 1.26 * 0.15])


def test_an_opening_through_zones_is_deducted_from_each_by_its_share_and_judged_whole():
    """600 x 1000 from 1000 up: 200 of it in brick, 600 in stone, 200 in brick again; each share is under the limit."""
    made = spec_of([wall(opening("A", 2000, 1000, 600, 1000), type="banded")], measurement={"rules": "pomi-like"})
    walling = {q.code: q for q in measure(design(made)).quantities if q.code.startswith("WALL-")}
    brick, stone = walling["WALL-M2/BRICK/STRETCHER/102.5"], walling["WALL-M2/STONE/STRETCHER/102.5"]
    assert [(d.of, d.amount, d.allowed) for d in brick.deductions] == [("A", pytest.approx(0.24), True)]
    assert [(d.of, d.amount, d.allowed) for d in stone.deductions] == [("A", pytest.approx(0.36), True)]
    assert "0.6 m2 is over 0.5 m2" in brick.deductions[0].rule == stone.deductions[0].rule
    assert (brick.gross, stone.gross) == (pytest.approx(9.13 * 1.8), pytest.approx(9.13 * 0.6))
    refused = spec_of([wall(opening("A", 2000, 1000, 500, 1000), type="banded")], measurement={"rules": "pomi-like"})
    kept = [q for q in measure(design(refused)).quantities if q.code.startswith("WALL-")]
    assert [(d.allowed, round(d.amount, 6)) for q in kept for d in q.deductions] == [(False, 0.2), (False, 0.3)]
    assert [q.as_built for q in kept] == [pytest.approx(9.13 * 1.8 - 0.2), pytest.approx(9.13 * 0.6 - 0.3)]


# --- dimensions, units, the line measured along -------------------------------------------------------------------


def test_lengths_and_heights_are_rounded_each_from_its_own_corner():
    """9134 x 2396 and a hole of 1204.9 x 895 become 9130 x 2400 and 1200 x 900."""
    face = faced(wall(opening("A", 2003, 911, 1204.9, 895), length=9134, top=2396), load_measurement("smm7-like"))
    assert face.gross == pytest.approx(9.13 * 2.40)
    assert face.net == pytest.approx(9.13 * 2.40 - 1.20 * 0.90)
    assert faced(wall(length=9134, top=2396), load_measurement("cesmm4-like")).gross == pytest.approx(9.134 * 2.396)


def test_an_opening_is_judged_by_its_rounded_dimensions():
    """704 x 714 is 0.5027 m2, and 0.70 x 0.71 by rounded dimensions."""
    inside = wall(opening("A", 2000, 900, 704, 714))
    assert taken(inside, load_measurement("nrm2-like"))["A"] == (pytest.approx(0.497), False)
    assert taken(inside, load_measurement("pomi-like"))["A"][1]


def test_a_triangle_is_rounded_at_its_corners():
    assert measured_area(((3, 4), (1007, 4), (1007, 608)), 10) == 1000 * 600 / 2
    assert measured_area((), 10) == 0


def measured(walls, rules, **own):
    return measure(design(spec_of(walls, measurement={"rules": rules, "own": own})))


def test_thick_walls_are_billed_by_volume_and_half_brick_by_area():
    walls = [wall(opening("A", 2000, 900, 1010, 1200), type="thick"), wall(type="brick", start=[0, 5000], end=[4500, 5000])]
    takeoff = measured(walls, "is1200-like")
    thick, thin = (q for q in takeoff.quantities if q.code.startswith("WALL-"))
    assert (thick.code, thick.unit) == ("WALL-M3/BRICK/ENGLISH/215", "m3")
    assert thick.gross == pytest.approx(9.13 * 2.4 * 0.215)
    assert [d.amount for d in thick.deductions] == [pytest.approx(1.01 * 1.2 * 0.215)]
    assert thick.net == pytest.approx((9.13 * 2.4 - 1.01 * 1.2) * 0.215, abs=5e-5)
    assert "m2 is over 0.1 m2" in thick.deductions[0].rule
    assert (thin.code, thin.net) == ("WALL-M2/BRICK/STRETCHER/102.5", pytest.approx(4.5 * 2.4))
    assert takeoff.billed(thick.code) == 4.45  # 4.4506


def test_bands_of_thickness_are_said_in_the_description():
    walls = [wall(type="thick"), wall(start=[0, 5000], end=[4500, 5000])]
    said = [q.item for q in measured(walls, "cesmm4-like").quantities if q.code.startswith("WALL-")]
    assert said[0].endswith("leaf 215 mm thick, over 150 mm, up to 250 mm thick")
    assert said[1].endswith("leaf 102.5 mm thick, up to 150 mm thick")


def test_along_the_centre_line_corners_are_counted_once_and_the_real_area_stays_beside_it():
    walls = [{"start": [0, 0], "end": [5200, 0]}, {"start": [5200, 0], "end": [5200, 3100]}]
    billed = [q for q in measured(walls, "nrm2-like", dim_round_mm=0).quantities if q.code.startswith("WALL-")]
    assert [q.net for q in billed] == [pytest.approx((length - 51.25) * 2.4 / 1000, abs=5e-5) for length in (5200, 3100)]
    assert [q.as_built for q in billed] == [pytest.approx(5.2 * 2.4), pytest.approx(3.1 * 2.4)]
    assert all("centre line" in q.derivation for q in billed)


def test_a_cavity_is_measured_like_walling():
    walls = [wall(opening("A", 2000, 900, 500, 1000), opening("B", 5000, 900, 1500, 1000), type="cavity")]
    (cavity,) = (q for q in measured(walls, "nrm2-like").quantities if q.code.startswith("CAVITY-"))
    assert [(d.of, d.allowed) for d in cavity.deductions] == [("A", False), ("B", True)]
    assert (cavity.gross, cavity.net) == (pytest.approx(9.13 * 2.4), pytest.approx(9.13 * 2.4 - 1.5))
    assert cavity.as_built == pytest.approx(9.13 * 2.4 - 2.0)


# --- the bill and the orders --------------------------------------------------------------------------------------


@pytest.mark.parametrize("rules", measurement_ids())
def test_whatever_is_billed_the_order_and_the_faces_are_the_real_ones(small_design, rules):
    def by(name):
        spec = small_design.spec
        asked = spec.measurement.model_copy(update={"rules": name})
        return measure(replace(small_design, spec=spec.model_copy(update={"measurement": asked})))

    net, other = by("net"), by(rules)
    assert (other.orders, other.areas) == (net.orders, net.areas)
    assert [q.fixed for q in other.quantities] == [q.net for q in net.quantities]
    assert all(q.as_built is None for q in net.quantities)
    assert {value.key for value in other.measured_by.used} <= {value.key for value in other.rules_used}
    for q in other.quantities:
        if q.gross is None:
            assert not q.deductions
        else:
            assert q.net == pytest.approx(q.gross - fsum(d.amount for d in q.deductions if d.allowed), abs=6e-5)


def test_places_are_summed_before_they_are_rounded():
    """Three walls of 3.12 m2 are 9.36 m2: 9, and not three times 3; mortar is no item of the rule set and stays as it is."""
    walls = [wall(start=[0, 2000 * n], end=[1300, 2000 * n]) for n in range(3)]
    takeoff = measured([*walls, wall(start=[0, 9000], end=[1570, 9000])], "smm7-like")
    code = "WALL-M2/BRICK/STRETCHER/102.5"
    assert [q.net for q in takeoff.quantities if q.code == code] == pytest.approx([3.12] * 3 + [3.768])
    assert (takeoff.billed(code), takeoff.bill_step(code)) == (13, 1.0)
    assert takeoff.bill_step("MORTAR-M3") is None
    mortar = fsum(q.net for q in takeoff.quantities if q.code == "MORTAR-M3")
    assert takeoff.billed("MORTAR-M3") == pytest.approx(mortar)
    assert takeoff.billed("UNIT-NR/BRICK") == takeoff.total("UNIT-NR/BRICK")


# --- against shapely ----------------------------------------------------------------------------------------------


@st.composite
def random_walls(draw):
    """A wall 14 m long under a roof line at will, with openings in slots of 2 m, some at an edge or near one another."""
    tops = draw(st.lists(st.floats(2600, 4200), min_size=3, max_size=3))
    profile = [[0, tops[0]], [5200, tops[1]], [14000, tops[2]]]
    openings = []
    for slot in range(7):
        if draw(st.booleans()):
            at = 2000 * slot + draw(st.sampled_from([0, 30, 400]))
            width = draw(st.floats(100, 1590))
            sill, height = draw(st.sampled_from([0, 70, 900])), draw(st.floats(100, 1650))
            openings.append(opening(f"A{slot}", at, sill, width, height))
    return {"start": [0, 0], "end": [14000, 0], "top": profile, "openings": openings}


def shapes(building):
    leaf = building.leaves[0]
    face = Polygon(leaf_outline(leaf))
    holes = {(o.id,): [o.rect] for o in building.walls[0].openings}
    for group in building.walls[0].groups:
        for strip in group.strips:
            lies = "between" if strip.kind in ("pier", "band") else strip.kind
            holes.setdefault((group.id, lies, strip.between), []).append(strip.rect)
    return leaf, face, [unary_union([box(r.left, r.bottom, r.right, r.top) for r in rects]) for rects in holes.values()]


@given(random_walls())
@settings(deadline=None, max_examples=60)
def test_net_is_what_shapely_leaves_of_the_face(given_wall):
    building = built([given_wall])
    leaf, face, holes = shapes(building)
    found = face_measured(leaf, building.walls[0], ALL, load_measurement("net"))
    assert found.gross == pytest.approx(face.area / 1e6, rel=1e-9)
    assert found.net == pytest.approx(face.difference(unary_union(holes)).area / 1e6, rel=1e-9)
    assert all(d.allowed for d in found.deductions)


@given(random_walls(), st.floats(0.01, 2.5), st.sampled_from([True, False]))
@settings(deadline=None, max_examples=60)
def test_each_hole_is_deducted_or_refused_as_shapely_sees_it(given_wall, limit, edges):
    building = built([given_wall])
    leaf, face, holes = shapes(building)
    own = {"opening_min_area_m2": limit, "boundary_openings_always": edges}
    found = face_measured(leaf, building.walls[0], ALL, load_measurement("net", own))
    expected = []
    for hole in holes:
        on_face = hole.intersection(face).area / 1e6
        if abs(on_face - limit) < 2e-6:
            return
        expected.append((pytest.approx(on_face), on_face > limit or (edges and not face.contains_properly(hole))))
    assert [(d.amount, d.allowed) for d in found.deductions] == expected
    assert found.net == pytest.approx(found.gross - fsum(d.amount for d in found.deductions if d.allowed))


@given(random_walls(), st.lists(st.floats(100, 3500), min_size=1, max_size=3, unique=True))
@settings(deadline=None, max_examples=40)
def test_bands_share_out_the_gross_and_every_deduction(given_wall, levels):
    building = built([given_wall])
    leaf, wall_ = building.leaves[0], building.walls[0]
    rules = load_measurement("pomi-like")
    whole = face_measured(leaf, wall_, ALL, rules)
    bands = [face_measured(leaf, wall_, (Span(a, b),), rules) for a, b in pairwise((-inf, *sorted(levels), inf))]
    assert fsum(band.gross for band in bands) == pytest.approx(whole.gross)
    for deduction in whole.deductions:
        shares = [d for band in bands for d in band.deductions if d.of == deduction.of]
        assert fsum(d.amount for d in shares) == pytest.approx(deduction.amount, abs=1e-5)
        assert {(d.allowed, d.rule) for d in shares} == {(deduction.allowed, deduction.rule)}
