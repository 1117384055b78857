"""From the parts a spec lists for a wall to the building's."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, TypeVar

from elevgen.building.given import Given, GivenDampCourse, GivenLintel, GivenReinforcement, GivenTie, GivenTray, Load
from elevgen.spec.models import WallModel
from elevgen.spec.part_models import (
    GivenDampCourseModel,
    GivenLintelModel,
    GivenReinforcementModel,
    GivenTieModel,
    GivenTrayModel,
)

_Model = TypeVar("_Model")
_Part = TypeVar("_Part")


def given_lintels(wall: WallModel) -> Given[GivenLintel]:
    """The lintels a wall lists."""

    def lintel(m: GivenLintelModel) -> GivenLintel:
        return GivenLintel(m.over, m.leaf, m.at, m.length, m.kind, m.depth)

    return _given(wall.lintels, lintel)


def given_reinforcement(wall: WallModel) -> Given[GivenReinforcement]:
    """The bed-joint reinforcement a wall lists."""

    def length(m: GivenReinforcementModel) -> GivenReinforcement:
        return GivenReinforcement(m.leaf, m.level, m.at, m.length)

    return _given(wall.reinforcement, length)


def given_ties(wall: WallModel) -> Given[GivenTie]:
    """The ties a wall lists."""

    def tie(m: GivenTieModel) -> GivenTie:
        return GivenTie(m.at, m.level)

    return _given(wall.ties, tie)


def given_damp_courses(wall: WallModel) -> Given[GivenDampCourse]:
    """The damp-proof courses a wall lists."""

    def course(m: GivenDampCourseModel) -> GivenDampCourse:
        return GivenDampCourse(m.leaf, m.level, m.at, m.length)

    return _given(wall.damp_courses, course)


def given_trays(wall: WallModel) -> Given[GivenTray]:
    """The cavity trays a wall lists."""

    def tray(m: GivenTrayModel) -> GivenTray:
        return GivenTray(m.level, m.at, m.length, m.stop_ends)

    return _given(wall.trays, tray)


def loads_on(wall: WallModel) -> tuple[Load, ...]:
    """The loads that stand on a wall."""
    return tuple(Load(m.leaf, m.level, m.at, m.length, m.load) for m in wall.loads)


def _given(listed: Literal["place"] | tuple[_Model | Literal["place"], ...], made: Callable[[_Model], _Part]) -> Given[_Part]:
    if isinstance(listed, str):
        return Given()
    return Given(tuple(made(item) for item in listed if not isinstance(item, str)), "place" in listed)
