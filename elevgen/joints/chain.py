"""Exact placement along a chain and round a closed ring, each by one sweep over its candidates."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from elevgen.core.geometry import TOLERANCE, at_most
from elevgen.joints.line import NEVER, Cost, Floats, Ints, Line, Segment, asked_along, build, furthest_on, sweep
from elevgen.joints.problem import Edge, Face, Placed, Wanted


def along_chain(
    edges: Sequence[tuple[Edge, bool]], faces: dict[str, Face], spacing: float, wanted: Sequence[Wanted] = ()
) -> tuple[Placed, ...]:
    """The best joints on a chain whose two ends are free or stand at joints."""
    line, names = build(edges, faces, spacing)
    asked = asked_along(line.segments, wanted)
    a, b, starts = single_start(line)
    a[:, line.x > min((span.end for span in asked), default=line.length) + TOLERANCE] = NEVER
    found = sweep(line, a, b, starts, asked)
    from_here = max(line.end_back, *(span.start for span in asked), 0.0)
    end_a = np.where(line.x >= from_here - TOLERANCE, np.minimum(found.a[0] + line.after_a, NEVER), NEVER)
    last, best = least(end_a, found.b[0] + line.after_b)
    if not asked and at_most(line.end_back, 0.0) and line.empty() <= best:
        return ()
    return tuple(names[k] for k in found.joints(0, last))


def round_ring(
    edges: Sequence[tuple[Edge, bool]], faces: dict[str, Face], spacing: float, wanted: Sequence[Wanted] = ()
) -> tuple[Placed, ...]:
    """The best joints on a closed ring.

    Some joint stands in any window as long as its faces allow; each candidate of the emptiest one is tried as the first.
    """
    plain, names = build(edges, faces, spacing)
    twice = [*plain.segments, *(_moved(s, plain.length) for s in plain.segments)]
    until = np.minimum(furthest_on(twice, plain.x) + TOLERANCE, plain.x + plain.length)
    start = _emptiest(plain.x, plain.length, until)
    line, order, tried = _unrolled(plain, start, float(until[start]))
    rows = np.arange(tried)
    a = np.full((tried, line.size), NEVER, dtype=np.int64)
    a[rows, rows] = 0
    b = np.zeros((tried, line.size), dtype=np.int64)
    asked = asked_along(plain.segments, wanted)
    found = sweep(line, a, b, rows, [span.shifted(lap * plain.length) for lap in (-1, 0, 1, 2) for span in asked])
    closed = rows + plain.size
    row, best = least(found.a[rows, closed], found.b[rows, closed])
    if not asked and at_most(plain.end_back, 0.0) and plain.empty() <= best:
        return ()
    return tuple(names[order[k]] for k in found.joints(row, int(closed[row]))[:-1])


def single_start(line: Line) -> tuple[Ints, Ints, Ints]:
    """Starts of a sweep with one row: every candidate that is near enough to the line's start may be the first."""
    reached = line.back <= TOLERANCE
    a = np.where(reached, np.minimum(line.before_a + line.own_a, NEVER), NEVER)
    return a[None, :], (line.before_b + line.own_b)[None, :].copy(), np.array([-1])


def least(a: Ints, b: Ints) -> tuple[int, Cost]:
    """Where the least cost stands, and what it is."""
    b = np.where(a == a.min(), b, np.iinfo(np.int64).max)
    k = int(b.argmin())
    return k, (int(a[k]), int(b[k]))


def _emptiest(x: Floats, length: float, until: Floats) -> int:
    """The candidate from which `until` there are fewest; of equals the one with the longest way to the next, then the first."""
    twice = np.concatenate([x, x + length])
    inside = np.searchsorted(twice, until, "right") - np.arange(len(x)) - 1
    ahead = np.round(twice[1 : len(x) + 1] - x, 3)
    return min(range(len(x)), key=lambda k: (inside[k], -ahead[k], k))


def _unrolled(ring: Line, start: int, until: float) -> tuple[Line, list[int], int]:
    """The ring laid out from just after candidate `start`, one lap and a window more, which ends at `until`.

    Returns the line, the ring's candidate each place stands for, and how many places the window holds.
    """
    order = [(start + 1 + k) % ring.size for k in range(ring.size)]
    laps = [0 if k > start else 1 for k in order]
    at = [float(ring.x[k]) + lap * ring.length for k, lap in zip(order, laps, strict=True)]
    tried = sum(1 for x in at if x <= until)
    order += order[:tried]
    laps += [lap + 1 for lap in laps[:tried]]
    at += [x + ring.length for x in at[:tried]]
    count = len(ring.segments)
    segments = [_moved(s, lap * ring.length) for lap in range(3) for s in ring.segments]
    places = [(x, int(ring.segment[k]) + lap * count, ring.candidates[k]) for x, k, lap in zip(at, order, laps, strict=True)]
    return Line(segments, places), order, tried


def _moved(segment: Segment, by: float) -> Segment:
    return segment._replace(left=segment.left + by, right=segment.right + by)
