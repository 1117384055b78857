"""Each check of the ties of a cavity wall: a design that breaks the rule, and the same one put right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from fitted_wall import BRICK, DOOR, WALL, WINDOW

from elevgen.core.geometry import Span
from elevgen.fittings.model import Tie, WallTies
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]


def with_ties(design: Design, keep: Callable[[Tie], bool], length: float | None = 225.0) -> Design:
    (given,) = design.fittings.ties
    ties: WallTies = replace(given, ties=tuple(t for t in given.ties if keep(t)), length=length)
    return replace(design, fittings=replace(design.fittings, ties=(ties,)))


def test_a_row_of_ties_left_out(plain: Design, found: Found) -> None:
    levels = sorted({t.level for t in plain.fittings.ties[0].ties if t.kind == "field"})
    (finding,) = found(with_ties(plain, lambda t: t.level != levels[2]), "tie-spacing")
    assert finding.severity == "fail"
    assert finding.measured is not None
    assert finding.measured > 450


def test_a_tie_left_out_of_a_row(plain: Design, found: Found) -> None:
    fields = [t for t in plain.fittings.ties[0].ties if t.kind == "field" and t.level > 2110]
    (finding,) = found(with_ties(plain, lambda t: t not in fields[1:3]), "tie-spacing")
    assert (finding.limit, finding.severity) == (900, "fail")


def test_no_ties_at_all(plain: Design, found: Found) -> None:
    none = with_ties(plain, lambda t: False)
    assert [f.severity for f in found(none, "tie-spacing")] == ["fail"]
    assert [f.severity for f in found(none, "tie-density")] == ["fail"]


@pytest.mark.parametrize(("per_m2", "severity"), [(2.47, "pass"), (2.44, "fail")])
def test_density_is_counted_over_the_masonry(plain: Design, found: Found, per_m2: float, severity: str) -> None:
    """A 900 x 450 grid gives 2.47, published as 2.5. Masonry: 8.09 x 2.7 less door and window."""
    area = 8.09 * 2.7 - 0.91 * 2.11 - 1.81 * 1.21
    count = round(per_m2 * area)
    kept = plain.fittings.ties[0].ties[:count]
    (finding,) = found(with_ties(plain, lambda t: t in kept), "tie-density", everything=True)
    assert finding.measured == pytest.approx(count / area)
    assert finding.severity == severity


def test_a_reveal_without_ties(plain: Design, found: Found) -> None:
    beside = Span(4047.5 - 225, 4047.5)
    bare = with_ties(plain, lambda t: not (beside.contains(t.at) and 1200 < t.level < 1700))
    (finding,) = found(bare, "tie-near-joint-and-reveal")
    assert (finding.where, finding.limit) == ("A/V1 left reveal", 300)
    assert finding.measured is not None
    assert finding.measured > 500


def test_a_joint_without_ties_on_one_side(build: Build, found: Found) -> None:
    design = build([WALL], {"A/outer": [3400.0], "A/inner": [3400.0]})
    assert not found(design, "tie-near-joint-and-reveal")
    bare = with_ties(design, lambda t: not 3408 < t.at <= 3408 + 225)
    findings = found(bare, "tie-near-joint-and-reveal")
    assert {f.where for f in findings} == {"A/outer/J1 right side", "A/inner/J1 right side"}
    assert {f.severity for f in findings} == {"fail"}


def test_ties_lie_in_beds_and_in_masonry(plain: Design, found: Found) -> None:
    (given,) = plain.fittings.ties

    def moved(**to: float) -> Design:
        ties = (replace(given.ties[0], **to), *given.ties[1:])
        return replace(plain, fittings=replace(plain.fittings, ties=(replace(given, ties=ties),)))

    assert [f.severity for f in found(moved(level=495.0), "tie-in-beds")] == ["warn"]
    assert [f.severity for f in found(moved(at=4500.0, level=1205.0), "tie-in-beds")] == ["fail"]


@pytest.mark.parametrize(("length", "severity"), [(225.0, "pass"), (200.0, "fail"), (None, "not_checked")])
def test_tie_length_by_cavity(plain: Design, found: Found, length: float | None, severity: str) -> None:
    """A cavity of 100 mm takes ties of 225 mm (PD 6697:2019, quoted)."""
    (finding,) = found(with_ties(plain, lambda t: True, length), "tie-length", everything=True)
    assert finding.severity == severity


def test_no_tie_is_asked_for_where_there_is_no_room(build: Build, found: Found) -> None:
    """A joint 20 mm from the end of the wall leaves 12 mm between its gap and the end."""
    near = build([WALL | {"openings": []}], {"A/outer": [8070.0]})
    notes = [f for f in found(near, "tie-near-joint-and-reveal") if f.where == "A/outer/J1 right side"]
    assert [(f.severity, f.measured) for f in notes] == [("note", pytest.approx(12))]


@pytest.mark.parametrize(("joint", "length"), [(4000.0, 4.09), (6700.0, 1.39)])
def test_a_thin_panel_is_found_though_the_wall_has_ties_enough(build: Build, found: Found, joint: float, length: float) -> None:
    """Beyond the joint a blank panel of 11.0 m2, or one of 3.8, too small to be judged by itself."""
    design = build([WALL | {"openings": [DOOR]}], {"A/outer": [joint], "A/inner": [joint]})
    assert not found(design, "tie-density")
    left = [t for t in design.fittings.ties[0].ties if t.at < joint]
    right = [t for t in design.fittings.ties[0].ties if t.at > joint]
    count = int(2.4 * length * 2.7)
    kept = [*left, *right[:count]]
    (finding,) = found(with_ties(design, lambda t: t in kept), "tie-density", everything=True)
    assert len(kept) / (8.09 * 2.7 - 0.91 * 2.11) >= 2.45
    if length * 2.7 < 4:
        assert finding.severity == "pass"
    else:
        assert (finding.severity, finding.measured) == ("fail", pytest.approx(count / length / 2.7))
        assert finding.text.endswith("from 4000 to 8090 mm along the wall")


def test_ties_of_a_reveal_may_not_be_paired_past_a_bed_of_both_leaves(plain: Design, found: Found) -> None:
    """In pairs every 450 mm though the beds meet every 75."""
    (given,) = plain.fittings.ties
    beside = Span(4047.5 - 225, 4047.5)
    kept = [t for t in given.ties if not (beside.contains(t.at) and 900 < t.level < 2110)]
    pairs = [Tie(at, row, "reveal") for row in (1105.0, 1480.0, 1855.0) for at in (3850.0, 3990.0)]
    paired = replace(plain, fittings=replace(plain.fittings, ties=(replace(given, ties=(*kept, *pairs)),)))
    (finding,) = found(paired, "tie-near-joint-and-reveal")
    assert (finding.severity, finding.measured, finding.where) == ("fail", 375, "A/V1 left reveal")


TALL = {"tall": {"material": "aircrete", "length": 440, "height": 440, "width": 100}}


@pytest.fixture(scope="module")
def apart(build: Build) -> Design:
    """Blocks 450 up inside: the leaves' beds meet every 450."""
    leaves = {"brick": BRICK, "block": {"zones": [{"unit": "tall"}]}}
    window = WINDOW | {"sill": 450, "height": 1350}
    return build([WALL | {"openings": [window]}], units=TALL, leaves=leaves)


def test_where_beds_meet_every_450_pairs_of_ties_are_noted(apart: Design, found: Found) -> None:
    findings = found(apart, "tie-near-joint-and-reveal")
    assert {f.where for f in findings} == {"A/V1 left reveal", "A/V1 right reveal", "A start", "A end"}
    assert {f.severity for f in findings} == {"note"}
    assert all("in pairs" in f.text and f.measured == pytest.approx(450, abs=10) for f in findings)


def test_one_tie_where_a_pair_is_wanted(apart: Design, found: Found) -> None:
    """A pair at one end of each 450 mm comes to one tie to 300 mm; single ties one above the other do not."""
    beside = [t for t in apart.fittings.ties[0].ties if 4047.5 - 225 <= t.at < 4047.5 and 850 < t.level < 1400]
    assert [round(t.level) for t in beside] == [905, 905, 1355, 1355]

    def judged(*gone: Tie) -> dict[str, tuple[str, str]]:
        less = with_ties(apart, lambda t: t not in gone)
        return {f.where: (f.severity, f.text) for f in found(less, "tie-near-joint-and-reveal")}

    assert judged(beside[0])["A/V1 left reveal"][0] == "note"
    findings = judged(beside[0], beside[3])
    assert findings["A/V1 left reveal"][0] == "fail"
    assert "nor a pair of ties" in findings["A/V1 left reveal"][1]
    assert findings["A/V1 right reveal"][0] == "note"


def test_no_pair_is_asked_for_without_the_room_for_it(build: Build, found: Found) -> None:
    """Joints of the two leaves with 100 mm between and 109 more in reach: one tie to a bed, and no bed between the beds."""
    leaves = {"brick": BRICK, "block": {"zones": [{"unit": "tall"}]}}
    design = build([WALL | {"openings": []}], {"A/outer": [4000.0], "A/inner": [4116.0]}, units=TALL, leaves=leaves)
    said = {f.where: (f.severity, f.text) for f in found(design, "tie-near-joint-and-reveal")}
    assert said["A/outer/J1 right side"][0] == "warn"
    assert "no more than 109 mm of both leaves beside it, no room for two ties in one bed" in said["A/outer/J1 right side"][1]
    assert said["A/outer/J1 left side"][0] == "note"


def test_rows_are_counted_from_the_bed_the_wall_stands_on(build: Build, found: Found) -> None:
    """Four courses of 75 to the first row: 300 from bed to bed, though 305 from the underside of the wall."""
    design = build([WALL | {"openings": []}], {"A/outer": [4000.0]}, leaves={"brick": BRICK, "block": BRICK})
    (given,) = design.fittings.ties
    levels = [305.0 + 300 * k for k in range(8)]
    ties = [*given.ties, *(Tie(at, row, "joint") for row in levels for at in (3900.0, 4100.0))]
    near = [t for t in ties if not 3760 < t.at < 4240 or t.level in levels]

    def judged(*rows: Tie) -> set[str]:
        laid = replace(design, fittings=replace(design.fittings, ties=(replace(given, ties=rows),)))
        return {f.severity for f in found(laid, "tie-near-joint-and-reveal", everything=True) if f.joints}

    assert judged(*near) == {"pass"}
    assert judged(*(replace(t, level=t.level + 1) if t.level == 305 else t for t in near)) == {"fail"}
