"""TEK 17-1B: when masonry arches over a lintel, and the effective span (TEK17-01, TEK17-02).

Bibliography: TEK 17-1B (read); the height for a span of 6 ft is worked out by Taly's rule (derived). American practice, which the
uk set carries as a second method for comparison.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.fittings.arching import effective_span, height_needed
from elevgen.rules.book import RuleBook

DOCUMENT = "TEK 17-1B"

Carried = Callable[..., None]


def test_height_needed_on_6_ft_is_3_ft_8_in_derived(published: Any, uk: RuleBook) -> None:
    """TEK17-01: half the effective span and 8 in."""
    angle, above = (uk.get(f"lintel.load.arching.{name}").number for name in ("angle", "above_apex"))
    ours = height_needed(72 * 25.4, angle, above) / 25.4
    published("TEK17-01", "effective span 6 ft, height to arch", 44, ours, unit="in", status="derived")


@pytest.mark.parametrize(("bearing", "allowed"), [(4, True), (3, False)])
def test_end_bearing_4_in_read(published: Any, over_door: Callable[..., Any], bearing: float, allowed: bool) -> None:
    """TEK17-02."""
    load = over_door(clear=64, height=88, top=88 + 136, bearing=bearing)
    published("TEK17-02", f"end bearing {bearing:g} in: arches", allowed, load.by("arching") is not None)
    assert [cause.kind for cause in load.why_not("arching")] == ([] if allowed else ["bearing", "bearing"])


@pytest.mark.parametrize(("above", "allowed"), [(8, True), (7, False)])
def test_wall_over_the_point_8_in_read(published: Any, over_door: Callable[..., Any], above: float, allowed: bool) -> None:
    """TEK17-02: on an effective span of 6 ft the point of the triangle is 36 in up."""
    load = over_door(clear=64, height=88, top=88 + 36 + above)
    published("TEK17-02", f"wall {above:g} in over the point: arches", allowed, load.by("arching") is not None)
    assert [cause.kind for cause in load.why_not("arching")] == ([] if allowed else ["height"])


def test_effective_span_is_clear_and_depth_not_over_centres_read() -> None:
    assert effective_span(64, 72, depth=7.625) == 71.625
    assert effective_span(64, 72, depth=15.625) == 72


def test_the_rule_set_carries_them_as_read(carried: Carried) -> None:
    carried("TEK 17-1B", "lintel.load.arching.above_apex", pytest.approx(203.2), "read")
    carried("TEK 17-1B", "lintel.load.arching.bearing", pytest.approx(101.6), "read")
    carried("TEK 17-1B", "lintel.load.arching.angle", 45, "read")
