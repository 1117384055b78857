"""Walls that meet at an angle other than a right one are named: their units are special, or cut."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from elevgen.checks._finding import BUILDING, Place, found
from elevgen.checks._plan import Pair, pairs
from elevgen.result import Design, Finding

CODE = "corner-square"
TITLE = "Walls that meet square"
RATIONALE = (
    "Bricks and blocks bond round a right angle; at any other they are special or cut at every course, "
    "and neither is among the units counted here."
)
SQUARE = 3.0
"""Degrees off a right angle or a straight line that the perpends still take up."""


def check(design: Design) -> Iterator[Finding]:
    """The angle between walls at every corner, and where one wall meets another's side: 90 degrees, or 180 in a line."""
    skew = [pair for pair in pairs(design.building) if _off(pair) > SQUARE]
    for pair in skew:
        yield _named(pair)
    if not skew:
        yield found("pass", BUILDING, "walls meet square, or run on in a line")


def _off(pair: Pair) -> float:
    """Degrees from the nearest angle that units are made for."""
    square = (0.0, 90.0, 180.0) if pair.kind == "corner" else (90.0,)
    return min(abs(degrees(pair.angle) - angle) for angle in square)


def _named(pair: Pair) -> Finding:
    angle = degrees(pair.angle)
    place = Place(f"{pair.host.id} corner with {pair.stem.id}", (pair.host.id, pair.stem.id))
    if pair.kind != "corner":
        angle, place = min(angle, 180.0 - angle), place._replace(label=f"{pair.stem.id} meeting with {pair.host.id}")
    text = f"{pair.host.id} and {pair.stem.id} meet at {angle:.1f} degrees: special or cut units there, not counted"
    return found("warn", place, text, measured=angle, unit="degrees")
