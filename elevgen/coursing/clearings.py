"""Where a course should have no perpend: by the corners of openings, over the ends of lintels, next to a reveal under a bearing.

A straight joint up from an opening's corner is where a crack starts; a half unit at the reveal is a poor seat for a lintel.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from elevgen.building.model import Leaf
from elevgen.core.geometry import TOLERANCE, Rect
from elevgen.coursing.allowances import Allowances
from elevgen.coursing.gauge import Band
from elevgen.coursing.lintel_beds import kept_clear
from elevgen.coursing.model import LintelSeat
from elevgen.coursing.stretch import CUT, Clear

IN_LINE = 9 * CUT // 2
"""What a perpend costs by a corner or a lintel's end: one is moved with up to four cut units, two with up to eight."""
LIKELY = 3 * CUT // 2
"""What moving it is likely to cost: three cut units move two."""
HALF_UNDER_BEARING = 3 * CUT
"""What it costs that the unit at a reveal under a bearing is not whole."""


def clearings_of(
    leaf: Leaf, bands: Sequence[Band], seats: Sequence[LintelSeat], allowances: Allowances, whole_at_bearing: bool
) -> Mapping[int, tuple[Clear, ...]]:
    """By number of the band: its places without perpends along the wall, from the left."""
    found: dict[int, list[Clear]] = {}
    for number, clear in (*_by_corners(leaf, bands, allowances), *_at_seats(bands, seats, allowances, whole_at_bearing)):
        found.setdefault(number, []).append(clear)
    return {number: tuple(sorted(set(places))) for number, places in found.items()}


def _by_corners(leaf: Leaf, bands: Sequence[Band], allowances: Allowances) -> Iterator[tuple[int, Clear]]:
    reach = allowances.corner_clear
    holes = [void for void in leaf.voids if void not in leaf.crossings]
    for void in holes:
        over = _over(bands, void.top)[: allowances.corner_courses]
        under = _under(bands, void.bottom)[: allowances.corner_courses]
        for at, aside in ((void.left, -1.0), (void.right, 1.0)):
            for y, up, courses in ((void.top, 1.0, over), (void.bottom, -1.0, under)):
                if reach and _corner(leaf, holes, at, y, aside, up):
                    yield from ((number, Clear(at - reach, at + reach, IN_LINE, LIKELY)) for number in courses)


def _corner(leaf: Leaf, holes: Sequence[Rect], at: float, y: float, aside: float, up: float) -> bool:
    """Whether masonry lies on three sides of a hole's corner."""
    near = 2 * TOLERANCE
    return all(_solid(leaf, holes, at + aside * dx * near, y + up * dy * near) for dx, dy in ((1, 1), (-1, 1), (1, -1)))


def _solid(leaf: Leaf, holes: Sequence[Rect], x: float, y: float) -> bool:
    if not (leaf.span.start < x < leaf.span.end and leaf.base.level_left_of(x) < y < leaf.top.level_left_of(x)):
        return False
    return not any(h.left < x < h.right and h.bottom < y < h.top for h in holes)


def _at_seats(
    bands: Sequence[Band], seats: Sequence[LintelSeat], allowances: Allowances, whole_at_bearing: bool
) -> Iterator[tuple[int, Clear]]:
    for seat in seats:
        round_it = kept_clear(seat, bands, allowances.bed_tolerance)
        top = round_it.top if round_it else seat.level
        ends = ((seat.along.start, seat.clear.start, -1), (seat.along.end, seat.clear.end, 1))
        for end, reveal, way in ends:
            if abs(end - reveal) <= TOLERANCE:
                continue
            for number in _over(bands, top)[:1] if allowances.lintel_end_clear else ():
                reach = allowances.lintel_end_clear
                yield number, Clear(end - reach, end + reach, IN_LINE, LIKELY)
            for number in _under(bands, seat.level)[:1] if whole_at_bearing else ():
                far = reveal + way * (bands[number].unit.length - TOLERANCE)
                yield number, Clear(min(reveal, far), max(reveal, far), HALF_UNDER_BEARING)


def _over(bands: Sequence[Band], level: float) -> list[int]:
    """The bands with units over a level, from the lowest."""
    return [k for k, band in enumerate(bands) if band.top > level + TOLERANCE and band.top - band.level > TOLERANCE]


def _under(bands: Sequence[Band], level: float) -> list[int]:
    """The bands with units under a level, from the highest."""
    found = [k for k, band in enumerate(bands) if band.level < level - TOLERANCE and band.top - band.level > TOLERANCE]
    return found[::-1]
