"""A stretch cut in any way that helps: the cheapest course there is over the perpends it must lap, its own all alike.

A dynamic programme over the places a perpend may take. A row of whole units that stands between two cuts can be moved
until it meets something: an end's piece, a lap, the least length. So these places, carried on by whole units, are enough.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import ceil, floor, inf

import numpy as np
from numpy.typing import NDArray

from elevgen.bonds import Pieces
from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.stretch import (
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
    layout_of,
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
    between = _pieces(lines[right] - lines[left] - joint, (lines[right] + lines[left] - length) / 2, stretch, limits)
    laps = ground.cost(lines)
    best, rows = _at_end(lines, stretch.left, stretch, limits, ground)
    before = np.full(len(lines), -1)
    for i, (low, end, many) in enumerate(zip(first.tolist(), ends.tolist(), counts.tolist(), strict=True)):
        if many:
            costs = best[low:i] + between[end - many : end]
            cheapest = costs.argmin()
            cost = costs[cheapest] + laps[i]
            if cost < best[i]:
                best[i] = cost
                before[i] = low + cheapest
    turned = stretch.mirrored()
    closing, last_rows = _at_end(length - lines, stretch.right, turned, limits, Ground(turned, limits))
    total = best + np.where(closing < _NEVER, closing - laps, _NEVER)
    last = int(total.argmin())
    if total[last] >= _NEVER:
        return None
    chain = [last]
    while before[chain[-1]] >= 0:
        chain.append(int(before[chain[-1]]))
    chain.reverse()
    start, finish = rows.get(chain[0], ()), last_rows.get(last, ())
    layout = _layout([float(lines[i]) for i in chain], start, finish, stretch, limits)
    return int(total[last]) + effort(stretch, limits, start, finish, joint), layout


def _places(stretch: Stretch, limits: Limits) -> Iterator[Lines]:
    """The centre lines a perpend may need, in order: those near at hand, then every one."""
    length, half = stretch.length, limits.joint / 2
    module = min(stretch.repeated(limits)) + limits.joint
    starts = [x + half for x in {*_reaches(stretch.left, limits), limits.least - stretch.left.hidden}]
    finishes = [length - half - x for x in {*_reaches(stretch.right, limits), limits.least - stretch.right.hidden}]
    if stretch.left.open:
        starts.append(-half)
    if stretch.right.open:
        finishes.append(length + half)
    ends = _carried(starts, length, module) + _carried(finishes, length, module)
    laps = [b + side * limits.lap for b in stretch.below for side in (-1, 1)]
    laps += [(a + b) / 2 for a, b in pairwise(stretch.below) if b - a < 2 * limits.lap]
    laps += [edge for place in stretch.clear for edge in (place.left, place.right) if 0 < edge < length]
    if stretch.left.raking or stretch.right.raking:
        laps += [b + module / 2 for b in stretch.below] or [length / 2]
    if 3 * len(ends) + len(laps) > MOST_PLACES:
        return
    steps = [limits.least + limits.joint]
    if limits.module > module + TOLERANCE:
        steps.append(limits.module)
    beside = [x + side * step for x in ends for step in steps for side in (1, -1)]
    yield _in_order([*ends, *beside, *laps], length)
    phases = {round(x % module, 4) for x in laps}
    if 3 * len(phases) * length <= MOST_PLACES * module:
        carried = _carried(phases, length, module)
        yield _in_order([*ends, *beside, *carried, *(x + side * s for x in carried for s in steps for side in (1, -1))], length)


def _reaches(end: End, limits: Limits) -> set[float]:
    """How far from an end its rows reach."""
    return {sum(row) + (len(row) - 1) * limits.joint for row in end.rows}


def _in_order(lines: Sequence[float], length: float) -> Lines:
    """The lines inside the length in order, each once. np.unique would load numpy.ma for it."""
    found = np.sort(np.round(lines, 4))
    return found[(found > 0) & (found < length) & (np.diff(found, prepend=-inf) > 0)]


def _carried(lines: Iterable[float], length: float, module: float) -> list[float]:
    """Each line and all that whole units bring out of it, each once."""
    phases = sorted({round(x % module, 4) for x in lines})
    return [x + k * module for x in phases for k in range(ceil((length - x) / module))]


def _pieces(lengths: Lines, off_middle: Lines, stretch: Stretch, limits: Limits) -> NDArray[np.int64]:
    """What pieces within the stretch cost; none shorter than the tip, or sawn by less than half a joint: perpends take that."""
    lack = (limits.least - lengths).round(3)
    cost = CUT + np.abs(off_middle).round(3).round().astype(np.int64)
    cost[lack > TOLERANCE] += SHORT + PARE * lack[lack > TOLERANCE].round().astype(np.int64)
    cost[(lengths > limits.unit - limits.joint / 2) | (lengths < max(limits.tip, TOLERANCE))] = _NEVER
    kept = {*stretch.repeated(limits), *stretch.link}
    for piece in kept:
        cost[np.abs(lengths - piece) < limits.joint / 2] = _NEVER
    for piece in kept:
        cost[np.abs(lengths - piece) <= TOLERANCE] = 0
    return cost


def _at_end(
    lines: Lines, end: End, stretch: Stretch, limits: Limits, ground: Ground
) -> tuple[NDArray[np.int64], dict[int, Pieces]]:
    """What stands from the left end of the stretch to each line costs, the perpend there included; and where it is a row."""
    lengths = lines - limits.joint / 2
    cost = _pieces(lengths + end.hidden, stretch.length / 2 - lengths / 2, stretch, limits)
    cost[(lengths + end.hidden > limits.unit + TOLERANCE) | (lengths < TOLERANCE)] = _NEVER
    known = cost < _NEVER
    if end.raking:
        cost[known] = 0
    elif not end.open:
        cost[known & (cost == 0)] = CUT + np.int64(floor(stretch.length / 2 - limits.unit / 2))
        cost[known] += END
    laps = ground.cost(lines)
    cost[known] += laps[known]
    rows: dict[int, Pieces] = {}
    for row in end.rows:
        steps = np.cumsum([piece + limits.joint for piece in row]) - limits.joint / 2
        within = int(ground.cost(steps).sum())
        for i in np.flatnonzero(np.abs(lines - steps[-1]) <= TOLERANCE).tolist():
            if within < cost[i]:
                cost[i], rows[i] = within, row
    return cost, rows


def _layout(lines: Sequence[float], start: Pieces, finish: Pieces, stretch: Stretch, limits: Limits) -> Layout:
    """Pieces between these perpends; what rounding the places has taken is given back to the longest cut piece."""
    joint = limits.joint
    rough = [b - a - joint for a, b in pairwise(lines)]
    kept = (limits.unit, limits.least, *stretch.repeated(limits), *stretch.link)
    middle = [next((k for k in kept if abs(x - k) <= TOLERANCE), x) for x in rough]
    first = start or (lines[0] - joint / 2,)
    last = finish or (stretch.length - lines[-1] - joint / 2,)
    lengths = [*first, *middle, *last[::-1]]
    known = (*kept, *start, *finish)
    rest = stretch.length - sum(lengths) - joint * (len(lengths) - 1)
    cut = max(range(len(lengths)), key=lambda i: (lengths[i] not in known, abs(lengths[i] - limits.unit) > TOLERANCE, lengths[i]))
    lengths[cut] += rest
    return layout_of(lengths, joint)
