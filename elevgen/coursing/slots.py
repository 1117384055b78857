"""Which stretches of a leaf are alike: those that lie over one another, as many courses apart as the bond takes to come
round again, are one slot, set out once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from elevgen.bonds import Motif
from elevgen.building.model import Unit
from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.cells import Cell
from elevgen.coursing.ends import Finish
from elevgen.coursing.gauge import Band
from elevgen.coursing.stretch import Clear, Stretch


class Slot(NamedTuple):
    """A stretch of every so many courses: from where to where, of which unit, how it ends, of which pieces; and the places along
    the wall where it should have no perpend."""

    left: float
    right: float
    unit: Unit
    raking: bool
    finishes: tuple[Finish, Finish]
    motif: Motif
    clear: tuple[Clear, ...] = ()

    @property
    def start(self) -> float:
        """Where its own pieces start, past what stands at the end."""
        return self.left + self.finishes[0].margin.length

    @property
    def stretch(self) -> Stretch:
        """Its length to fill, with nothing to lap yet."""
        left, right = self.finishes
        clear = tuple(c._replace(left=c.left - self.start, right=c.right - self.start) for c in self.clear)
        length = self.right - right.margin.length - self.start
        return Stretch(length, left.end, right.end, (), self.motif.repeat, self.motif.link, clear)

    @property
    def fixed(self) -> tuple[float | None, float | None]:
        """Centre lines of the perpends its ends bring with them, as wide as nominal."""
        left, right = (finish.margin for finish in self.finishes)
        return (
            self.left + left.length - left.joint / 2 if left.joint else None,
            self.right - right.length + right.joint / 2 if right.joint else None,
        )


class _Laid(NamedTuple):
    """A stretch of the course before: where it lies, its slot, and the slots of those just like it under it, nearest first."""

    left: float
    right: float
    top: float
    slot: int
    under: tuple[int, ...]


@dataclass(slots=True)
class Slots:
    """The slots of a leaf, gathered course by course from the bottom up; `from_right` says in which order along it.

    The bond comes round again after `period` courses.
    """

    from_right: bool
    period: int = 2
    all: list[Slot] = field(default_factory=list)
    times: Counter[int] = field(default_factory=Counter)
    contacts: Counter[tuple[int, int]] = field(default_factory=Counter)
    """How often the one stands directly on the other: (lower, upper)."""
    lowest: set[int] = field(default_factory=set)
    """Those that stand on no other at their lowest."""
    courses: list[list[int]] = field(default_factory=list)
    """The slots of every course's stretches, from the left."""
    _below: list[_Laid] = field(default_factory=list)

    def add(
        self, band: Band, cells: Sequence[Cell], finishes: Sequence[tuple[Finish, Finish]], motif: Motif, clear: Sequence[Clear]
    ) -> None:
        """Finds the slots of the stretches of one course; `clear` are its places without perpends, along the wall."""
        here: list[_Laid] = []
        found = list(zip(cells, finishes, strict=True))
        for cell, ends in reversed(found) if self.from_right else found:
            under = self._under(band, cell)
            places = tuple(c for c in clear if c.left < cell.right and c.right > cell.left)
            slot = Slot(round(cell.left, 6), round(cell.right, 6), band.unit, cell.raking, ends, motif, places)
            alike = len(under) == 1 and self.all[under[0].slot][:4] == slot[:4] and not cell.raking
            below = (under[0].slot, *under[0].under)[: self.period] if alike else ()
            number = self._number(slot, below[-1] if len(below) == self.period else None)
            self.times[number] += 1
            if not under:
                self.lowest.add(number)
            self.contacts.update((laid.slot, number) for laid in under)
            here.append(_Laid(cell.left, cell.right, cell.top, number, below))
        self._below = here
        self.courses.append([laid.slot for laid in (reversed(here) if self.from_right else here)])

    def split(self, slot: int, top: bool) -> int | None:
        """Makes the top or bottom course of a slot a slot of its own where others than those in line meet it: its number."""
        here, there = (0, 1) if top else (1, 0)
        others = [pair for pair in self.contacts if pair[here] == slot and not self._in_line(slot, pair[there])]
        if self.times[slot] < 2 or not others:
            return None
        number = len(self.all)
        self.all.append(self.all[slot])
        found = [k for k, course in enumerate(self.courses) if slot in course]
        at = found[-1 if top else 0]
        self.courses[at] = [number if k == slot else k for k in self.courses[at]]
        beside = next(k for k in self.courses[at + here - there] if self._in_line(slot, k))
        self._move(slot, number, beside, top)
        for pair in others:
            self.contacts[(number, pair[1]) if top else (pair[0], number)] = self.contacts.pop(pair)
        return number

    def _move(self, slot: int, number: int, beside: int, top: bool) -> None:
        """One course of a slot, and its contact with the one in line with it, to another slot."""
        old, new = ((beside, slot), (beside, number)) if top else ((slot, beside), (number, beside))
        self.times[slot] -= 1
        self.contacts[old] -= 1
        self.contacts = +self.contacts
        self.times[number] = self.contacts[new] = 1

    def _in_line(self, one: int, other: int) -> bool:
        """Whether two slots lie exactly over one another."""
        return self.all[one][:4] == self.all[other][:4]

    def _under(self, band: Band, cell: Cell) -> list[_Laid]:
        """What a cell stands on."""
        if cell.level > band.level + TOLERANCE:
            return []
        return [r for r in self._below if r.left < cell.right and r.right > cell.left and abs(r.top - band.bottom) <= TOLERANCE]

    def _number(self, slot: Slot, below: int | None) -> int:
        if below is not None and self.all[below] == slot:
            return below
        self.all.append(slot)
        return len(self.all) - 1
