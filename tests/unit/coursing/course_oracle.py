"""An oracle for one course: the best there is of every row of pieces whose perpends stand on a lattice.

Nothing here knows of broken bonds, frames or places worth looking at: any piece may stand anywhere. What makes one row better
than another is what the top of `setout` says comes first, written anew. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from elevgen.coursing.stretch import CUT, End, Limits, Pieces, Stretch

NEAR = 0.01


class Faults(NamedTuple):
    """What is wrong with a row, worst first.

    `lengths` counts a cut at an end as 1, a piece too short as 1,000 and each mm it lacks as 3; `price` is in half cuts, what
    stands in places to be kept clear included.
    """

    laps: int
    tenths: int
    lengths: int
    price: int


_BITS = (15, 16, 12)
_NEVER = 2**60


def packed(faults: Faults) -> int:
    """As one number in the same order, which adds up."""
    number = faults.laps
    for bits, part in zip(_BITS, faults[1:], strict=True):
        assert 0 <= part < 2**bits
        number = number << bits | part
    return number


def unpacked(number: int) -> Faults:
    parts: list[int] = []
    for bits in reversed(_BITS):
        parts.append(number & (2**bits - 1))
        number >>= bits
    return Faults(number, *reversed(parts))


def at_line(line: float, stretch: Stretch, limits: Limits) -> Faults:
    """A perpend that laps too little, or stands where none should."""
    lack = max((limits.lap - abs(line - b) for b in stretch.below), default=0.0)
    clashes = lack > NEAR
    price = sum(c.cost for c in stretch.clear if c.left + NEAR < line < c.right - NEAR)
    return Faults(int(clashes), round(round(lack, 3) * 10) if clashes else 0, 0, price * 2 // CUT)


def of_piece(length: float, hidden: float, outer: bool, stretch: Stretch, limits: Limits) -> Faults:
    """A piece that is none of an end's row; `outer` at an end that is not open."""
    if not outer and any(abs(length - x) <= NEAR for x in asked(stretch, limits)):
        return Faults(0, 0, 0, 0)
    real = length + hidden
    short = real < limits.least - NEAR
    lengths = (1000 + 3 * round(round(limits.least - real, 3)) if short else 0) + outer
    return Faults(0, 0, lengths, 2)


def asked(stretch: Stretch, limits: Limits) -> Pieces:
    """The pieces its bond is made of."""
    return (*(stretch.repeat or (limits.unit,)), *stretch.link)


def can_be_cut(length: float, hidden: float, stretch: Stretch, limits: Limits) -> bool:
    """What shows is at least `tip` long, and a cut takes half a joint at least off a unit: perpends take up less."""
    real = length + hidden
    whole = any(abs(real - x) <= NEAR for x in asked(stretch, limits))
    return length >= limits.tip - NEAR and (real <= limits.unit - limits.joint / 2 + NEAR or whole)


def faults_of(pieces: Sequence[float], stretch: Stretch, limits: Limits) -> Faults:
    """What is wrong with a row of pieces, measured piece by piece and perpend by perpend."""
    assert min(pieces) > 0
    return min(_with_rows(pieces, left, right, stretch, limits) for left, right in _assigned(pieces, stretch))


def _assigned(pieces: Sequence[float], stretch: Stretch) -> Iterator[tuple[int, int]]:
    """How many pieces at the left and at the right may be a row of that end."""
    for left, right in product(_begins(pieces, stretch.left), _begins(pieces[::-1], stretch.right)):
        if left + right <= len(pieces):
            yield left, right


def _begins(pieces: Sequence[float], end: End) -> list[int]:
    fits = [r for r in end.rows if len(r) <= len(pieces) and all(abs(a - b) <= NEAR for a, b in zip(r, pieces, strict=False))]
    return [0, *(len(r) for r in fits)]


def _with_rows(pieces: Sequence[float], left: int, right: int, stretch: Stretch, limits: Limits) -> Faults:
    total, at = [0, 0, 0, 0], 0.0
    for k, length in enumerate(pieces):
        first, last = k == 0, k == len(pieces) - 1
        if left <= k < len(pieces) - right:
            ends = [stretch.left] * first + [stretch.right] * last
            here = of_piece(length, sum(e.hidden for e in ends), any(not e.open for e in ends), stretch, limits)
            assert length + sum(e.hidden for e in ends) <= limits.unit + NEAR, "longer than its unit"
            total = [a + b for a, b in zip(total, here, strict=True)]
        at += length
        if not last:
            total = [a + b for a, b in zip(total, at_line(at + limits.joint / 2, stretch, limits), strict=True)]
        at += limits.joint
    return Faults(*total)


def fewest_faults(stretch: Stretch, limits: Limits, step: float) -> Faults:
    """Over every row of two pieces or more with perpends of nominal width, their centres at multiples of `step` less half a joint
    from the left."""
    joint = limits.joint
    count = round((stretch.length + joint) / step)
    assert abs(count * step - joint - stretch.length) < NEAR
    lines = np.array([_NEVER, *(packed(at_line(step * k - joint / 2, stretch, limits)) for k in range(1, count)), _NEVER])
    longest = round((limits.unit + joint) / step)
    within = np.full(longest + 1, _NEVER)
    for n in range(1, longest + 1):
        if can_be_cut(step * n - joint, 0.0, stretch, limits):
            within[n] = packed(of_piece(step * n - joint, 0.0, False, stretch, limits))
    start = _from_end(stretch.left, lines, stretch, limits, step)
    finish = _from_end(stretch.right, lines[::-1], stretch, limits, step)[::-1]
    best = start + np.where(start < _NEVER, lines, 0)
    for k in range(2, count):
        low = max(1, k - longest)
        cheapest = int((best[low:k] + within[k - low : 0 : -1]).min()) + int(lines[k])
        best[k] = min(int(best[k]), cheapest)
    return unpacked(int((np.minimum(best, _NEVER) + np.minimum(finish, _NEVER)).min()))


def _from_end(end: End, lines: NDArray[np.int64], stretch: Stretch, limits: Limits, step: float) -> NDArray[np.int64]:
    """What stands between an end and each line costs, that line itself left out; `lines` are read from that end."""
    joint, count = limits.joint, len(lines) - 1
    found = np.full(count + 1, _NEVER)
    for n in range(1, min(count, round((limits.unit + joint) / step) + 1)):
        if can_be_cut(step * n - joint, end.hidden, stretch, limits):
            found[n] = packed(of_piece(step * n - joint, end.hidden, not end.open, stretch, limits))
    for row in end.rows:
        steps = [round((sum(row[:k]) + k * joint) / step) for k in range(1, len(row) + 1)]
        assert abs(steps[-1] * step - sum(row) - len(row) * joint) < NEAR, "the lattice does not hold this row"
        if steps[-1] < count:
            found[steps[-1]] = min(int(found[steps[-1]]), sum(int(lines[k]) for k in steps[:-1]))
    return found


def every_row(stretch: Stretch, limits: Limits, step: float) -> Iterator[Pieces]:
    """One by one, of pieces that can be cut or that an end's row has: for stretches of a few pieces."""
    closers = {x for end in (stretch.left, stretch.right) for row in end.rows for x in row}
    lengths = [step * n - limits.joint for n in range(1, round((limits.unit + limits.joint) / step) + 1)]
    usable = [x for x in lengths if x > NEAR and (can_be_cut(x, 0.0, stretch, limits) or x in closers)]

    def after(at: float) -> Iterator[Pieces]:
        rest = stretch.length - at
        for length in usable:
            if abs(length - rest) < NEAR:
                yield (length,)
            elif length + limits.joint < rest:
                yield from ((length, *others) for others in after(at + length + limits.joint))

    yield from (row for row in after(0.0) if len(row) > 1)
