"""What joint-spacing says of masonry that is too long: where it is, from its start, and how many joints it takes at least."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]


def wall(name: str, start: tuple[float, float], end: tuple[float, float]) -> dict[str, Any]:
    return {"id": name, "type": "garden", "start": start, "end": end, "base": 0, "top": 5100, "joints": []}


@pytest.mark.parametrize(
    ("length", "joints", "where", "words"),
    [
        (12300, [], "A/outer 0 to A/outer 12300", "a movement joint"),
        (24000, [], "A/outer 0 to A/outer 24000", "a movement joint"),  # two pieces of 12 m, the usual of clay
        (24010, [], "A/outer 0 to A/outer 24010", "at least 2 movement joints"),
        (40000, [26660.0], "A/outer 0 to A/outer 26660", "at least 2 movement joints"),
    ],
)
def test_a_straight_wall(build: Build, found: Found, length: float, joints: list[float], where: str, words: str) -> None:
    """12 m: Brick Development Association, Movement Joints, May 2014 (read)."""
    first = found(build([wall("A", (0, 0), (length, 0))], {"A/outer": joints}), "joint-spacing")[0]
    assert first.where == where
    assert f": cut it with {words} clear of openings, walls met and lintel ends" in first.text


def test_walls_are_named_in_the_order_of_the_spec(build: Build, found: Found) -> None:
    """B is drawn towards A's start, so the way begins in B; the label begins in A all the same, the first in the spec."""
    (fault,) = found(build([wall("A", (0, 0), (7300, 0)), wall("B", (0, 9100), (0, 0))]), "joint-spacing")
    assert fault.where == "A/outer 7300 to B/outer 0"


def test_a_ring_takes_one_more(build: Build, found: Found) -> None:
    """31 m all round: two joints would leave 15.5 m, three leave 10.33."""
    corners = [(0, 0), (9300, 0), (9300, 6200), (0, 6200), (0, 0)]
    ring = [wall(f"W{n}", a, b) for n, (a, b) in enumerate(pairwise(corners), start=1)]
    (fault,) = found(build(ring), "joint-spacing")
    assert fault.where.endswith("all round")
    assert "at least 3 movement joints" in fault.text
