"""A leaf whose joints stand further apart for its reinforced beds has them all over; and its repair."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from elevgen.core.geometry import Span
from elevgen.fittings.model import BedReinforcement
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

CODE = "reinforcement-all-over"
WALL: dict[str, Any] = {"id": "A", "type": "garden", "start": [0, 0], "end": [13340, 0], "base": -150, "top": 2700}
WINDOW = {"id": "V1", "kind": "window", "at": 4072.5, "width": 1810, "sill": 900, "height": 1210}


def built(build: Build, every: float, unit: str = "brick_65", **more: Any) -> Design:
    leaf = {"zones": [{"unit": unit}], "reinforced_every": every}
    return build([WALL | more], {"A/outer": [7340.0]}, leaves={"only": leaf}, wall_types={"garden": {"outer": "only"}})


def with_reinforcement(design: Design, change: Callable[[BedReinforcement], BedReinforcement | None]) -> Design:
    laid = tuple(new for r in design.fittings.bed_reinforcement if (new := change(r)) is not None)
    return replace(design, fittings=replace(design.fittings, bed_reinforcement=laid))


@pytest.mark.parametrize("every", [225, 300, 450])
@pytest.mark.parametrize("more", [{}, {"openings": [WINDOW]}, {"top": [[0, 2700], [5005, 2700], [5005, 1950], [13340, 1950]]}])
def test_as_laid_it_is_all_over(build: Build, found: Found, every: float, more: dict[str, Any]) -> None:
    (passed,) = found(built(build, every, **more), CODE, everything=True)
    assert (passed.severity, passed.measured is not None and passed.measured <= every) == ("pass", True)


def test_a_bed_left_out(build: Build, found: Found) -> None:
    """Six courses of 75 mm to each reinforced bed, the first 450 mm up from -150: without that at 750, 900 mm are bare."""
    good = built(build, 450)
    levels = sorted({r.level for r in good.fittings.bed_reinforcement})
    assert levels == pytest.approx([300, 750, 1200, 1650, 2100, 2550])
    (fault,) = found(with_reinforcement(good, lambda r: None if r.level == levels[1] else r), CODE)
    assert (fault.severity, fault.measured) == ("fail", pytest.approx(900))
    assert "reinforce a bed there" in fault.text


def test_a_bed_reinforced_for_a_part_only(build: Build, found: Found) -> None:
    good = built(build, 450)
    levels = sorted({r.level for r in good.fittings.bed_reinforcement})

    def shortened(r: BedReinforcement) -> BedReinforcement:
        return replace(r, span=Span(r.span.start + 2000, r.span.end)) if r.level == levels[1] and r.span.start < 7000 else r

    (fault,) = found(with_reinforcement(good, shortened), CODE)
    assert fault.measured == pytest.approx(900)
    assert "1000 mm along the wall" in fault.text


def test_what_stops_short_of_a_joint_is_no_gap(build: Build, found: Found) -> None:
    """50 mm on each side of it, by an override."""
    asked = {"rule": "bed_reinforcement.joint_clearance", "value": 50, "unit": "mm", "reason": "maker's advice", "by": "engineer"}
    leaf = {"zones": [{"unit": "brick_65"}], "reinforced_every": 450}
    makings = {"leaves": {"only": leaf}, "wall_types": {"garden": {"outer": "only"}}, "overrides": [asked]}
    design = build([WALL], {"A/outer": [7340.0]}, **makings)
    assert 7348 + 50 in {r.span.start for r in design.fittings.bed_reinforcement}
    assert not found(design, CODE)


def test_reinforcement_at_openings_only_is_not_all_over(build: Build, found: Found) -> None:
    """The beds over and under the window; the wall beside it has none from bottom to top."""
    plain = build([WALL | {"openings": [WINDOW]}], {"A/outer": [7340.0]})
    leaves = tuple(replace(leaf, reinforced_every=450.0) for leaf in plain.building.leaves)
    (fault,) = found(replace(plain, building=replace(plain.building, leaves=leaves)), CODE)
    assert fault.measured == pytest.approx(2840), "from -150 to 2700, a bed of 10 mm less"


def test_units_too_high_for_the_beds_asked_for(build: Build, found: Found) -> None:
    """Blocks of 225 mm with their beds cannot have a bed every 150 mm, whatever is laid."""
    assert not found(built(build, 225, "dense_block_140"), CODE)
    (fault,) = found(built(build, 150, "dense_block_140"), CODE)
    assert fault.measured == pytest.approx(225)


def test_a_leaf_that_asks_for_none_is_left_alone(build: Build, found: Found) -> None:
    (passed,) = found(build([WALL | {"openings": [WINDOW]}], {"A/outer": [7340.0]}), CODE, everything=True)
    assert passed.text == "no leaf is to be reinforced all the way up"
