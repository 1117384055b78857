"""Lintels: one on every seat that coursing has left for one."""

from __future__ import annotations

from collections.abc import Iterable

from elevgen.coursing.model import LintelSeat
from elevgen.fittings.model import Lintel


def lintels(seats: Iterable[LintelSeat]) -> tuple[Lintel, ...]:
    """The lintels of all leaves, in the order of their seats. Lengths in mm.

    A bearing that the end of the leaf, a void or a movement joint cuts short is given at its true length.
    """
    seen: dict[tuple[str, str], int] = {}
    made: list[Lintel] = []
    for seat in seats:
        first = (seat.leaf, seat.openings[0])
        seen[first] = seen.get(first, 0) + 1
        again = f"-{seen[first]}" if seen[first] > 1 else ""
        made.append(
            Lintel(
                id=f"{seat.leaf}/L-{seat.openings[0]}{again}",
                wall=seat.wall,
                leaf=seat.leaf,
                openings=seat.openings,
                level=seat.level,
                clear=seat.clear,
                bearing_start=seat.clear.start - seat.along.start,
                bearing_end=seat.along.end - seat.clear.end,
                depth=None,
                basis=seat.basis,
                clears=seat.clears,
            )
        )
    return tuple(made)
