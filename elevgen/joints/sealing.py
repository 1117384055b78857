"""How wide a movement asks a joint to be, and the other way round: how far a joint of a width may move.

Lengths in any one unit.

- W = (100/X) D + t, X the sealant's capability in per cent of the width as installed (Cornell University, ARCH 262; an
  architectural detailing textbook). The sense of ISO 11600, from memory.
- W = (100/X) D + D + t where X is said of the width when closed (BS 6093 and BS 6213, from memory).
- W = D + what must be left when closed (AS 3700 cl. 4.8, in a technical manual, section 1.209).
"""

from __future__ import annotations

from math import inf
from typing import Literal, NamedTuple

from elevgen.core.ranges import Range

CapabilityOf = Literal["installed_width", "closed_width"]
Case = Literal["closing", "opening"]


class Sealing(NamedTuple):
    """What bounds the width of a joint.

    `capability` is how far the sealant may move either way, in per cent of the width `of` which it is said. `left_open` must be
    left of the joint when it has closed; `tolerance` is added for building it. None: no such bound, or not known.
    """

    capability: float | None
    of: CapabilityOf
    tolerance: float
    left_open: float | None = None


def width_for(movement: Range, case: Case, sealing: Sealing) -> Range | None:
    """The width a movement asks for, the greatest by every bound there is; None where there is none."""
    low, high = (_width(m, case, sealing) for m in (movement.low, movement.high))
    return None if low is None or high is None else Range(low, high)


def _width(movement: float, case: Case, sealing: Sealing) -> float | None:
    widths: list[float] = []
    if sealing.capability is not None:
        widths.append(sealant_width(movement, sealing.capability, sealing.of, sealing.tolerance))
    if sealing.left_open is not None and case == "closing":
        widths.append(width_left_open(movement, sealing.left_open, sealing.tolerance))
    return max(widths, default=None)


def movement_allowed(width: float, case: Case, sealing: Sealing) -> float | None:
    """How far a joint of a width may close or open, by every bound there is: `width_for` the other way round."""
    taken: list[float] = []
    if sealing.capability is not None:
        taken.append(movement_taken(width, sealing.capability, sealing.of, sealing.tolerance))
    if sealing.left_open is not None and case == "closing":
        taken.append(max(width - sealing.tolerance - sealing.left_open, 0.0))
    return min(taken, default=None)


def sealant_width(movement: float, capability: float, of: CapabilityOf = "installed_width", tolerance: float = 0.0) -> float:
    """Width of a joint whose sealant may move by `capability` per cent of its installed or of its closed width."""
    closed = movement if of == "closed_width" else 0.0
    return movement * 100 / capability + closed + tolerance


def movement_taken(width: float, capability: float, of: CapabilityOf = "installed_width", tolerance: float = 0.0) -> float:
    """How far a joint of a width may move: `sealant_width` the other way round."""
    return max(width - tolerance, 0.0) / (100 / capability + (1.0 if of == "closed_width" else 0.0))


def length_served(movement: float, strain: float, other: float = 0.0) -> float:
    """Length between joints that a movement is enough for (Se = w e / 0.09 of BIA Technical Note 18A, from memory)."""
    return max(movement - other, 0.0) / strain if strain > 0 else inf


def worked_widths(width: float, capability: float, of: CapabilityOf = "installed_width") -> Range:
    """The narrowest and the widest a sealed joint may get (25 per cent of 10 mm: 7.5 and 12.5)."""
    taken = movement_taken(width, capability, of)
    return Range(width - taken, width + taken)


def width_left_open(closing: float, left: float, tolerance: float = 0.0) -> float:
    """Width of a joint that closes so far and must keep so much (AS 3700 cl. 4.8: 15 mm and 5 mm)."""
    return closing + left + tolerance
