"""From the parts a spec lists for a wall to the building's."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, TypeVar

from elevgen.building.given import Given, GivenDampCourse, GivenLintel, GivenReinforcement, GivenTie, GivenTray, Load
from elevgen.spec.models import WallModel

_Model = TypeVar("_Model")
_Part = TypeVar("_Part")


def given_lintels(wall: WallModel) -> Given[GivenLintel]:
    """The lintels a wall lists."""
    return _given(wall.lintels, lambda m: GivenLintel(m.over, m.leaf, m.at, m.length, m.kind, m.depth))


def given_reinforcement(wall: WallModel) -> Given[GivenReinforcement]:
    """The bed-joint reinforcement a wall lists."""
    return _given(wall.reinforcement, lambda m: GivenReinforcement(m.leaf, m.level, m.at, m.length))


def given_ties(wall: WallModel) -> Given[GivenTie]:
    """The ties a wall lists."""
    return _given(wall.ties, lambda m: GivenTie(m.at, m.level))


def given_damp_courses(wall: WallModel) -> Given[GivenDampCourse]:
    """The damp-proof courses a wall lists."""
    return _given(wall.damp_courses, lambda m: GivenDampCourse(m.leaf, m.level, m.at, m.length))


def given_trays(wall: WallModel) -> Given[GivenTray]:
    """The cavity trays a wall lists."""
    return _given(wall.trays, lambda m: GivenTray(m.level, m.at, m.length, m.stop_ends))


def loads_on(wall: WallModel) -> tuple[Load, ...]:
    """The loads that stand on a wall."""
    return tuple(Load(m.leaf, m.level, m.at, m.length, m.load) for m in wall.loads)


def _given(listed: Literal["place"] | tuple[_Model | Literal["place"], ...], made: Callable[[_Model], _Part]) -> Given[_Part]:
    if isinstance(listed, str):
        return Given()
    return Given(tuple(made(item) for item in listed if not isinstance(item, str)), "place" in listed)
