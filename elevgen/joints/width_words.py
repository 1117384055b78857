"""Why a joint is as wide as it is, in words: both ways of sizing it, and what keeps the calculation from being made."""

from __future__ import annotations

from collections.abc import Sequence

from elevgen.core.measures import metres, millimetres
from elevgen.core.ranges import Range
from elevgen.joints.model import JointWidth, Lacking
from elevgen.joints.movement import JointCase, JointMovement


def width_words(width: JointWidth) -> str:
    """`16 mm by rule of thumb; 19 to 31 mm by calculation, closing governs: closes by 2 to 7 mm, opens by 2 to 5 mm`."""
    thumb = "no rule of thumb" if width.rule_of_thumb is None else f"{millimetres(width.rule_of_thumb)} mm by rule of thumb"
    asked = width.movement.width if width.movement else None
    if width.movement is None or asked is None:
        return f"{thumb}; not calculated{lacking_words(width.lacking)}"
    governs = f"{width.movement.governs} governs"
    return f"{thumb}; {range_words(asked)} mm by calculation, {governs}: {movement_words(width.movement)}"


def movement_words(movement: JointMovement) -> str:
    """How far the joint closes and opens."""
    return f"closes by {range_words(movement.closing.movement)} mm, opens by {range_words(movement.opening.movement)} mm"


def lacking_words(lacking: Sequence[Lacking]) -> str:
    """What there is no figure for; nothing where nothing is missing."""
    if not lacking:
        return ""
    more = f" and {len(lacking) - 1} more" if len(lacking) > 1 else ""
    return f", no figure for {lacking[0].meaning}{more}"


def beside_words(movement: JointMovement, case: JointCase) -> str:
    """`5.62 m of clay, 5.85 m of dense concrete`, by the materials that move furthest in a case."""
    sides = zip(movement.lengths, case.sides, strict=True)
    return ", ".join(f"{metres(length)} m of {side.material.replace('_', ' ')}" for length, side in sides)


def range_words(given: Range, places: int = 1) -> str:
    """`2 to 7.5`, or `3` where both ends show alike."""
    low, high = millimetres(given.low, places), millimetres(given.high, places)
    return low if low == high else f"{low} to {high}"
