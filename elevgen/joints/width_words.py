"""Why a joint is as wide as it is, in words: both ways of sizing it, and what keeps the calculation from being made."""

from __future__ import annotations

from collections.abc import Sequence

from elevgen.core.figures import Figures
from elevgen.core.ranges import Range
from elevgen.joints.model import JointWidth, Lacking
from elevgen.joints.movement import JointCase, JointMovement


def width_words(figures: Figures, width: JointWidth) -> str:
    """`16 mm by rule of thumb; 19 to 31 mm by calculation, closing governs: closes by 2 to 7 mm, opens by 2 to 5 mm`."""
    thumb = "no rule of thumb" if width.rule_of_thumb is None else f"{figures.measure(width.rule_of_thumb)} by rule of thumb"
    asked = width.movement.width if width.movement else None
    if width.movement is None or asked is None:
        neither = ": as wide as a mortar joint, or as the spec has it" if width.rule_of_thumb is None else ""
        return f"{thumb}; not calculated{lacking_words(width.lacking)}{neither}"
    governs = f"{width.movement.governs} governs"
    return f"{thumb}; {range_words(figures, asked)} by calculation, {governs}: {movement_words(figures, width.movement)}"


def movement_words(figures: Figures, movement: JointMovement) -> str:
    """How far the joint closes and opens."""
    return (
        f"closes by {fine_words(figures, movement.closing.movement)}, opens by {fine_words(figures, movement.opening.movement)}"
    )


def lacking_words(lacking: Sequence[Lacking]) -> str:
    """What there is no figure for; nothing where nothing is missing."""
    if not lacking:
        return ""
    more = f" and {len(lacking) - 1} more" if len(lacking) > 1 else ""
    return f", no figure for {lacking[0].meaning}{more}"


def beside_words(figures: Figures, movement: JointMovement, case: JointCase) -> str:
    """`5.62 m of clay, 5.85 m of dense concrete`, by the materials that move furthest in a case."""
    sides = zip(movement.lengths, case.sides, strict=True)
    return ", ".join(f"{figures.run(length)} of {side.material.replace('_', ' ')}" for length, side in sides)


def range_words(figures: Figures, given: Range, places: int = 1) -> str:
    """`2 to 7.5 mm`, or `3 mm` where both ends show alike."""
    return figures.range(given.low, given.high, places)


def fine_words(figures: Figures, given: Range) -> str:
    """A movement, too small for a tape where lengths are in feet and inches: `0.08 to 0.3 in`."""
    return figures.fine(given.low, given.high)
