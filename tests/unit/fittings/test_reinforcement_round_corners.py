"""Reinforcement round bonded corners, in stack bond, in parapets, as listed; laps staggered; properties of random buildings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import hypot
from typing import Any

import pytest
from buildings import random_spec
from quick_designs import lay, quick, some_joints

from elevgen import checks
from elevgen.building.resolve import resolve
from elevgen.core.geometry import Span
from elevgen.coursing.model import Coursing, Pattern, Perpend, Placement
from elevgen.fittings.fit import fit
from elevgen.fittings.model import BedReinforcement
from elevgen.joints.model import JointPlan
from elevgen.result import Design, Finding
from elevgen.rules.book import RuleBook, RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

JUDGES = (
    "opening-reinforced",
    "parapet-reinforced",
    "reinforcement-all-over",
    "reinforcement-crosses-joint",
    "reinforcement-in-bed",
    "reinforcement-lap",
    "reinforcement-laps-staggered",
    "reinforcement-stock",
    "stack-bond",
)
LEAVES = {"brick": {"zones": [{"unit": "brick_65"}]}, "block": {"zones": [{"unit": "aircrete_block_100"}]}}


@pytest.fixture(scope="module")
def book() -> RuleBook:
    return load_book("uk")


def spec_of(walls: list[dict[str, Any]], outer: dict[str, Any] | None = None, **more: Any) -> dict[str, Any]:
    leaves = {**LEAVES, "brick": LEAVES["brick"] | (outer or {})}
    types = {"cavity": {"outer": "brick", "inner": "block", "cavity": 100}, "single": {"outer": "brick"}}
    return {"spec": 1, "leaves": leaves, "wall_types": types, "walls": walls, **more}


def box(width: float = 9110, depth: float = 6110, **of: dict[str, Any]) -> list[dict[str, Any]]:
    """Four cavity walls, W1 to W4 anticlockwise; `W2={...}` says more of one."""
    corners = [(0, 0), (width, 0), (width, depth), (0, depth)]
    walls = []
    for n, (a, b) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True), 1):
        wall = {"id": f"W{n}", "type": "cavity", "start": list(a), "end": list(b), "base": -225, "top": 2700}
        walls.append(wall | of.get(f"W{n}", {}))
    return walls


def window(at: float, width: float = 1210, sill: float = 900, height: float = 1200, name: str = "A") -> dict[str, Any]:
    return {"id": name, "at": at, "width": width, "sill": sill, "height": height}


def found(design: Design, *codes: str) -> list[Finding]:
    return [f for f in checks.run_checks(design) if f.code in (codes or JUDGES) and f.severity in ("fail", "warn")]


def at(design: Design, leaf: str) -> list[BedReinforcement]:
    return [r for r in design.fittings.bed_reinforcement if r.leaf == leaf]


def test_what_is_left_of_the_reach_goes_round_the_corner(book: RuleBook) -> None:
    # the window ends 240 mm from the corner: 360 of 600 are left
    design = quick(spec_of(box(W1={"openings": [window(9110 - 240 - 1210)]})), book)
    here, there = at(design, "W1/outer"), at(design, "W2/outer")
    assert {r.span for r in here} == {Span(7060, 9110)}
    assert {r.span for r in there} == {Span(0, 360)}
    assert [r.level for r in here] == [r.level for r in there]
    for one, other in zip(here, there, strict=True):
        assert [(t.end, t.leaf, t.continues, t.leg) for t in one.returns] == [("finish", "W2/outer", other.id, 360)]
        assert [(t.end, t.leaf, t.continues, t.leg) for t in other.returns] == [("start", "W1/outer", one.id, 2050)]
        assert (one.why, other.why, other.serves) == (("opening",), ("corner",), ())
    # each bed is one bent piece of 2410 in both leaves
    bent = [cut for stock in design.fittings.stock if stock.wall == "W1" and stock.thickness == 102.5 for cut in stock.cuts]
    assert [(cut.pieces, cut.number) for cut in bent] == [((2410.0,), 4)]
    assert not found(design)


def test_a_leg_is_no_shorter_than_a_lap(book: RuleBook) -> None:
    design = quick(spec_of(box(W1={"openings": [window(9110 - 590 - 1210)]})), book)
    assert {r.span for r in at(design, "W2/outer")} == {Span(0, 225)}


def test_it_stops_at_a_joint_round_the_corner_and_at_a_corner_that_is_one(book: RuleBook) -> None:
    near = box(W1={"openings": [window(9110 - 240 - 1210)]})
    jointed = quick(spec_of(near), book, {"W2/outer": [300.0]})
    assert {r.span for r in at(jointed, "W2/outer")} == {Span(0, 292)}
    parted = quick(spec_of(near, junctions=[{"walls": ["W1", "W2"], "connection": "jointed"}]), book)
    assert at(parted, "W2/outer") == []
    assert not found(jointed)
    assert not found(parted)


def test_where_the_other_leaf_has_no_bed_it_ends_at_the_corner_and_says_so(book: RuleBook) -> None:
    walls = box(W1={"openings": [window(9110 - 240 - 1210)]}, W2={"base": -190})
    design = quick(spec_of(walls), book)
    assert at(design, "W2/outer") == []
    assert {r.ends_at for r in at(design, "W1/outer")} == {("W2/outer",)}
    notes = [f for f in checks.run_checks(design) if f.code == "opening-reinforced" and "W2/outer has no bed" in f.text]
    assert {(f.severity, f.where) for f in notes} == {("note", "W1/outer/A head"), ("note", "W1/outer/A sill")}


def test_a_tee_is_no_corner(book: RuleBook) -> None:
    walls = box(W1={"openings": [window(4300)]})
    walls.append({"id": "P", "type": "single", "start": [4100, 302.5], "end": [4100, 5807.5], "base": -225, "top": 2700})
    design = quick(spec_of(walls), book)
    assert at(design, "P/outer") == []
    assert not any(r.returns for r in design.fittings.bed_reinforcement)


def test_round_two_corners_of_a_short_wall(book: RuleBook) -> None:
    # W2 is 300 long: 360 left at its start, 60 left at its end make a leg of a lap in W3
    walls = box(depth=300, W1={"openings": [window(9110 - 240 - 1210)]})
    for wall in walls:
        wall["type"] = "single"
    design = quick(spec_of(walls), book)
    assert {r.span for r in at(design, "W2/outer")} == {Span(0, 300)}
    assert {r.span for r in at(design, "W3/outer")} == {Span(0, 225)}
    assert {len(r.returns) for r in at(design, "W2/outer")} == {2}
    assert not found(design, "reinforcement-lap", "reinforcement-stock", "opening-reinforced", "reinforcement-crosses-joint")


def test_a_corner_seen_from_inside_takes_the_thickness_in_its_bend(book: RuleBook) -> None:
    corners = [(0, 0), (6000, 0), (6000, 3000), (3000, 3000), (3000, 6000), (0, 6000)]
    walls = [
        {"id": f"W{n}", "type": "single", "start": list(a), "end": list(b), "base": 0, "top": 2700}
        for n, (a, b) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True), 1)
    ]
    walls[2]["openings"] = [window(3000 - 240 - 1210)]  # W3 ends in the corner that turns the other way
    design = quick(spec_of(walls), book)
    bent = [turn for r in at(design, "W3/outer") for turn in r.returns]
    assert {(turn.leaf, turn.leg, turn.round_corner) for turn in bent} == {("W4/outer", 360, 102.5)}
    (stock,) = [s for s in design.fittings.stock if s.wall == "W3"]
    assert {piece for cut in stock.cuts for piece in cut.pieces} == {600 + 1210 + 240 + 102.5 + 360}
    assert not found(design)


def test_a_ring_reinforced_all_over_is_closed_by_a_lap_at_one_corner_after_another(book: RuleBook) -> None:
    design = quick(spec_of(box(), {"reinforced_every": 450}), book)
    outer = [r for r in design.fittings.bed_reinforcement if r.leaf.endswith("outer")]
    assert {len(r.returns) for r in outer} == {2}
    closed = {r.level: r.leaf for r in outer if r.cuts[0] == Span(r.span.start, r.span.start + 225)}
    assert [closed[level] for level in sorted(closed)] == [f"W{n}/outer" for n in (1, 2, 3, 4, 1, 2)]
    assert len(closed) == len({r.level for r in outer})
    assert not found(design)


@pytest.mark.parametrize("every", [None, 600, 225])
def test_stack_bond_is_reinforced_though_nobody_says_so(book: RuleBook, every: float | None) -> None:
    outer = {"bond": "stack", "reinforced_every": every}
    design = quick(spec_of(box(W1={"openings": [window(3000)]}), outer), book)
    levels = sorted({r.level for r in at(design, "W3/outer")})
    assert {round(b - a, 3) for a, b in pairwise(levels)} == {min(every or 450, 450)}
    assert {r.why for r in at(design, "W3/outer")} == {("all_over" if every == 225 else "stack_bond",)}
    assert not found(design)


def test_a_parapet_is_reinforced_every_450(book: RuleBook) -> None:
    wall = {"id": "W1", "type": "single", "start": [0, 0], "end": [7000, 0], "base": 3000, "top": 4000, "stands": "parapet"}
    design = quick(spec_of([wall]), book)
    assert [(r.level, r.why) for r in at(design, "W1/outer")] == [(3450, ("parapet",)), (3900, ("parapet",))]
    assert not found(design)
    bare = quick(spec_of([wall | {"reinforcement": []}]), book)
    assert [f.severity for f in found(bare, "parapet-reinforced")] == ["warn"]


def test_neighbouring_laps_are_staggered_and_those_of_a_window_take_turns(book: RuleBook) -> None:
    design = quick(spec_of(box(W1={"openings": [window(3000, width=2600)]})), book)
    over = [r for r in at(design, "W1/outer") if r.level > 2100]
    assert [r.cuts for r in over] == [
        (Span(2400, 5100), Span(4875, 6200)),
        (Span(2400, 3725), Span(3500, 6200)),
    ]
    assert not found(design)


def test_lengths_that_whole_pieces_just_fill_are_cut_anew_in_every_other_bed(book: RuleBook) -> None:
    # 5100 in two pieces can only lap in its middle; the next bed takes three
    design = quick(spec_of(box(W1={"openings": [window(3000, width=3900)]})), book)
    over = [r for r in at(design, "W1/outer") if r.level > 2100]
    assert [len(r.pieces) for r in over] == [2, 3]
    assert not found(design)


def test_listed_lengths_are_kept_and_nothing_is_added(book: RuleBook) -> None:
    listed = [{"leaf": "outer", "level": 2175, "at": 2500, "length": 3000}, {"level": 1000, "at": 100, "length": 500}]
    wall = {"openings": [window(3000)], "reinforcement": listed}
    design = quick(spec_of(box(W1=wall)), book)
    assert [(r.id, r.level, r.span, r.course, r.given) for r in at(design, "W1/outer")] == [
        ("W1/outer/R-G1", 2175, Span(2500, 5500), 32, True),
        ("W1/outer/R-G2", 1000, Span(100, 600), 17, True),
    ]
    assert [r.pieces for r in at(design, "W1/outer")] == [(2700.0, 525.0), (500.0,)]
    assert [r.id for r in at(design, "W1/inner")] == ["W1/inner/R-G1"]
    said = {(f.code, f.where) for f in found(design)}
    assert ("reinforcement-in-bed", "W1/outer/R-G2") in said, "1000 lies in a brick"
    assert ("opening-reinforced", "W1/outer/A head") in said


def test_others_are_placed_beside_listed_ones_where_the_list_says_so(book: RuleBook) -> None:
    listed = [{"leaf": "outer", "level": 2175, "at": 2500, "length": 1000}, "place"]
    design = quick(spec_of(box(W1={"openings": [window(3000)], "reinforcement": listed})), book)
    first = sorted(r.span for r in at(design, "W1/outer") if r.level == 2175)
    # 2400 to 4810 is wanted; both sides of what is there, a lap over it
    assert first == [Span(2400, 2725), Span(2500, 3500), Span(3275, 4810)]
    assert {r.span for r in at(design, "W1/outer") if r.level != 2175} == {Span(2400, 4810)}
    assert not found(design)


def test_how_wide_it_may_be_to_keep_its_cover(book: RuleBook) -> None:
    """NHBC 6.1.18: 20 mm from the face, here from both."""
    design = quick(spec_of(box(W1={"openings": [window(3000)]})), book)
    assert {(r.leaf, r.width_most) for r in design.fittings.bed_reinforcement} == {("W1/outer", 62.5), ("W1/inner", 60)}
    assert {(s.thickness, s.width_most) for s in design.fittings.stock} == {(102.5, 62.5), (100, 60)}


def test_a_building_turned_round_has_the_same_reinforcement_mirrored(book: RuleBook) -> None:
    walls = box(W1={"openings": [window(7600), window(2100, name="B")]}, W2={"openings": [window(300, name="C")]})
    mirrored = []
    for wall in walls:
        (x0, y0), (x1, y1) = wall["start"], wall["end"]
        length = hypot(x1 - x0, y1 - y0)
        turned = [o | {"at": length - o["at"] - o["width"]} for o in wall.get("openings", [])]
        mirrored.append(wall | {"start": [-x1, y1], "end": [-x0, y0], "openings": turned})
    one, other = quick(spec_of(walls), book), quick(spec_of(mirrored), book)
    lengths = {leaf.id: one.building.wall(leaf.wall).length for leaf in one.building.leaves}

    def shape(design: Design, turn: bool) -> list[object]:
        return sorted(
            (
                r.leaf,
                r.course,
                round(lengths[r.leaf] - r.span.end if turn else r.span.start, 3),
                round(r.span.length, 3),
                r.serves if not turn else tuple(reversed(r.serves)),
                sorted(t.leaf for t in r.returns),
            )
            for r in design.fittings.bed_reinforcement
        )

    assert shape(one, False) == shape(other, True)
    assert sum(s.number for s in one.fittings.stock) == sum(s.number for s in other.fittings.stock)


def test_where_courses_hardly_lap_the_bed_between_is_reinforced(book: RuleBook) -> None:
    """Four perpends of course 3 stand 40 mm from those of course 2, a fifth laps well; two are too few for a row."""
    wall = {"id": "W1", "type": "single", "start": [0, 0], "end": [2200, 0], "base": 0, "top": 600}
    spec = Spec.model_validate(spec_of([wall]))
    reader = RuleReader(book)
    building = resolve(spec, reader)
    (leaf,) = building.leaves

    def fitted(lower: list[float], upper: list[float]) -> list[tuple[float, Span]]:
        patterns = tuple(
            Pattern(name, "brick_65", 2200, 65, False, (), tuple(Perpend(at - 5, 10) for at in lines))
            for name, lines in (("low", lower), ("up", upper))
        )
        laid = lay(leaf)
        placed = tuple(Placement(n, laid.courses[n - 1].level, name, leaf.span) for n, name in ((2, "low"), (3, "up")))
        coursing = Coursing(patterns, (replace(laid, placements=placed),))
        lengths = fit(building, (), JointPlan((), (), ()), coursing, reader).bed_reinforcement
        assert all(r.why == ("low_lap",) for r in lengths)
        return [(r.level, r.span) for r in lengths]

    lower = [225.0, 450, 675, 900, 1125, 1350]
    assert fitted(lower, [265.0, 490, 715, 940, 1237.5, 1390]) == [(150, Span(0, 940 + 600))]
    assert fitted(lower, [337.5, 490, 715, 1012.5, 1237.5]) == []
    assert fitted(lower, [265.0, 490, 562.5, 715, 940]) == []


def random_design(seed: int, book: RuleBook) -> Design:
    """A building nobody drew, some of it reinforced all over, stack bonded or a parapet, joints here and there."""
    given = random_spec(seed)
    if seed % 3 == 1:
        given["leaves"] = {n: leaf | {"reinforced_every": 450 if seed % 2 else 225} for n, leaf in given["leaves"].items()}
    if seed % 5 == 2:
        given["leaves"]["brick"] = given["leaves"]["brick"] | {"bond": "stack"}
    if seed % 7 == 3:
        given["walls"][0]["stands"] = "parapet"
    joints = some_joints(resolve(Spec.model_validate(given), RuleReader(book)), seed)
    return quick(given, book, joints)


def assert_sound(design: Design) -> None:
    """What holds of any reinforcement, measured here; and nothing for the checks to find."""
    by_id = {r.id: r for r in design.fittings.bed_reinforcement}
    assert len(by_id) == len(design.fittings.bed_reinforcement)
    for r in by_id.values():
        assert r.pieces == tuple(cut.length for cut in r.cuts)
        assert (r.cuts[0].start, r.cuts[-1].end) == pytest.approx((r.span.start, r.span.end), abs=0.01)
        assert all(a.end - b.start >= 225 - 0.02 for a, b in pairwise(r.cuts))
        assert all(r.id in {back.continues for back in by_id[turn.continues].returns} for turn in r.returns)
        assert not any(j.gap.overlaps(r.span) and j.levels.contains(r.level) for j in design.plan.on_leaf(r.leaf))
    for stock in design.fittings.stock:
        assert all(sum(cut.pieces) <= stock.stock + 1e-6 for cut in stock.cuts)
        assert stock.least <= stock.number
    assert [f"{f.id}: {f.text}" for f in fails(design)] == []


def fails(design: Design) -> Iterator[Finding]:
    for name in JUDGES:
        module = __import__(f"elevgen.checks.{name.replace('-', '_')}", fromlist=["check"])
        yield from (f for f in module.check(design) if f.severity == "fail")


@pytest.mark.parametrize("tens", range(20))
def test_random_buildings_are_reinforced_soundly(tens: int, book: RuleBook) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        assert_sound(random_design(seed, book))


@pytest.mark.bench
def test_thousands_of_random_buildings_are_reinforced_soundly(book: RuleBook) -> None:
    near = 0
    for seed in range(1000, 4000):
        design = random_design(seed, book)
        assert_sound(design)
        module = __import__("elevgen.checks.reinforcement_laps_staggered", fromlist=["check"])
        near += sum(f.severity == "warn" for f in module.check(design))
    assert near <= 30, "laps over one another are rare"
