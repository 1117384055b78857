"""The check of perpends at openings and on lintels: a wall in its plain bond judged by the rule, its repair, and what is said.

Stretcher bond, a window of 910 mm that starts where a brick ends: every other course has a perpend 5 mm off each of its corners,
the courses between one 7.5 mm off each end of the lintel, which bears 100 mm. All figures follow from 225 and 112.5 mm.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest

from elevgen.coursing.model import Perpend, Piece
from elevgen.result import Design, Finding
from elevgen.rules.loader import load_book

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
CODE = "perpend-at-opening"
CLEAR = load_book("uk").get("bond.opening.clear").number
LINTEL_END = load_book("uk").get("bond.lintel_end.clear").number
KEYS = ("bond.opening.clear", "bond.opening.courses", "bond.lintel_end.clear")
WINDOW = {"id": "V1", "kind": "window", "at": 1790, "width": 910, "sill": 600, "height": 600}
WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [4490, 0], "top": 1500}


def wall(**window: float) -> dict[str, Any]:
    return WALL | {"openings": [WINDOW | window]}


def kept_whole(*keys: str) -> list[dict[str, Any]]:
    """The overrides by which perpends need not keep off."""
    return [{"rule": key, "value": 0, "unit": "mm", "reason": "the bond kept whole", "by": "nobody"} for key in keys]


WHOLE = {"overrides": kept_whole("bond.opening.clear", "bond.lintel_end.clear")}


@pytest.fixture(scope="module")
def plain(build: Build) -> Design:
    """The wall in its plain bond, judged by the rule set as it is."""
    return replace(build([wall()], **WHOLE), rules=load_book("uk"))


def courses(design: Design) -> dict[int, list[tuple[float, ...]]]:
    """By course: the lengths of the pieces of each of its stretches."""
    found: dict[int, list[tuple[float, ...]]] = {}
    for p in sorted(design.coursing.leaves[0].placements, key=lambda p: (p.course, p.span)):
        found.setdefault(p.course, []).append(tuple(round(x.length, 2) for x in design.coursing.pattern(p.pattern).pieces))
    return found


def recut(design: Design, course: int, lengths: Sequence[float]) -> Design:
    """The design with the pattern of a course laid in other pieces, perpends of 10 mm between them."""
    name = next(p.pattern for p in design.coursing.leaves[0].placements if p.course == course)
    pieces, perpends, at = [], [], 0.0
    for length in lengths:
        if pieces:
            perpends.append(Perpend(at, 10.0))
            at += 10.0
        pieces.append(Piece(at, length, "full" if length == 215 else "cut"))
        at += length
    assert at == pytest.approx(design.coursing.pattern(name).length)
    laid = {"pieces": tuple(pieces), "perpends": tuple(perpends)}
    patterns = tuple(replace(p, **laid) if p.id == name else p for p in design.coursing.patterns)
    return replace(design, coursing=replace(design.coursing, patterns=patterns))


def test_a_plain_bond_over_an_opening_is_found(plain: Design, found: Found) -> None:
    """Both corners in one of the two courses over and under it, both ends of the lintel in the course on it: six places."""
    (finding,) = found(plain, CODE)
    assert (finding.severity, finding.where, finding.openings) == ("warn", "A/outer/V1", ("V1",))
    assert (finding.measured, finding.operator, finding.limit) == (pytest.approx(5), ">=", CLEAR)
    assert finding.source is not None
    assert (finding.source.key, finding.source.status) == ("bond.opening.clear", "practice")
    assert "5 mm from the line of the left corner" in finding.text
    assert "too near in 6 places" in finding.text


def test_the_same_wall_set_out_by_the_rule_passes(build: Build, found: Found) -> None:
    (finding,) = found(build([wall()]), CODE, everything=True)
    assert finding.severity == "pass"
    assert finding.measured is not None
    assert finding.measured >= CLEAR


def test_a_perpend_on_the_end_of_a_lintel_is_found(build: Build, found: Found) -> None:
    """Corners may have their perpends, lintels not: 107.5 and 225 a course against 1690, in course 17, and 2800."""
    design = build([wall()], overrides=kept_whole("bond.opening.clear", "bond.lintel_end.clear"))
    rules = load_book("uk").values["bond.lintel_end.clear"]
    judged = replace(design, rules=replace(design.rules, values=design.rules.values | {rules.key: rules}))
    (finding,) = found(judged, CODE)
    assert (finding.measured, finding.limit) == (pytest.approx(7.5), LINTEL_END)
    assert finding.text.startswith(
        "nearest perpend 7.5 mm from the left end of the lintel, in course 17 on it; too near in 2 places"
    )
    assert not found(build([wall()], overrides=kept_whole("bond.opening.clear")), CODE)


# ---- why it stands there


def test_because_it_is_not_worth_the_cuts(plain: Design, found: Found) -> None:
    """At 1736.25, a quarter of a brick off the perpends over and under it, it would lap."""
    (finding,) = found(plain, CODE)
    assert finding.text.endswith(": another place would need more cut units than it is worth")


def test_because_no_place_near_by_laps(plain: Design, found: Found) -> None:
    """Where a brick of the course below is cut in three, every place within half a brick is too near one of its perpends."""
    below = next(k for k in (7, 9) if len(courses(plain)[k]) == 1)
    lengths = list(courses(plain)[below][0])
    cut = next(k for k in range(len(lengths)) if sum(lengths[:k]) + 10 * k > 1680)
    crowded = recut(plain, below, [*lengths[:cut], 65.0, 65.0, 65.0, *lengths[cut + 1 :]])
    (finding,) = found(crowded, CODE)
    assert "in course 8 under the sill" in finding.text
    assert finding.text.endswith(": the perpends over and under it leave no place near by that laps them")


def test_because_the_edge_is_off_the_courses(build: Build, found: Found) -> None:
    """Units are cut in height 30 mm up, under the opening only: they end at its corners. At 600 or 675 nothing is cut so."""
    (finding,) = found(build([wall(sill=640, height=560)]), CODE)
    assert (finding.severity, finding.measured) == ("warn", pytest.approx(5))
    assert "in course 9 under the sill" in finding.text
    assert finding.text.endswith(": the opening's edge does not land on a course, and the units cut in height end there")
    assert not found(build([wall(sill=600)]), CODE)
    assert not found(build([wall(sill=675, height=525)]), CODE)


# ---- limits


@pytest.mark.parametrize("key", KEYS)
def test_without_a_limit_nothing_is_judged(plain: Design, found: Found, lacking: Callable[..., Design], key: str) -> None:
    (finding,) = found(lacking(plain, key), CODE)
    assert (finding.severity, finding.measured) == ("not_checked", None)


def test_a_wall_without_openings_has_none(build: Build, found: Found) -> None:
    assert found(build([WALL]), CODE, everything=True) == []


@pytest.mark.parametrize("width", [460, 572.5, 910, 1135, 1360])
@pytest.mark.parametrize("at", [890, 1115, 1227.5, 1790])
def test_at_nought_the_bond_goes_on_over_and_under_openings(build: Build, found: Found, at: float, width: float) -> None:
    """No course there has a piece that the wall without an opening has not; by the rule as it is some have."""
    without = {stretch for rows in courses(build([WALL], **WHOLE)).values() for stretch in rows}
    design = build([wall(at=at, width=width)], **WHOLE)
    whole = [rows[0] for rows in courses(design).values() if len(rows) == 1]
    assert len(whole) == 12
    assert set(whole) <= without
    assert [f.severity for f in found(design, CODE, everything=True)] == ["pass"]
    moved = [rows[0] for rows in courses(build([wall(at=at, width=width)])).values() if len(rows) == 1]
    assert not set(moved) <= without
