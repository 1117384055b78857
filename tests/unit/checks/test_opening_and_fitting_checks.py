"""Each check of openings, lintels and reinforcement: a design that breaks the rule, and the same one put right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from fitted_wall import BRICK, WALL, WINDOW

from elevgen.building.model import Opening
from elevgen.checks._heads import Edge, beds_at
from elevgen.core.geometry import Rect, Span
from elevgen.coursing.model import Course
from elevgen.fittings.model import BedReinforcement, Lintel
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]


def with_lintels(design: Design, change: Callable[[Lintel], Lintel | None]) -> Design:
    lintels = tuple(new for lintel in design.fittings.lintels if (new := change(lintel)))
    return replace(design, fittings=replace(design.fittings, lintels=lintels))


def with_reinforcement(design: Design, change: Callable[[BedReinforcement], BedReinforcement | None]) -> Design:
    laid = tuple(new for length in design.fittings.bed_reinforcement if (new := change(length)))
    return replace(design, fittings=replace(design.fittings, bed_reinforcement=laid))


FITTED = (
    "opening-strip",
    "opening-reinforced",
    "opening-lintel",
    "lintel-bearing",
    "reinforcement-crosses-joint",
    "reinforcement-lap",
    "reinforcement-laps-staggered",
    "reinforcement-in-bed",
    "reinforcement-stock",
    "low-lap-reinforced",
    "tie-spacing",
    "tie-density",
    "tie-length",
    "tie-in-beds",
    "tie-near-joint-and-reveal",
)


@pytest.mark.parametrize("code", FITTED)
def test_the_design_as_fitted_passes(plain: Design, found: Found, code: str) -> None:
    assert not found(plain, code)
    assert found(plain, code, everything=True)


def test_a_pier_too_narrow_is_named_with_its_size(build: Build, found: Found) -> None:
    beside = WINDOW | {"id": "V2", "at": 4047.5 + 1810 + 89, "width": 700}
    (finding,) = found(build([WALL | {"openings": [WINDOW, beside]}]), "opening-strip")
    assert (finding.severity, finding.where, finding.measured, finding.limit) == ("fail", "A/V1+V2", 89, 215)
    assert "89 x 1210 mm" in finding.text
    far = beside | {"at": 4047.5 + 1810 + 215}
    assert not found(build([WALL | {"openings": [WINDOW, far]}]), "opening-strip")


def test_a_band_too_low_is_named_with_its_size(build: Build, found: Found) -> None:
    over = WINDOW | {"id": "V2", "sill": 2110 + 66, "height": 200}
    (finding,) = found(build([WALL | {"openings": [WINDOW, over]}]), "opening-strip")
    assert (finding.measured, finding.limit) == (66, 150)
    assert "1810 x 66 mm" in finding.text
    assert not found(build([WALL | {"openings": [WINDOW, over | {"sill": 2110 + 150}]}]), "opening-strip")


def test_a_strip_no_group_has_taken_out_is_found_all_the_same(build: Build, found: Found) -> None:
    beside = WINDOW | {"id": "V2", "at": 4047.5 + 1810 + 89, "width": 700}
    design = build([WALL | {"openings": [WINDOW, beside]}])
    (wall,) = design.building.walls
    apart = tuple(replace(group, strips=()) for group in wall.groups)
    missed = replace(design, building=replace(design.building, walls=(replace(wall, groups=apart),)))
    (finding,) = found(missed, "opening-strip")
    assert (finding.severity, finding.where, finding.measured) == ("fail", "A/V1+V2", 89)


def test_a_bed_left_bare_over_an_opening(plain: Design, found: Found) -> None:
    over_door = [r for r in plain.fittings.bed_reinforcement if r.leaf == "A/outer" and r.level > 2110]
    bare = with_reinforcement(plain, lambda r: None if r in over_door[:1] else r)
    assert [f.where for f in found(bare, "opening-reinforced")] == ["A/outer/D1 head"]


def test_reinforcement_that_does_not_reach_past_a_reveal(plain: Design, found: Found) -> None:
    def shortened(r: BedReinforcement) -> BedReinforcement:
        return replace(r, span=Span(r.span.start, r.span.end - 1)) if r.level < 900 and r.leaf == "A/outer" else r

    (finding,) = found(with_reinforcement(plain, shortened), "opening-reinforced")
    assert (finding.where, finding.severity) == ("A/outer/V1 sill", "fail")
    assert "1 mm bare" in finding.text


def test_a_head_at_the_top_of_the_wall_has_nothing_to_reinforce(build: Build, found: Found) -> None:
    high = WINDOW | {"height": 1800}
    design = build([WALL | {"openings": [high]}])
    texts = {f.where: (f.severity, f.text) for f in found(design, "opening-reinforced", everything=True)}
    assert texts["A/outer/V1 head"] == ("pass", "no masonry at it to reinforce")
    assert {f.text for f in found(design, "opening-lintel", everything=True)} == {"no masonry straight over it to carry"}


def test_reinforcement_stops_at_a_joint(build: Build, found: Found) -> None:
    design = build([WALL], {"A/outer": [3400.0], "A/inner": [3400.0]})
    assert not found(design, "reinforcement-crosses-joint")
    bridged = with_reinforcement(design, lambda r: replace(r, span=Span(1000, 5000)) if r.level > 2110 else r)
    faults = found(bridged, "reinforcement-crosses-joint")
    assert faults
    assert all("J1" in f.text for f in faults)


def test_reinforcement_does_not_run_into_an_opening_or_past_the_end(plain: Design, found: Found) -> None:
    first = plain.fittings.bed_reinforcement[0]
    into = with_reinforcement(plain, lambda r: replace(r, span=Span(3000, 5000), level=1000.0) if r is first else r)
    assert ["opening" in f.text for f in found(into, "reinforcement-crosses-joint")] == [True]
    past = with_reinforcement(plain, lambda r: replace(r, span=Span(7000, 8200)) if r is first else r)
    assert ["past the end" in f.text for f in found(past, "reinforcement-crosses-joint")] == [True]


def test_laps_are_long_enough_and_pieces_cover_the_length(plain: Design, found: Found) -> None:
    lapped = next(r for r in plain.fittings.bed_reinforcement if r.laps)
    assert lapped.laps == 1
    first, second = lapped.cuts

    def only(*cuts: Span, **change: Any) -> Design:
        pieces = {"cuts": cuts, "pieces": tuple(cut.length for cut in cuts)} if cuts else {}
        return with_reinforcement(plain, lambda r: replace(r, **pieces, **change) if r is lapped else r)

    (short,) = found(only(first, Span(second.start + 0.1, second.end)), "reinforcement-lap")
    assert (short.measured, short.limit) == (pytest.approx(224.9), 225)
    (gap,) = found(only(pieces=(*lapped.pieces[:-1], lapped.pieces[-1] - 5)), "reinforcement-lap")
    assert gap.operator == "=="
    (astray,) = found(only(first.shifted(30), second.shifted(30)), "reinforcement-lap")
    assert "do not lie from" in astray.text
    (sold,) = found(only(Span(first.start, second.end - 100), Span(second.end - 400, second.end)), "reinforcement-lap")
    assert (sold.measured, sold.limit) == (lapped.span.length - 100, 2700)
    loose = replace(lapped, cuts=(), lap=224.9)
    (said,) = found(with_reinforcement(plain, lambda r: loose if r is lapped else r), "reinforcement-lap")
    assert (said.measured, said.limit) == (224.9, 225), "as said of it where nobody has said where its pieces lie"


@pytest.mark.parametrize(("bearing", "severity"), [(150.0, "pass"), (149.9, "fail")])
def test_a_lintel_bears_by_its_span(plain: Design, found: Found, bearing: float, severity: str) -> None:
    """1810 mm is over 1.2 m: 150 mm at each end."""
    short = with_lintels(plain, lambda x: replace(x, bearing_end=bearing) if "V1" in x.openings and x.leaf == "A/inner" else x)
    finding = next(f for f in found(short, "lintel-bearing", everything=True) if f.where.startswith("A/inner/L-V1"))
    assert (finding.severity, finding.measured) == (severity, pytest.approx(bearing))


def test_a_shared_lintel_is_judged_by_its_longest_span_and_by_the_piers_between(build: Build, found: Found) -> None:
    """Two windows of 685 over a pier of 440 share a lintel: its longest span is 685, though 1810 lie from end to end."""
    windows = [WINDOW | {"id": name, "at": at, "width": 685} for name, at in (("V1", 3147.5), ("V2", 3147.5 + 685 + 440))]
    design = build([WALL | {"openings": windows}], leaves={"brick": BRICK, "block": BRICK})
    assert next((x.leaf, x.openings) for x in design.fittings.lintels) == ("A/outer", ("V1", "V2"))
    findings = {f.where: f for f in found(design, "lintel-bearing", everything=True)}
    outer = findings["A/outer/L-V1"]
    assert (outer.severity, outer.measured, outer.limit) == ("pass", 150, 150)
    assert outer.source is not None and outer.source.key == "lintel.bearing.short.tray"
    # told that it spans all of it the check measures the pier by itself
    told = with_lintels(design, lambda x: replace(x, clears=(x.clear,)))
    assert found(told, "lintel-bearing", everything=True) == found(design, "lintel-bearing", everything=True)


def test_a_pier_between_too_narrow_to_bear_on_is_found(build: Build, found: Found) -> None:
    """A joint as given takes all but 62 mm of one side of the pier the lintel is said to run over."""
    windows = [WINDOW | {"id": name, "at": at, "width": 685} for name, at in (("V1", 3147.5), ("V2", 3147.5 + 685 + 215))]
    design = build([WALL | {"openings": windows}], leaves={"brick": BRICK, "block": BRICK})
    narrow = build([WALL | {"openings": windows}], {"A/outer": [3147.5 + 685 + 70]}, leaves={"brick": BRICK, "block": BRICK})
    crossing = replace(narrow, fittings=replace(narrow.fittings, lintels=design.fittings.lintels))
    (finding,) = [f for f in found(crossing, "lintel-bearing") if "outer" in f.where]
    assert (finding.severity, finding.measured, finding.limit) == ("fail", 62, 150)
    assert finding.text == "bears 62 mm on a pier between openings, needs 150 mm"


def test_a_short_lintel_bears_more_where_it_carries_a_tray(plain: Design, found: Found) -> None:
    limits = {f.where: f.limit for f in found(plain, "lintel-bearing", everything=True)}
    assert limits == {"A/outer/L-D1": 150, "A/outer/L-V1": 150, "A/inner/L-D1": 100, "A/inner/L-V1": 150}


def test_bearing_is_measured_on_masonry_not_believed(plain: Design, found: Found) -> None:
    """A hole beside the reveal takes the bearing away, whatever the lintel says."""
    hole = Rect(5857.5 + 60, 1500, 5857.5 + 400, 2400)
    leaves = tuple(replace(leaf, voids=(*leaf.voids, hole)) for leaf in plain.building.leaves)
    holed = replace(plain, building=replace(plain.building, leaves=leaves))
    findings = {f.where: f.measured for f in found(holed, "lintel-bearing")}
    assert findings == {"A/outer/L-V1": pytest.approx(60), "A/inner/L-V1": pytest.approx(60)}


def test_masonry_over_an_opening_needs_a_lintel(plain: Design, found: Found) -> None:
    none = with_lintels(plain, lambda x: None if x.leaf == "A/inner" and "D1" in x.openings else x)
    (finding,) = found(none, "opening-lintel")
    assert (finding.where, finding.severity) == ("A/inner/D1", "fail")
    assert "910 mm" in finding.text


def test_lintels_without_a_section_are_an_engineers(plain: Design, found: Found) -> None:
    (note,) = found(plain, "lintel-design")
    assert note.severity == "note"
    assert note.text.startswith("4 lintels without a section, the widest over a clear span of 1.81 m (A/outer/L-V1)")
    chosen = with_lintels(plain, lambda x: replace(x, depth=215.0))
    assert [f.severity for f in found(chosen, "lintel-design", everything=True)] == ["pass"]


def head_of(design: Design, found: Found, place: str) -> tuple[str, str]:
    (finding,) = [f for f in found(design, "opening-reinforced", everything=True) if f.where == place]
    return finding.severity, finding.text


def test_the_bed_on_a_cut_course_over_a_head_is_the_first_over_it(build: Build, found: Found) -> None:
    """Blocks 225 up: over a head at 2110 the block of 2035 to 2250 is cut to 140, and carries the first bed (NHBC 6.11.5)."""
    design = build([WALL])
    assert not found(design, "opening-reinforced")
    bare = with_reinforcement(design, lambda r: None if r.leaf == "A/inner" and r.level == pytest.approx(2250) else r)
    assert head_of(bare, found, "A/inner/V1 head") == (
        "fail",
        "1 of the next beds above reinforced, 2 wanted with 600 mm past each reveal; up to 3010 mm bare",
    )


@pytest.mark.parametrize(("top", "beds", "said"), [(2325, 2, "pass"), (2250, 1, "note"), (2175, 0, "note")])
def test_masonry_with_fewer_beds_over_a_head_is_noted_not_failed(
    build: Build, found: Found, top: float, beds: int, said: str
) -> None:
    design = build([WALL | {"top": top}], leaves={"brick": BRICK, "block": BRICK})
    severity, text = head_of(design, found, "A/outer/V1 head")
    assert severity == said
    assert f"the masonry there has {beds or 'none'}" in text or beds == 2
    bare = with_reinforcement(design, lambda r: None if r.level > 2110 else r)
    assert head_of(bare, found, "A/outer/V1 head")[0] == ("fail" if beds else "note"), "what beds there are must be reinforced"


@pytest.mark.parametrize(("head", "first"), [(2110, 2175), (2155, 2175), (2156, 2250), (2170, 2250), (2175, 2250)])
def test_a_sliver_over_a_head_is_no_course(head: float, first: float) -> None:
    """Courses of 65: what is lower than coursing.split.min (20, practice) is made up in mortar and bears no bed of its own."""
    courses = [Course(k, "brick", 75.0 * k + 10, 10.0, 65.0, Span(0, 9000)) for k in range(1, 40)]
    opening = Opening("V1", "window", Rect(4000, 900, 5810, head))
    beds = beds_at(courses, Edge(opening, True, head, (opening.rect.along,)), 20.0, 2)
    assert [bed.start for bed in beds] == [first, first + 75]


@pytest.mark.parametrize(("sill", "first"), [(900, 825), (910, 825), (929, 825), (930, 900)])
def test_a_sliver_under_a_sill_is_no_course(sill: float, first: float) -> None:
    courses = [Course(k, "brick", 75.0 * k + 10, 10.0, 65.0, Span(0, 9000)) for k in range(1, 40)]
    opening = Opening("V1", "window", Rect(4000, sill, 5810, 2110))
    beds = beds_at(courses, Edge(opening, False, sill, (opening.rect.along,)), 20.0, 2)
    assert [bed.start for bed in beds] == [first, first - 75]
