"""Coordinating lengths: how long a number of units is, and whether perpends can take up the rest.

With n half units and the joints between them: CO is n x (unit + joint) / 2; a pier has a joint less (CO-), an opening one more
(CO+). Technical Information Sheet 9, Brickwork Dimensions. All mm.
"""

from __future__ import annotations

from math import ceil, floor
from typing import NamedTuple

from elevgen.building.model import Unit
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, at_least, at_most


class Fit(NamedTuple):
    """A length against the numbers of units next to it: whether one of them fits, the longest not over it and the next up.

    `down` is None where a half unit is longer. Both are (length at nominal joints, number of half units).
    """

    fits: bool
    down: tuple[float, int] | None
    up: tuple[float, int]

    def nearest(self, length: float) -> float:
        """The nearer of the two."""
        return min((n[0] for n in (self.down, self.up) if n is not None), key=lambda known: abs(known - length))

    def words(self, figures: Figures) -> str:
        """Both, as `665 (3 units) or 777.5 (3 1/2 units)`."""
        return " or ".join(f"{figures.length(length)} ({in_units(n)})" for length, n in filter(None, (self.down, self.up)))


def fit(length: float, unit: Unit, spare: int, perpend: tuple[float, float]) -> Fit:
    """A length with `spare` more joints (-1 a pier, 0 a panel against a return, 1 an opening) than it has units.

    `perpend` is the least and the greatest width; they bind only units whose own joint lies between them.
    """
    half, rest = unit.module / 2, spare * unit.joint
    number = max(0, floor((length - rest + TOLERANCE) / half))
    around = [n for n in (number, number + 1) if n > 0]
    fits = any(_reached(length, n * half + rest, ceil(n / 2) + spare, unit, perpend) for n in around)
    down = (number * half + rest, number) if number else None
    return Fit(fits, down, ((number + 1) * half + rest, number + 1))


def in_units(halves: int) -> str:
    """`3 1/2 units`, `1 unit`, `half a unit`."""
    if halves < 2:
        return "half a unit"
    if halves == 2:
        return "1 unit"
    return f"{halves // 2}{' 1/2' if halves % 2 else ''} units"


def _reached(length: float, nominal: float, perpends: int, unit: Unit, perpend: tuple[float, float]) -> bool:
    """Whether so many perpends, each within its range, make up what a length is off nominal."""
    narrow, wide = perpend if perpend[0] <= unit.joint <= perpend[1] else (unit.joint, unit.joint)
    least, most = nominal - perpends * (unit.joint - narrow), nominal + perpends * (wide - unit.joint)
    return at_least(length, least) and at_most(length, most)
