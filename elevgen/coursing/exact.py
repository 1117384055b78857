"""A stretch cut in any way that helps: the cheapest course there is over the perpends it must lap, its own all alike.

A dynamic programme over the places a perpend may take. A row of whole units that stands between two cuts can be moved
until it meets something: an end's piece, a lap, the least length. So these places, carried on by whole units, are enough.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby, pairwise
from math import ceil, floor, inf

import numpy as np
from numpy.typing import NDArray

from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.setout import (
    CUT,
    END,
    PARE,
    SHORT,
    Candidate,
    End,
    Ground,
    Layout,
    Limits,
    Lines,
    Stretch,
    effort,
)

MOST_PLACES = 1200
"""Past so many places only those near at hand are looked at, where perpends below keep no module; or none, in stretches of
hundreds of units."""
_NEVER = np.int64(10**18)


def exact(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    """The cheapest layout with all perpends as wide as the joint, if the stretch can be filled so; cost as in `set_out`.

    Two cuts are the fewest that help where one broken bond did not: when the places near at hand give that, it is proven.
    """
    found = None
    for places in _places(stretch, limits):
        found = _cheapest(places, stretch, limits, ground) if len(places) else None
        if found and found[0] < END and found[0] // CUT <= 2:
            break
    if found:
        yield found


def _cheapest(lines: Lines, stretch: Stretch, limits: Limits, ground: Ground) -> Candidate | None:
    """The cheapest layout with its perpends at some of these lines."""
    joint, length = limits.joint, stretch.length
    first = lines.searchsorted(lines - limits.module - 2 * TOLERANCE)
    counts = np.arange(len(lines)) - first
    ends = counts.cumsum()
    right = np.repeat(np.arange(len(lines)), counts)
    left = np.arange(len(right)) - np.repeat(ends - counts, counts) + first[right]
    between = _pieces(lines[right] - lines[left] - joint, (lines[right] + lines[left] - length) / 2, limits)
    best = _at_end(lines - joint / 2, stretch.left, length, limits)
    laps = ground.cost(lines)
    best[best < _NEVER] += laps[best < _NEVER]
    before = np.full(len(lines), -1)
    for i, (low, end, many) in enumerate(zip(first.tolist(), ends.tolist(), counts.tolist(), strict=True)):
        if many:
            costs = best[low:i] + between[end - many : end]
            cheapest = costs.argmin()
            cost = costs[cheapest] + laps[i]
            if cost < best[i]:
                best[i] = cost
                before[i] = low + cheapest
    total = best + _at_end(length - lines - joint / 2, stretch.right, length, limits)
    last = int(total.argmin())
    if total[last] >= _NEVER:
        return None
    chain = [last]
    while before[chain[-1]] >= 0:
        chain.append(int(before[chain[-1]]))
    layout = _layout([float(lines[i]) for i in reversed(chain)], stretch, limits)
    return int(total[last]) + effort(stretch, limits, layout.runs[0][0], layout.runs[-1][0], joint), layout


def _places(stretch: Stretch, limits: Limits) -> Iterator[Lines]:
    """The centre lines a perpend may need, in order: those near at hand, then every one."""
    length, half, module = stretch.length, limits.joint / 2, limits.module
    starts = [x + half for x in {*stretch.left.pieces, limits.least}]
    finishes = [length - half - x for x in {*stretch.right.pieces, limits.least}]
    ends = _carried(starts, length, module) + _carried(finishes, length, module)
    laps = [b + side * limits.lap for b in stretch.below for side in (-1, 1)]
    if stretch.left.raking or stretch.right.raking:
        laps += [b + module / 2 for b in stretch.below] or [length / 2]
    if 3 * len(ends) + len(laps) > MOST_PLACES:
        return
    least = limits.least + limits.joint
    beside = [x + side for x in ends for side in (least, -least)]
    yield _in_order([*ends, *beside, *laps], length)
    phases = {round(x % module, 4) for x in laps}
    if 3 * len(phases) * length <= MOST_PLACES * module:
        carried = _carried(phases, length, module)
        yield _in_order([*ends, *beside, *carried, *(x + side for x in carried for side in (least, -least))], length)


def _in_order(lines: Sequence[float], length: float) -> Lines:
    """The lines inside the length in order, each once. np.unique would load numpy.ma for it."""
    found = np.sort(np.round(lines, 4))
    return found[(found > 0) & (found < length) & (np.diff(found, prepend=-inf) > 0)]


def _carried(lines: Iterable[float], length: float, module: float) -> list[float]:
    """Each line and all that whole units bring out of it, each once."""
    phases = sorted({round(x % module, 4) for x in lines})
    return [x + k * module for x in phases for k in range(ceil((length - x) / module))]


def _pieces(lengths: Lines, off_middle: Lines, limits: Limits) -> NDArray[np.int64]:
    """What pieces within the stretch cost; none shorter than the tip, or cut by less than half a joint: perpends take that."""
    lack = (limits.least - lengths).round(3)
    cost = CUT + np.abs(off_middle).round(3).round().astype(np.int64)
    cost[lack > TOLERANCE] += SHORT + PARE * lack[lack > TOLERANCE].round().astype(np.int64)
    cost[(lengths > limits.unit - limits.joint / 2) | (lengths < max(limits.tip, TOLERANCE))] = _NEVER
    cost[np.abs(lengths - limits.unit) <= TOLERANCE] = 0
    return cost


def _at_end(lengths: Lines, end: End, length: float, limits: Limits) -> NDArray[np.int64]:
    """What pieces from an end of the stretch to its first perpend cost."""
    cost = _pieces(lengths, length / 2 - lengths / 2, limits)
    known = cost < _NEVER
    if end.raking:
        cost[known] = 0
        return cost
    cost[known & (cost == 0)] = CUT + np.int64(floor(length / 2 - limits.unit / 2))
    cost[known] += END
    for piece in end.pieces:
        cost[np.abs(lengths - piece) <= TOLERANCE] = 0
    return cost


def _layout(lines: Sequence[float], stretch: Stretch, limits: Limits) -> Layout:
    """Pieces between these perpends; what rounding the places has taken is given back to the longest cut piece."""
    joint = limits.joint
    edges = [-joint / 2, *lines, stretch.length + joint / 2]
    rough = [b - a - joint for a, b in pairwise(edges)]
    known = (limits.unit, limits.least, *stretch.left.pieces, *stretch.right.pieces)
    lengths = [next((k for k in known if abs(x - k) <= TOLERANCE), x) for x in rough]
    rest = stretch.length - sum(lengths) - joint * len(lines)
    cut = max(range(len(lengths)), key=lambda i: (lengths[i] not in known, not limits.whole(lengths[i]), lengths[i]))
    lengths[cut] += rest
    return Layout(tuple((length, len(list(same))) for length, same in groupby(lengths)), joint)
