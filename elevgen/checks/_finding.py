"""How a check says what it found: a place known by its ids, words, and what was measured against which limit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import NamedTuple

from elevgen.building.model import Leaf, Opening, Wall
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import BedReinforcement, Lintel
from elevgen.joints.model import MovementJoint
from elevgen.result import Finding, Operator, Severity


class Place(NamedTuple):
    """What a finding is about: a label for people, and the ids by which sheets and waivers find it."""

    label: str
    walls: tuple[str, ...] = ()
    leaves: tuple[str, ...] = ()
    openings: tuple[str, ...] = ()
    joints: tuple[str, ...] = ()

    def part(self, words: str) -> Place:
        """A part of the place, in words."""
        return self._replace(label=f"{self.label} {words}")


BUILDING = Place("building")


def at_wall(wall: Wall) -> Place:
    """A whole wall, with every leaf of it."""
    return Place(wall.id, (wall.id,))


def at_leaf(leaf: Leaf) -> Place:
    """One leaf of a wall."""
    return Place(leaf.id, (leaf.wall,), (leaf.id,))


def at_opening(of: Leaf | Wall, *openings: Opening) -> Place:
    """Openings of a wall, in one leaf of it or in all."""
    names = tuple(opening.id for opening in openings)
    place = at_leaf(of) if isinstance(of, Leaf) else at_wall(of)
    return place._replace(label=f"{of.id}/{'+'.join(names)}", openings=names)


def at_joint(joint: MovementJoint) -> Place:
    """A movement joint."""
    return Place(f"{joint.leaf}/{joint.id}", (joint.wall,), (joint.leaf,), joints=(joint.id,))


def at_fitting(fitting: Lintel | BedReinforcement) -> Place:
    """A lintel or a length of reinforcement, which is at the openings it serves."""
    openings = fitting.openings if isinstance(fitting, Lintel) else fitting.serves
    return Place(fitting.id, (fitting.wall,), (fitting.leaf,), openings)


def found(
    severity: Severity,
    place: Place,
    text: str,
    *,
    measured: float | None = None,
    least: float | None = None,
    most: float | None = None,
    exactly: float | None = None,
    unit: str = "mm",
    source: Sourced | None = None,
    also: Iterable[Sourced | None] = (),
) -> Finding:
    """A finding without code and id, which `run_checks` gives it. At most one of `least`, `most`, `exactly` is the limit.

    `also`: the rules beside `source` that it rests on; those the set lacks are left out.
    """
    limits: tuple[tuple[Operator, float | None], ...] = ((">=", least), ("<=", most), ("==", exactly), ("", None))
    operator, limit = next((sign, limit) for sign, limit in limits if limit is not None or not sign)
    return Finding(
        id="",
        code="",
        severity=severity,
        where=place.label,
        text=text,
        measured=measured,
        operator=operator,
        limit=limit,
        unit="" if measured is None else unit,
        source=source,
        also=_beside(source, also),
        walls=place.walls,
        leaves=place.leaves,
        openings=place.openings,
        joints=place.joints,
    )


def _beside(source: Sourced | None, also: Iterable[Sourced | None]) -> tuple[Sourced, ...]:
    """Each rule once, without the one the finding is held to."""
    rules = {value.key: value for value in also if value is not None and (source is None or value.key != source.key)}
    return tuple(rules.values())


def beside(finding: Finding, *also: Sourced | None) -> Finding:
    """A finding that rests on more rules; what was not checked rests on none."""
    if finding.severity == "not_checked":
        return finding
    return replace(finding, also=_beside(finding.source, (*finding.also, *also)))
