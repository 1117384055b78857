"""Tables on how wide each movement joint must be: both cases of its movement, part by part, and what is not known."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from elevgen.core.figures import Figures
from elevgen.core.measures import METRE
from elevgen.core.ranges import Range
from elevgen.joints.model import JointWidth, Lacking, MovementJoint
from elevgen.joints.movement import JointCase, JointMovement
from elevgen.joints.sealing import Sealing
from elevgen.joints.width_words import beside_words
from elevgen.writers._xlsx_model import Block, Field, Fields, Words, notes, table, yes

NOT_KNOWN = "not calculated"
OF_WIDTH = {"installed_width": "as installed", "closed_width": "when closed"}


class Sum(NamedTuple):
    """One case of one joint."""

    joint: str
    way: str
    width: JointWidth
    movement: JointMovement
    case: JointCase

    @property
    def governs(self) -> bool:
        """True for the case that decides, where a width is known."""
        return self.case.width is not None and self.movement.governs == self.way


SUMS: Fields[Sum] = (
    Field("Joint", 16, "text", lambda s: s.joint),
    Field("Case", 14, "text", lambda s: s.way),
    Field("By temperature", 10, "wrap", lambda s: _between(s.case.thermal)),
    Field("By moisture that stays", 10, "wrap", lambda s: _between(s.case.moisture)),
    Field("By moisture, to and fro", 10, "wrap", lambda s: _between(s.case.reversible)),
    Field("Other", 9, "wrap", lambda s: _between(s.case.other) if s.case.other else None),
    Field("Moves in all", 9, "wrap", lambda s: _between(s.case.movement)),
    Field("Width asked for", 14, "wrap", lambda s: _width(s.case.width)),
    Field("This case decides", 14, "text", lambda s: yes(s.governs)),
    Field("Serves up to m", 8, "area", lambda s: None if s.width.serves is None else s.width.serves / METRE, "m"),
    Field("Masonry beside the joint", 40, "wrap", lambda s: Words(lambda figures: beside_words(figures, s.movement, s.case))),
)


def width_tables(joints: Iterable[MovementJoint], figures: Figures) -> Iterator[Block]:
    """The sums behind the calculated widths, least to greatest, in mm or in; then what bounds them and what is missing."""
    there = tuple(joints)
    unit = figures.unit("mm").name
    heading = f"How far each joint moves, and the width that asks for ({unit}, least to greatest)"
    yield table(heading, SUMS, _sums(there), figures)
    said = (*_bounds(there, figures), *_lacking(there))
    if said:
        yield notes("What bounds the calculated widths, and what is missing for them", said, 16)


def width_rules(joints: Iterable[MovementJoint]) -> Iterator[tuple[str, ...]]:
    """The rules behind the movement of each joint."""
    return (joint.width.movement.basis for joint in joints if joint.width.movement)


def _sums(joints: Iterable[MovementJoint]) -> Iterator[Sum]:
    for joint in joints:
        movement = joint.width.movement
        if movement is not None:
            yield Sum(joint.id, "closing", joint.width, movement, movement.closing)
            yield Sum(joint.id, "opening", joint.width, movement, movement.opening)


def _width(width: Range | None) -> str | Words:
    return NOT_KNOWN if width is None else _between(width)


def _between(given: Range) -> Words:
    """Least to greatest, the unit in the table's heading."""
    return Words(lambda figures: figures.fine(given.low, given.high).rsplit(" ", 1)[0])


def _bounds(joints: Iterable[MovementJoint], figures: Figures) -> Iterator[str]:
    known = (joint.width.movement.sealing for joint in joints if joint.width.movement)
    for sealing in dict.fromkeys(sealing for sealing in known if sealing is not None):
        yield "; ".join(_bound(sealing, figures))


def _bound(sealing: Sealing, figures: Figures) -> Iterator[str]:
    if sealing.capability is not None:
        yield f"the sealant may move {sealing.capability:g} % of the width {OF_WIDTH[sealing.of]}, either way"
    if sealing.left_open is not None:
        yield f"{figures.few(sealing.left_open, 'mm', 3)} must be left when the joint has closed"
    yield f"{figures.measure(sealing.tolerance, 3)} added for building it"


def _lacking(joints: Iterable[MovementJoint]) -> Iterator[str]:
    wanting: dict[Lacking, list[str]] = {}
    for joint in joints:
        for lacking in joint.width.lacking:
            wanting.setdefault(lacking, []).append(joint.id)
    for lacking, names in wanting.items():
        yield f"No figure for {lacking.meaning}: {', '.join(names)}"
