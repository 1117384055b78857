"""Masonry too small to build between an opening and where the masonry ends; and the same put right."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

LENGTH, TOP = 5615.0, 2700.0
WINDOW = {"id": "V1", "kind": "window", "at": 2022.5, "width": 1210, "sill": 900, "height": 1200}


def wall(*openings: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"id": "A", "type": "garden", "start": [0, 0], "end": [LENGTH, 0], "top": TOP, "openings": list(openings)} | more


def strips(build: Build, found: Found, *walls: dict[str, Any], **more: Any) -> list[tuple[str, str, float | None]]:
    return [(f.severity, f.where, f.measured) for f in found(build(list(walls), **more), "opening-strip")]


@pytest.mark.parametrize(("left", "expected"), [(30, True), (214.9, True), (215, False), (560, False)])
def test_a_pier_beside_the_end_of_the_wall(build: Build, found: Found, left: float, expected: bool) -> None:
    at_left, at_right = WINDOW | {"at": left}, WINDOW | {"at": LENGTH - left - 1210}
    assert strips(build, found, wall(at_left)) == ([("fail", "A/V1 left", pytest.approx(left))] if expected else [])
    assert strips(build, found, wall(at_right)) == ([("fail", "A/V1 right", pytest.approx(left))] if expected else [])


def test_an_opening_at_the_very_end_leaves_no_sliver(build: Build, found: Found) -> None:
    assert strips(build, found, wall(WINDOW | {"at": 0})) == []


CORNER = [wall(), {"id": "B", "type": "garden", "start": [LENGTH, 0], "end": [LENGTH, 3940], "top": TOP}]


def test_a_pier_at_an_outer_corner_counts_to_the_outer_face_and_is_held(build: Build, found: Found) -> None:
    def at(pier: float) -> list[tuple[str, str, float | None]]:
        return strips(build, found, CORNER[0] | {"openings": [WINDOW | {"at": LENGTH - pier - 1210}]}, CORNER[1])

    assert at(200) == [("warn", "A/V1 right", pytest.approx(200))]
    assert at(215) == []


def test_a_pier_in_an_inner_corner_counts_with_what_is_bonded_into_the_other_wall(build: Build, found: Found) -> None:
    """The other wall is 102.5 thick: 100 mm seen make 202.5 mm, 112.5 mm make a brick."""
    turned = {"id": "B", "type": "garden", "start": [LENGTH, 0], "end": [LENGTH, -3940], "top": TOP}

    def seen(pier: float) -> list[tuple[str, str, float | None]]:
        (design,) = [build([wall(), turned])]
        face = design.building.leaf("A/outer").span.end
        return strips(build, found, wall(WINDOW | {"at": face - pier - 1210}), turned)

    assert seen(100) == [("warn", "A/V1 right", pytest.approx(202.5))]
    assert seen(112.5) == []


def test_a_pier_at_a_jointed_wall_is_not_held(build: Build, found: Found) -> None:
    host = {"id": "H", "type": "garden", "start": [0, -2000], "end": [0, 2000], "top": TOP}
    nib = wall(WINDOW | {"at": 60}, start=[0, 0])
    said = {
        connection: strips(build, found, host, nib, junctions=[{"walls": ["H", "A"], "connection": connection}])
        for connection in ("bonded", "tied", "jointed")
    }
    assert [s for s, _, _ in said["bonded"]] == [s for s, _, _ in said["tied"]] == ["warn"]
    assert [s for s, _, _ in said["jointed"]] == ["fail"]


def test_a_pier_is_measured_where_a_slope_cuts_it_most(build: Build, found: Found) -> None:
    """The slope meets the level 1 mm under the head 100 mm from the reveal."""
    reveal = LENGTH - 2022.5
    top = [[0, 3900], [reveal + 100, 2099], [LENGTH, 2099 - (3900 - 2099) / (reveal + 100) * 1922.5]]
    window = WINDOW | {"at": reveal - 1210}
    right = [s for s in strips(build, found, wall(window, top=top)) if s[1] == "A/V1 right"]
    assert right == [("fail", "A/V1 right", pytest.approx(100, abs=0.1))]


@pytest.mark.parametrize(
    ("band", "severity"), [(10, "fail"), (29.9, "fail"), (75, "warn"), (149.9, "warn"), (150, None), (0, None)]
)
def test_masonry_over_an_opening_up_to_the_top(build: Build, found: Found, band: float, severity: str | None) -> None:
    """30 mm: a unit cut to 20 mm, and its bed. 150 mm: two courses of brick."""
    findings = strips(build, found, wall(WINDOW | {"height": TOP - 900 - band}))
    assert findings == ([(severity, "A/V1 head", pytest.approx(band))] if severity else [])


def test_masonry_under_a_sill_stands_on_the_base_and_needs_only_one_unit(build: Build, found: Found) -> None:
    for height, expected in ((10, ["warn"]), (29.9, ["warn"]), (30, []), (75, []), (0, [])):
        assert [s for s, _, _ in strips(build, found, wall(WINDOW | {"sill": height}))] == expected


def test_what_is_alike_in_openings_and_leaves_is_said_once(build: Build, found: Found) -> None:
    two = [WINDOW | {"id": name, "at": at, "height": 1720} for name, at in (("V1", 1000), ("V2", 3500))]
    (finding,) = found(build([wall(*two, type="cavity")]), "opening-strip")
    assert (finding.where, finding.openings, finding.leaves) == ("A/V1+V2 head", ("V1", "V2"), ())
    assert finding.text == "80 mm of masonry over V1 and V2 up to its top, less than the least band of 150 mm"


def test_a_sliver_of_one_leaf_names_it(build: Build, found: Found) -> None:
    """The inner leaf begins 202.5 mm further in than the outer, round the corner."""
    walls = [
        wall(WINDOW | {"at": 350}, type="cavity"),
        {"id": "B", "type": "cavity", "start": [0, 3940], "end": [0, 0], "top": TOP},
    ]
    (finding,) = found(build(walls), "opening-strip")
    assert (finding.severity, finding.leaves) == ("warn", ("A/inner",))
    assert "in the inner leaf" in finding.text
