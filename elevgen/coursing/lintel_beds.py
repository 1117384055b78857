"""How a lintel that takes the place of units lies among the courses: on which bed, in place of how many, and what it keeps clear.

Levels and positions in mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from elevgen.core.geometry import TOLERANCE, Rect, at_most
from elevgen.coursing.gauge import Band
from elevgen.coursing.model import LintelSeat


def bedded(seat: LintelSeat, bands: Sequence[Band], tolerance: float) -> LintelSeat:
    """A seat with the bed its lintel lies on and the courses it replaces.

    Over a head that lies in a bed its underside is level with the units beside it. `tolerance` is what a bed may differ.
    """
    courses = [band for band in bands if band.top - band.level > TOLERANCE]
    over = next((band for band in courses if at_most(band.bottom, seat.level) and at_most(seat.level, band.level)), None)
    if seat.body is None or over is None:
        return seat
    seat = replace(seat, bed=max(over.level - seat.level, 0.0))
    return replace(seat, courses=_replaced(seat, courses, tolerance))


def _replaced(seat: LintelSeat, courses: Sequence[Band], tolerance: float) -> int | None:
    """How many courses it is as high as; None where its top does not come level with a course."""
    body = seat.body
    if body is None:
        return None
    within = [band for band in courses if at_most(body.bottom, band.level) and at_most(band.top, body.top + tolerance)]
    return len(within) if within and at_most(abs(within[-1].top - body.top), tolerance) else None


def kept_clear(seat: LintelSeat, bands: Sequence[Band], tolerance: float) -> Rect | None:
    """Where no unit lies for a lintel: what it takes itself, a perpend at each end, and beds over and under it.

    Where its top comes level with a course the bed over that one is enough, as is the bed it lies on where that is one of the
    leaf's. None where it takes no unit's place.
    """
    body = seat.body
    if body is None or not bands:
        return None
    at_top = next((band for band in bands if at_most(body.top, band.top + tolerance)), bands[-1])
    on_bed = any(abs(band.level - body.bottom) <= TOLERANCE for band in bands)
    level = abs(at_top.top - body.top) <= tolerance
    top = max(at_top.top, body.top) if level else body.top + at_top.unit.bed
    bottom = body.bottom if on_bed else body.bottom - at_top.unit.bed
    return Rect(body.left - at_top.unit.joint, bottom, body.right + at_top.unit.joint, top)
