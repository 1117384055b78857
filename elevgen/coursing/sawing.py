"""Units cut up: boxes of pieces out of as few units as there is a way to.

A unit is cut into pieces of one height and one width: in height into layers, those in width into slips, and the lengths so
got into pieces (`packing`). All lengths of one kind are alike, so the fewest lengths take the fewest units.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from math import ceil, floor
from typing import NamedTuple

from elevgen.building.model import Unit
from elevgen.coursing.cutpieces import DUST
from elevgen.coursing.model import Box, OffCut, Sawing
from elevgen.coursing.packing import Packing, pack

Tenths = tuple[int, int, int]
"""Length, width, height in tenths of a millimetre."""


class Sawn(NamedTuple):
    """Units of one kind cut up: how many, fewer than how many are proven not to do, how, and what is left over."""

    units: int
    least: int
    sawing: tuple[Sawing, ...] = ()
    off_cuts: tuple[OffCut, ...] = ()


@dataclass(slots=True)
class Saws:
    """Cuts units up with one saw, and remembers what was asked before: leaves and lifts are often alike."""

    saw: float | None
    _known: dict[object, Sawn] = field(default_factory=dict)

    def cut(self, unit: Unit, straight: Mapping[Box, int], sloping: Mapping[Box, int]) -> Sawn:
        """The units it takes. Pieces cut to a slope come out of units of their own, by the lengths that bound them."""
        if self.saw is None:
            pieces = sum(straight.values()) + sum(sloping.values())
            return Sawn(pieces, pieces)
        key = unit, frozenset(straight.items()), frozenset(sloping.items())
        if key not in self._known:
            self._known[key] = _together(
                [
                    *_classes(unit, straight, ceil(self.saw * 10 - DUST), sloping=False),
                    *_classes(unit, sloping, ceil(self.saw * 10 - DUST), sloping=True),
                ]
            )
        return self._known[key]


def _together(parts: list[Sawn]) -> Sawn:
    off_cuts: Counter[tuple[str, Box]] = Counter()
    for off_cut in (off_cut for part in parts for off_cut in part.off_cuts):
        off_cuts[off_cut.unit, off_cut.box] += off_cut.number
    return Sawn(
        units=sum(part.units for part in parts),
        least=sum(part.least for part in parts),
        sawing=tuple(sawing for part in parts for sawing in part.sawing),
        off_cuts=tuple(OffCut(unit, box, number) for (unit, box), number in sorted(off_cuts.items(), reverse=True)),
    )


def _classes(unit: Unit, boxes: Mapping[Box, int], saw: int, *, sloping: bool) -> Iterator[Sawn]:
    """Each height and width by itself, the highest and widest first."""
    whole = (_down(unit.length), _down(unit.width), _down(unit.height))
    wanted: dict[tuple[int, int], Counter[int]] = {}
    for box, number in boxes.items():
        length, width, height = (min(_up(size), most) for size, most in zip(box, whole, strict=True))
        wanted.setdefault((height, width), Counter())[length] += number
    for height, width in sorted(wanted, reverse=True):
        packing = pack(wanted[height, width], whole[0], saw, quick=sloping)
        sawn = _sawn(unit.name, whole, (height, width), packing, saw)
        yield sawn._replace(sawing=tuple(replace(sawing, sloping=sloping) for sawing in sawn.sawing))


def _sawn(unit: str, whole: Tenths, section: tuple[int, int], packing: Packing, saw: int) -> Sawn:
    (height, width), (length, wide, high) = section, whole
    layers, slips = (high + saw) // (height + saw), (wide + saw) // (width + saw)
    units = -(-packing.number // (layers * slips))
    sawing, left = [], Counter[Tenths]()
    for cut in packing.cuts:
        rest = max(0, length - sum(cut.pieces) - saw * len(cut.pieces))
        pieces = tuple(piece / 10 for piece in cut.pieces)
        sawing.append(Sawing(unit, False, width / 10, height / 10, pieces, cut.number, rest / 10, layers * slips))
        left[rest, width, height] += cut.number
    left[length, width, height] += units * layers * slips - packing.number
    left[length, wide, high - layers * (height + saw)] += units
    left[length, wide - slips * (width + saw), height] += units * layers
    found = tuple(OffCut(unit, Box(*(v / 10 for v in box)), number) for box, number in left.items() if number and min(box) > saw)
    return Sawn(units, -(-packing.least // (layers * slips)), tuple(sawing), found)


def _up(length: float) -> int:
    return ceil(length * 10 - DUST)


def _down(length: float) -> int:
    return floor(length * 10 + DUST)
