"""The lap of a unit by its height as well as by its length: check-values OVL-01, masonry rules of Poland (quoted, derived)."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest

from elevgen.coursing.model import Pattern, Perpend, Piece
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
CODE = "lap"
SHALLOW, TALL = (
    ("bond.lap.shallow.height_fraction", "bond.lap.shallow.min"),
    ("bond.lap.tall.height_fraction", "bond.lap.tall.min"),
)
OVL_01 = [
    # height of the unit, least lap, the rule it is from; mm
    (65, 40, "bond.lap.shallow.min"),
    (215, 86, "bond.lap.shallow.height_fraction"),
    (250, 100, "bond.lap.shallow.height_fraction"),
    (251, 100, "bond.lap.tall.min"),
]


@pytest.fixture(scope="module")
def wall(build: Build) -> Callable[..., Design]:
    """`wall(length, height)`: four courses of twelve such units."""

    def make(length: float, height: float) -> Design:
        unit = {"material": "clay", "length": length, "height": height, "width": 102.5, "joint": 10}
        one = {"id": "A", "type": "own", "start": [0, 0], "end": [12 * length + 110, 0], "top": 4 * (height + 10)}
        leaves = {"own": {"zones": [{"unit": "own"}]}}
        return build([one], units={"own": unit}, leaves=leaves, wall_types={"own": {"outer": "own"}})

    return make


def shifted(design: Design, lap: float) -> Design:
    """Courses of whole units, every other one with its perpends so far on: the first piece shorter by the rest of a unit."""
    units = {u.name: u for u in design.building.units}

    def laid(pattern: Pattern, lengths: Sequence[float]) -> Pattern:
        at, pieces, perpends = 0.0, [], []
        for k, length in enumerate(lengths):
            pieces.append(Piece(at, length, "full" if length == units[pattern.unit].length else "cut"))
            at += length
            if k < len(lengths) - 1:
                perpends.append(Perpend(at, 10.0))
                at += 10.0
        assert at == pytest.approx(pattern.length)
        return replace(pattern, pieces=tuple(pieces), perpends=tuple(perpends))

    one, other = design.coursing.patterns
    length = units[one.unit].length
    patterns = laid(one, [length] * 12), laid(other, [lap - 10, *[length] * 11, length - lap])
    return replace(design, coursing=replace(design.coursing, patterns=patterns))


def judged(found: Found, design: Design) -> Finding:
    (finding,) = found(design, CODE, everything=True)
    return finding


@pytest.mark.parametrize(("height", "least", "key"), OVL_01)
def test_ovl_01_quoted_the_least_lap_by_height(wall: Any, found: Found, height: float, least: float, key: str) -> None:
    """Units of 150 mm, so that a quarter of the length, 37.5 mm, asks for less."""
    finding = judged(found, wall(150.0, height))
    assert (finding.limit, finding.operator) == (pytest.approx(least), ">=")
    assert finding.source is not None
    assert (finding.source.key, finding.source.status) == (key, "quoted")


@pytest.mark.parametrize(("height", "least", "key"), OVL_01)
def test_a_lap_short_of_it_is_found_and_one_of_just_as_much_passes(
    wall: Any, found: Found, height: float, least: float, key: str
) -> None:
    short, enough = (judged(found, shifted(wall(215.0, height), lap)) for lap in (max(least, 53.75) - 0.1, max(least, 53.75)))
    assert (short.severity, enough.severity) == ("warn", "pass")
    assert short.measured == pytest.approx(max(least, 53.75) - 0.1)
    assert short.limit == pytest.approx(max(least, 53.75))


def test_the_length_rules_where_it_asks_for_more(wall: Any, found: Found) -> None:
    """A quarter of 215 is 53.75 against 40, of 440 it is 110 against 86."""
    for length, height, least in ((215.0, 65.0, 53.75), (440.0, 215.0, 110.0)):
        finding = judged(found, wall(length, height))
        assert finding.limit == pytest.approx(least)
        assert finding.source is not None
        assert (finding.source.key, finding.source.status) == ("bond.lap.fraction", "read")


@pytest.mark.parametrize("key", SHALLOW)
def test_without_the_rule_by_height_the_length_alone_is_judged(
    wall: Any, found: Found, lacking: Callable[..., Design], key: str
) -> None:
    """Half way between the two limits of a brick 215 mm high."""
    design = shifted(wall(215.0, 215.0), 70.0)
    assert judged(found, design).severity == "warn"
    finding = judged(found, lacking(design, key))
    assert (finding.severity, finding.limit) == ("pass", pytest.approx(53.75))
    assert judged(found, lacking(design, *TALL)).limit == pytest.approx(86)


@pytest.mark.parametrize("key", TALL)
def test_without_the_rule_for_tall_units_their_length_alone_is_judged(
    wall: Any, found: Found, lacking: Callable[..., Design], key: str
) -> None:
    design = shifted(wall(215.0, 251.0), 70.0)
    assert judged(found, design).severity == "warn"
    assert judged(found, lacking(design, key)).limit == pytest.approx(53.75)
    assert judged(found, lacking(design, *SHALLOW)).limit == pytest.approx(100)


def test_without_the_height_that_parts_low_from_tall_the_length_alone_is_judged(
    wall: Any, found: Found, lacking: Callable[..., Design]
) -> None:
    """A brick of 65 mm that laps 70 is no tall unit."""
    finding = judged(found, lacking(shifted(wall(215.0, 65.0), 70.0), "bond.lap.shallow.height"))
    assert (finding.severity, finding.limit) == ("pass", pytest.approx(53.75))


def test_without_the_rule_by_length_nothing_is_judged(wall: Any, found: Found, lacking: Callable[..., Design]) -> None:
    finding = judged(found, lacking(wall(215.0, 65.0), "bond.lap.fraction"))
    assert (finding.severity, finding.measured) == ("not_checked", None)


def test_the_set_out_keeps_the_lap_it_is_judged_by(wall: Any, found: Found) -> None:
    for length, height in ((215.0, 65.0), (215.0, 215.0), (215.0, 251.0), (440.0, 215.0), (190.0, 190.0)):
        finding = judged(found, wall(length, height))
        assert finding.severity == "pass"
        assert finding.measured == pytest.approx((length + 10) / 2)
