"""Courses nobody drew: stretches of up to 12 whole units with obstacles anywhere, all on a lattice that holds what decides.

One family a bond and unit: what ends a stretch may have, what stands under and over it, where it should have no perpend.
"""

from __future__ import annotations

from random import Random
from typing import NamedTuple

from elevgen.coursing.clearings import HALF_UNDER_BEARING, IN_LINE
from elevgen.coursing.stretch import Clear, End, Limits, Pieces, Stretch

UNIT, HALF, CLOSER, THREE_QUARTER, JOINT = 215.0, 102.5, 46.25, 158.75, 10.0


class Family(NamedTuple):
    """Stretches of one bond: `steps` are what perpends below and above stand apart, in lattice steps."""

    name: str
    step: float
    limits: Limits
    ends: tuple[End, ...]
    steps: tuple[int, ...]
    repeat: Pieces = ()
    link: Pieces = ()
    corner: float = 50.0
    lintel: float = 25.0

    def draw(self, random: Random, most: int = 12) -> Stretch:
        """A stretch longer than any two rows of its ends and of no more units than asked for."""
        pitch = min(self.repeat or (self.limits.unit,)) + self.limits.joint
        shortest = max(2 * self.longest_row, self.limits.unit) + self.limits.joint
        count = random.randint(int(shortest // self.step) + 1, int(max(most * pitch, shortest + 2 * pitch) // self.step))
        length = count * self.step - self.limits.joint
        ends = random.choice(self.ends), random.choice(self.ends)
        below = self._perpends(random, count)
        if random.random() < 0.4:
            below = sorted({*below, *self._perpends(random, count)})
        return Stretch(length, *ends, tuple(below), self.repeat, self.link, self._clear(random, count))

    @property
    def longest_row(self) -> float:
        return max(sum(row) + len(row) * self.limits.joint for end in self.ends for row in end.rows)

    def _perpends(self, random: Random, count: int) -> list[float]:
        """Mostly in bond, now and then out of step, sometimes with none for a while as over an opening."""
        found, at = [], random.randint(0, self.steps[0])
        while at < count:
            if at:
                found.append(self.step * at - self.limits.joint / 2)
            at += random.choice(self.steps) if random.random() < 0.92 else random.randint(1, 3) * self.steps[0]
        return found

    def _clear(self, random: Random, count: int) -> tuple[Clear, ...]:
        """By corners, over a lintel's end, under a bearing."""
        found = []
        for _ in range(random.choice((0, 1, 1, 2, 2, 3))):
            at = self.step * random.randint(1, count - 1) - self.limits.joint / 2
            kind = random.random()
            if kind < 0.75:
                reach = self.corner if kind < 0.5 else self.lintel
                found.append(Clear(at - reach, at + reach, IN_LINE))
            else:
                found.append(Clear(at, at + self.limits.unit, HALF_UNDER_BEARING))
        return tuple(sorted(set(found)))


def limits_of(unit: float, joint: float, lap: float, least: float) -> Limits:
    """No perpend but the nominal one, so that every row stands on the lattice."""
    return Limits(unit, joint, narrow=joint, wide=joint, lap=lap, least=least, tip=20.0)


def end(*rows: Pieces) -> End:
    return End(rows)


OPEN = End((), open=True)
BRICK = limits_of(UNIT, JOINT, 50.0, HALF)
BLOCK = limits_of(440.0, JOINT, 110.0, 215.0)
IN_STEP = (36, 36, 36, 18, 24, 30, 27)
"""Perpends of bricks, in steps of a thirty-sixth of a module: a unit apart mostly, else less by a bond's shift."""

STRETCHER = Family(
    "stretcher", 6.25, BRICK, (end((UNIT,), (HALF,)), end((UNIT,)), end((HALF,)), End(((108.75,),), 106.25), OPEN), IN_STEP
)
HEADER = Family(
    "header",
    6.25,
    BRICK,
    (end((HALF,), (THREE_QUARTER,)), end((THREE_QUARTER,)), end((HALF, CLOSER), (HALF,)), end((CLOSER,)), OPEN),
    (18, 18, 18, 36, 9, 27),
    (HALF,),
)
FLEMISH = Family(
    "flemish",
    6.25,
    BRICK,
    (end((UNIT,), (HALF, CLOSER, UNIT)), end((UNIT,)), end((CLOSER, UNIT)), OPEN),
    (36, 18, 36, 18, 27, 9),
    (HALF, UNIT),
    (HALF,),
)
BLOCKS = Family(
    "block", 5.0, BLOCK, (end((440.0,), (215.0,)), end((440.0,)), End(((340.0,),), 100.0), OPEN), (90, 90, 90, 45, 60, 68)
)
FINE = Family(
    "brick to a true quarter lap",
    1.25,
    BRICK._replace(lap=53.75),
    (end((UNIT,), (HALF,)), end((UNIT,)), End(((112.5,),), 102.5), OPEN),
    (180, 180, 180, 90, 120, 135),
)
FAMILIES = (STRETCHER, HEADER, FLEMISH, BLOCKS)
