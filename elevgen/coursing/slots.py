"""Which stretches of a leaf are alike: those that lie in every other course over one another are one slot, set out once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from elevgen.building.model import Unit
from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.cells import Cell
from elevgen.coursing.ends import Finish
from elevgen.coursing.gauge import Band
from elevgen.coursing.setout import Stretch


class Slot(NamedTuple):
    """A stretch of every other course: from where to where, of which unit, how it ends."""

    left: float
    right: float
    unit: Unit
    raking: bool
    finishes: tuple[Finish, Finish]

    @property
    def start(self) -> float:
        """Where its own pieces start, past what stands at the end."""
        return self.left + self.finishes[0].margin.length

    @property
    def stretch(self) -> Stretch:
        """Its length to fill, with nothing to lap yet."""
        left, right = self.finishes
        return Stretch(self.right - right.margin.length - self.start, left.end, right.end, ())

    @property
    def fixed(self) -> tuple[float, ...]:
        """Centre lines of the perpends its ends bring with them."""
        left, right = (finish.margin for finish in self.finishes)
        return (self.left + left.length - left.joint / 2,) * bool(left.joint) + (
            self.right - right.length + right.joint / 2,
        ) * bool(right.joint)


class _Laid(NamedTuple):
    """A stretch of the course before: where it lies, its slot, and the slot of the one just like it that it stands on."""

    left: float
    right: float
    top: float
    slot: int
    under: int | None


@dataclass(slots=True)
class Slots:
    """The slots of a leaf, gathered course by course from the bottom up; `from_right` says in which order along it."""

    from_right: bool
    all: list[Slot] = field(default_factory=list)
    times: Counter[int] = field(default_factory=Counter)
    contacts: Counter[tuple[int, int]] = field(default_factory=Counter)
    """How often the one stands directly on the other: (lower, upper)."""
    lowest: set[int] = field(default_factory=set)
    """Those that stand on no other at their lowest."""
    _below: list[_Laid] = field(default_factory=list)

    def add(self, band: Band, cells: Sequence[Cell], finishes: Sequence[tuple[Finish, Finish]]) -> list[int]:
        """The slots of the stretches of one course."""
        here: list[_Laid] = []
        found = list(zip(cells, finishes, strict=True))
        for cell, ends in reversed(found) if self.from_right else found:
            under = self._under(band, cell)
            slot = Slot(round(cell.left, 6), round(cell.right, 6), band.unit, cell.raking, ends)
            alike = len(under) == 1 and self._follows(self.all[under[0].slot], slot)
            number = self._number(slot, under[0].under if alike else None)
            self.times[number] += 1
            if not under:
                self.lowest.add(number)
            self.contacts.update((laid.slot, number) for laid in under)
            here.append(_Laid(cell.left, cell.right, cell.top, number, under[0].slot if alike else None))
        self._below = here
        return [laid.slot for laid in (reversed(here) if self.from_right else here)]

    def _under(self, band: Band, cell: Cell) -> list[_Laid]:
        """What a cell stands on."""
        if cell.level > band.level + TOLERANCE:
            return []
        return [r for r in self._below if r.left < cell.right and r.right > cell.left and abs(r.top - band.bottom) <= TOLERANCE]

    def _follows(self, lower: Slot, upper: Slot) -> bool:
        """Whether one carries the other straight up."""
        return lower[:4] == upper[:4] and not upper.raking

    def _number(self, slot: Slot, two_below: int | None) -> int:
        if two_below is not None and self.all[two_below] == slot:
            return two_below
        self.all.append(slot)
        return len(self.all) - 1
