"""Lintels: one on every seat that coursing has left for one."""

from __future__ import annotations

from collections.abc import Iterable

from elevgen.building.model import Building
from elevgen.core.measures import CUBIC_METRE
from elevgen.coursing.model import LintelSeat
from elevgen.fittings.model import Lintel
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure


def lintels(seats: Iterable[LintelSeat], building: Building, reader: RuleReader) -> tuple[Lintel, ...]:
    """The lintels of all leaves, in the order of their seats. Lengths in mm.

    A bearing that the end of the leaf, a void or a movement joint cuts short is given at its true length. One the spec lists
    is as long as it says; a bearing less than nothing is one that stops short of the reveal.
    """
    thick = {leaf.id: leaf.thickness for leaf in building.leaves}
    seen: dict[str, int] = {}
    made: list[Lintel] = []
    for seat in seats:
        name = f"{seat.leaf}/L-{seat.openings[0] if seat.given is None else seat.given}"
        seen[name] = seen.get(name, 0) + 1
        again = f"-{seen[name]}" if seen[name] > 1 else ""
        density = f"lintel.density.{seat.kind}"
        made.append(
            Lintel(
                id=f"{name}{again}",
                wall=seat.wall,
                leaf=seat.leaf,
                openings=seat.openings,
                level=seat.level,
                clear=seat.clear,
                bearing_start=seat.clear.start - seat.along.start,
                bearing_end=seat.along.end - seat.clear.end,
                depth=seat.depth,
                basis=(*seat.basis, *(covered(reader, density) if seat.body else ())),
                clears=seat.clears,
                kind=seat.kind,
                courses=seat.courses,
                given=seat.given is not None,
                bed=seat.bed,
                mass=_mass(seat, thick[seat.leaf], figure(reader, density) if seat.body else None),
            )
        )
    return tuple(made)


def _mass(seat: LintelSeat, thickness: float, density: float | None) -> float | None:
    if seat.depth is None or density is None:
        return None
    return seat.along.length * seat.depth * thickness / CUBIC_METRE * density
