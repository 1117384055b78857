"""The wish to keep joints as far from corners as the wall is high is one of its own: it does not drown the nearer ones."""

from __future__ import annotations

from typing import Any, cast

import pytest

from elevgen.core.geometry import Span
from elevgen.joints.candidates import Liking, Site, off_bond

REVEAL, CORNER = 4600.0, 9000.0


def site(*reveals: Span) -> Site:
    """A leaf with a corner at its end; joints 10 mm wide."""
    nowhere = cast(Any, None)
    return Site(nowhere, nowhere, 10.0, (), reveals, (), (Span(CORNER, CORNER),), 0.0)


@pytest.mark.parametrize(("off", "steps"), [(300, 9), (670, 1), (720, 0), (1500, 0)])
def test_an_opening_counts_as_much_under_a_high_wall_as_under_none(off: float, steps: int) -> None:
    """720 liked, in steps of 50: 420 too near are nine of them, whatever the height asks."""
    at = REVEAL + off + 5
    for high in (None, 2400.0, 5400.0):
        clear = Liking(720.0, 720.0, high)
        without, beside = (off_bond(at, site(*reveals), clear).crowding for reveals in ((), (Span(4000, REVEAL),)))
        assert beside - without == steps


@pytest.mark.parametrize(("off", "near", "by_height"), [(220, 10, 104), (720, 0, 94), (5400, 0, 0)])
def test_a_stub_at_a_corner_costs_more_than_its_part_of_the_height(off: float, near: int, by_height: int) -> None:
    at = CORNER - off - 5
    assert off_bond(at, site(), Liking(720.0, 720.0)).crowding == near
    assert off_bond(at, site(), Liking(720.0, 720.0, 5400.0)).crowding == near + by_height


def test_of_reveal_and_corner_the_nearer_counts_alone_as_before() -> None:
    at = CORNER - 220 - 5
    both = site(Span(at - 5 - 500, at - 5 - 100))
    assert off_bond(at, both, Liking(720.0, 720.0)).crowding == 13  # 620 too near the reveal, 500 the corner
