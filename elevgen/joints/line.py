"""Joints along one line of masonry, straight or round corners: costs of neighbours, and the sweep that finds the best.

Costs are pairs of whole numbers, compared first item first. The first packs how far corner rules are missed (0.1 mm),
the number of joints, their crowding and those not hidden; the second the squares of straight lengths (0.1 mm)
and the joints off grid. Packed whole numbers add and compare without rounding, so mirrored walls get mirrored answers.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from math import inf
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.problem import HAIR, Candidate, Edge, Face, Wanted, spacing_of

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Cost = tuple[int, int]

NEVER = 1 << 60
"""A first cost no answer reaches; three of them still add up within 64 bits."""

_LAST = np.iinfo(np.int64).max
"""A second cost that no other comes after."""

_EXCESS, _COUNT, _CROWDING, _SQUARE = 40, 28, 12, 12

ONE_JOINT = 1 << _COUNT
"""What one joint costs."""


def joints_in(cost: int) -> int:
    """How many joints a first cost counts."""
    return (cost >> _COUNT) & ((1 << _EXCESS - _COUNT) - 1)


def ranks(a: Ints, b: Ints) -> tuple[Ints, Ints]:
    """Entries by rising cost, and the rank of each: one whole number in place of two, to be compared at once."""
    order = np.lexsort((b.ravel(), a.ravel()))
    rank: Ints = np.empty(a.shape, dtype=np.int64)
    rank.ravel()[order] = np.arange(order.size)
    return order, rank


class Segment(NamedTuple):
    """The part of one face a line follows, from `left` to `right` along the line.

    `forward` when the face's own direction is the line's; `anchor` is the face's position at `left`. A side is open where
    the face goes on past the line's end. `panels`: the least and the greatest length its height allows a panel.
    `spacing`: the longest path that may remain in masonry the face is part of.
    """

    face: Face
    left: float
    right: float
    anchor: float
    forward: bool = True
    open_left: bool = False
    open_right: bool = False
    panels: Span = Span(inf, inf)
    spacing: float = inf

    def stretch(self, left: float, right: float) -> Span:
        """That stretch in the face's own positions."""
        if self.forward:
            return Span(self.anchor + left - self.left, self.anchor + right - self.left)
        return Span(self.anchor - right + self.left, self.anchor - left + self.left)

    def short_enough(self, left: float, right: float) -> bool:
        """True when the stretch keeps the panel rule."""
        length = right - left
        if length <= self.panels.start + TOLERANCE or length > self.panels.end + TOLERANCE:
            return length <= self.panels.start + TOLERANCE
        return self.face.short_enough(self.stretch(left, right))

    def missed(self, length: float, left_joint: bool, right_joint: bool) -> int:
        """Cost of a stretch of this length whose far side from a corner is a joint."""
        first, last = (self.face.start, self.face.finish) if self.forward else (self.face.finish, self.face.start)
        left, right = "joint" if left_joint else first, "joint" if right_joint else last
        reach = self.face.corner_reach
        if reach is None or {left, right} != {"corner", "joint"}:
            return 0
        return excess(length - reach)


def asked_along(segments: Sequence[Segment], wanted: Iterable[Wanted]) -> list[Span]:
    """Where a line asks for joints, in positions along it; round a closed one a stretch may go on past its end.

    What goes on past the line where that is part of a face or of the masonry is left out.
    """
    return [span for one in wanted if (span := _asked(segments, one)) is not None]


def _asked(segments: Sequence[Segment], wanted: Wanted) -> Span | None:
    found: list[Span] = []
    for face, span in wanted.stretches:
        for s in (s for s in segments if s.face.id == face):
            ends = [s.left + (at - s.anchor if s.forward else s.anchor - at) for at in (span.start, span.end)]
            start, end = max(min(ends), s.left), min(max(ends), s.right)
            if start <= end + TOLERANCE:
                found.append(Span(start, max(start, end)))
    found.sort()
    missing = sum(span.length for _, span in wanted.stretches) - sum(span.length for span in found)
    if not found or missing > 2 * TOLERANCE:
        return None
    whole = Span(found[0].start, max(span.end for span in found))
    length = segments[-1].right
    if len(found) == 2 and found[1].start > found[0].end + TOLERANCE and whole.length >= length - TOLERANCE:
        return Span(found[1].start, found[0].end + length)
    return whole


def furthest_back(segments: Sequence[Segment], x: Floats) -> Floats:
    """How far back masonry that ends at each place may begin: it is no longer than any face it has more than a hair of allows."""
    back: Floats = np.full(x.shape, -inf)
    for s in segments:
        if s.right - s.left > HAIR:
            begun = x > s.left + HAIR
            back[begun] = np.maximum(back[begun], np.minimum(s.right - TOLERANCE, x[begun] - s.spacing))
    return back


def furthest_on(segments: Sequence[Segment], x: Floats) -> Floats:
    """How far on masonry that begins at each place may end."""
    on: Floats = np.full(x.shape, inf)
    for s in segments:
        if s.right - s.left > HAIR:
            to_come = x < s.right - HAIR
            on[to_come] = np.minimum(on[to_come], np.maximum(s.left + TOLERANCE, x[to_come] + s.spacing))
    return on


def excess(by: float) -> int:
    """Cost of missing the corner rule by so much."""
    return (int(by * 10 + 0.5) << _EXCESS) if by > TOLERANCE else 0


def squared(lengths: Floats) -> Ints:
    """Squares of straight lengths as cost; the hair added keeps equal lengths equal however they were reckoned."""
    tenths = np.floor(lengths * 10 + 0.500001).astype(np.int64)
    return (tenths * tenths) << _SQUARE


def _square(length: float) -> int:
    return (int(length * 10 + 0.500001) ** 2) << _SQUARE


class Line:
    """Candidates along a line in order, and what it costs when two of them, or one and an end, are neighbours."""

    def __init__(self, segments: Sequence[Segment], places: Sequence[tuple[float, int, Candidate]]) -> None:
        """`places`: position along the line, number of its segment, candidate."""
        self.segments = tuple(segments)
        self.length = segments[-1].right
        self.spacing = min(s.spacing for s in segments)
        self.size = len(places)
        self.candidates = tuple(p[2] for p in places)
        self.x: Floats = np.array([p[0] for p in places], dtype=np.float64)
        self.segment = np.array([p[1] for p in places], dtype=np.int64)
        self.own_a: Ints = np.array([_own(p[2]) for p in places], dtype=np.int64)
        self.own_b: Ints = np.array([0 if p[2].on_grid else 1 for p in places], dtype=np.int64)
        self.back = furthest_back(segments, self.x)
        self.end_back = float(furthest_back(segments, np.array([self.length]))[0])
        numbers = np.arange(len(segments))
        self.first = np.searchsorted(self.segment, numbers, "left")
        self.beyond = np.searchsorted(self.segment, numbers, "right")
        self._neighbours()
        self._whole_segments()
        self.before_a, self.before_b = self._to_start()
        self.after_a, self.after_b = self._to_end()

    def _neighbours(self) -> None:
        """Costs from each candidate to the two ends of its segment, and how far along it a panel may reach."""
        self.head_a, self.head_b = np.zeros(self.size, dtype=np.int64), np.zeros(self.size, dtype=np.int64)
        self.tail_a, self.tail_b = np.zeros(self.size, dtype=np.int64), np.zeros(self.size, dtype=np.int64)
        self.furthest = np.zeros(self.size, dtype=np.int64)
        for number, segment in enumerate(self.segments):
            lo, hi = int(self.first[number]), int(self.beyond[number])
            if lo == hi:
                continue
            x = self.x[lo:hi]
            self.head_b[lo:hi] = squared(x - segment.left)
            self.tail_b[lo:hi] = squared(segment.right - x)
            for k, at in enumerate(x.tolist(), lo):
                if not segment.open_left:
                    bad = k > lo and not segment.short_enough(segment.left, at)
                    self.head_a[k] = NEVER if bad else segment.missed(at - segment.left, False, True)
                if not segment.open_right:
                    bad = k < hi - 1 and not segment.short_enough(at, segment.right)
                    self.tail_a[k] = NEVER if bad else segment.missed(segment.right - at, True, False)
            self.furthest[lo:hi] = self._panel_reach(segment, lo, hi)

    def _panel_reach(self, segment: Segment, lo: int, hi: int) -> Ints:
        """For each candidate the last one of its segment that may be its neighbour; the next one always may."""
        if segment.panels.start >= segment.spacing:
            return np.full(hi - lo, hi - 1, dtype=np.int64)
        found = np.empty(hi - lo, dtype=np.int64)
        reach = lo
        for k in range(lo, hi):
            reach = max(reach, min(k + 1, hi - 1))
            while reach + 1 < hi and segment.short_enough(float(self.x[k]), float(self.x[reach + 1])):
                reach += 1
            found[k - lo] = reach
        return found

    def _whole_segments(self) -> None:
        """Costs of segments left without a joint, summed from the line's start."""
        bad, missed, square = [0], [0], [0]
        for number, segment in enumerate(self.segments):
            closed = not (segment.open_left or segment.open_right)
            length = segment.right - segment.left
            any_here = self.beyond[number] > self.first[number]
            bad.append(bad[-1] + int(closed and bool(any_here) and not segment.short_enough(segment.left, segment.right)))
            missed.append(missed[-1] + (segment.missed(length, False, False) if closed else 0))
            square.append(square[-1] + _square(length))
        self.bad, self.missed, self.square = (np.array(v, dtype=np.int64) for v in (bad, missed, square))

    def _between(self, start: int, end: int) -> Cost:
        """Cost of the segments from `start` up to `end` without a joint."""
        if self.bad[end] > self.bad[start]:
            return NEVER, 0
        return int(self.missed[end] - self.missed[start]), int(self.square[end] - self.square[start])

    def _to_start(self) -> tuple[Ints, Ints]:
        whole = [self._between(0, s) for s in range(len(self.segments))]
        a = np.array([w[0] for w in whole], dtype=np.int64)[self.segment] + self.head_a
        b = np.array([w[1] for w in whole], dtype=np.int64)[self.segment] + self.head_b
        return np.minimum(a, NEVER), b

    def _to_end(self) -> tuple[Ints, Ints]:
        last = len(self.segments)
        whole = [self._between(s + 1, last) for s in range(last)]
        a = np.array([w[0] for w in whole], dtype=np.int64)[self.segment] + self.tail_a
        b = np.array([w[1] for w in whole], dtype=np.int64)[self.segment] + self.tail_b
        return np.minimum(a, NEVER), b

    def empty(self) -> Cost:
        """Cost of no joint at all, path length aside."""
        return self._between(0, len(self.segments))

    def neighbours(self, lo: int, j: int) -> tuple[Ints, Ints]:
        """Cost of candidate j standing next after each of lo..j-1, its own cost included."""
        number = int(self.segment[j])
        turn = max(lo, min(int(self.first[number]), j))
        a, b = np.empty(j - lo, dtype=np.int64), np.empty(j - lo, dtype=np.int64)
        if turn > lo:
            past = self.segment[lo:turn] + 1
            a[: turn - lo] = self.tail_a[lo:turn] + (self.missed[number] - self.missed[past]) + self.head_a[j]
            a[: turn - lo][self.bad[number] > self.bad[past]] = NEVER
            b[: turn - lo] = self.tail_b[lo:turn] + (self.square[number] - self.square[past]) + self.head_b[j]
        if turn < j:
            a[turn - lo :] = np.where(self.furthest[turn:j] >= j, 0, NEVER)
            b[turn - lo :] = squared(self.x[j] - self.x[turn:j])
        return np.minimum(a + self.own_a[j], NEVER), b + self.own_b[j]


def _own(c: Candidate) -> int:
    return ONE_JOINT + (c.crowding << _CROWDING) + int(not c.hidden)


class Sweep(NamedTuple):
    """Best cost of reaching each candidate, one row for each way of starting, and where each was reached from."""

    a: Ints
    b: Ints
    back: NDArray[np.int32]

    def joints(self, row: int, last: int) -> list[int]:
        """Candidates from the row's start to `last`."""
        found = [last]
        while self.back[row, found[-1]] >= 0:
            found.append(int(self.back[row, found[-1]]))
        return found[::-1]


def sweep(line: Line, a: Ints, b: Ints, starts: Ints, asked: Sequence[Span] = ()) -> Sweep:
    """Best chains of neighbours. `a`, `b`: by row and candidate, the cost of a chain that starts there, filled in place.

    `starts`: the first candidate of each row, rising. `asked`: stretches of the line none of which may lie between neighbours.
    """
    back = np.full(a.shape, -1, dtype=np.int32)
    rows = np.arange(len(a))
    reach = np.searchsorted(line.x, line.back - TOLERANCE, "left")
    for span in asked:
        past = int(np.searchsorted(line.x, span.end + TOLERANCE, "right"))
        np.maximum(reach[past:], np.searchsorted(line.x, span.start - TOLERANCE, "left"), out=reach[past:])
    earliest = reach.tolist()
    begun = np.searchsorted(starts, np.arange(line.size), "left").tolist()
    for j, (lo, active) in enumerate(zip(earliest, begun, strict=True)):
        if lo >= j or active == 0:
            continue
        step_a, step_b = line.neighbours(lo, j)
        reach_a = a[:active, lo:j] + step_a
        best_a = reach_a.min(axis=1)
        reach_b = b[:active, lo:j] + step_b
        reach_b[reach_a != best_a[:, None]] = _LAST
        k = reach_b.argmin(axis=1)
        best_b = reach_b[rows[:active], k]
        old_a, old_b = a[:active, j], b[:active, j]
        better = (best_a < old_a) | ((best_a == old_a) & (best_a < NEVER) & (best_b < old_b))
        np.copyto(old_a, best_a, where=better)
        np.copyto(old_b, best_b, where=better)
        np.copyto(back[:active, j], k + lo, where=better, casting="same_kind")
    return Sweep(a, b, back)


Lines = dict[tuple[object, ...], "Line"]
"""Lines by all that their costs depend on."""


def build(
    edges: Sequence[tuple[Edge, bool]], faces: Mapping[str, Face], spacing: float, known: Lines | None = None
) -> tuple[Line, list[tuple[str, float]]]:
    """A line along edges, each followed forwards or (False) backwards; and the edge and position of its candidates.

    `known`: lines made before. One like it is taken as it is, but for its segments: walls are often built alike.
    """
    segments: list[Segment] = []
    places: list[tuple[float, int, Candidate]] = []
    names: list[tuple[str, float]] = []
    x = 0.0
    for edge, forward in edges:
        face = faces[edge.face]
        right = x + edge.span.length
        near, far = (edge.span.start, edge.span.end) if forward else (edge.span.end, edge.span.start)
        ends = (face.span.start, face.span.end) if forward else (face.span.end, face.span.start)
        goes_on = abs(far - ends[1]) > TOLERANCE
        if segments and segments[-1].face.id == face.id and segments[-1].open_right:
            segments[-1] = segments[-1]._replace(right=right, open_right=goes_on)
        else:
            open_left, allowed = abs(near - ends[0]) > TOLERANCE, spacing_of((face,), spacing)
            segments.append(Segment(face, x, right, near, forward, open_left, goes_on, face.panels(), allowed))
        for c in edge.candidates if forward else reversed(edge.candidates):
            places.append((x + abs(c.at - near), len(segments) - 1, c))
            names.append((edge.id, c.at))
        x = right
    if known is None:
        return Line(segments, places), names
    key = (_look_of(segments), tuple((round(x, 6), n, c[1:]) for x, n, c in places), _free_of(edges))
    if key not in known:
        known[key] = Line(segments, places)
        return known[key], names
    alike = copy(known[key])
    alike.segments = tuple(segments)
    return alike, names


def _look_of(segments: Sequence[Segment]) -> tuple[object, ...]:
    """All of the segments that costs depend on; a panel limit that slopes belongs to one place alone."""
    return tuple(
        (
            *(round(at, 6) for at in (s.left, s.right)),
            *(s.forward, s.open_left, s.open_right, s.face.start, s.face.finish, s.face.corner_reach, s.panels, s.spacing),
            None if s.panels.start >= s.spacing or s.panels.length <= TOLERANCE else (s.face.id, s.anchor),
        )
        for s in segments
    )


def _free_of(edges: Sequence[tuple[Edge, bool]]) -> tuple[object, ...]:
    return tuple(
        tuple((round(f.start - edge.span.start, 6), round(f.end - edge.span.start, 6)) for f in edge.free) for edge, _ in edges
    )
