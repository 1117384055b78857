"""Exact placement on a part with branches: best first over which limbs are cut, each choice solved by its pieces.

A limb left whole joins the pieces at its two ends. Once it is settled which limbs are cut, the pieces are settled, and
with them which pairs of bordering joints must not stand further apart than the spacing. Each piece then only has to say
how far each of its joints may stand: it takes one of its widest combinations, and the cut limbs cost what they cost
between the two reaches they are given. A choice whose cheapest limbs alone cost more than the best answer is never opened.
"""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from elevgen.joints.cover import fewest
from elevgen.joints.eliminate import Factor, TooLarge, eliminate
from elevgen.joints.graph import End, Limb, Side
from elevgen.joints.limbs import Arm, Choice, Place, Table
from elevgen.joints.line import NEVER, Cost, Ints
from elevgen.joints.paths import Web, exceeds
from elevgen.joints.pieces import Piece, lay_out
from elevgen.joints.problem import Placed, Problem

CHOICES = 2500
"""Choices opened before the search is handed over to integer programming."""

STEPS = 20_000
"""Choices begun before the same."""

_WORST: Cost = (NEVER, 0)
_Options = Sequence[tuple[Cost, Choice]]
_Where = dict[End, tuple[int, int]]
"""By limb end: its piece, and its column among the piece's ends."""


class Branched(NamedTuple):
    """The best joints, and whether nothing can be better; `bound` is a count no answer undercuts."""

    joints: tuple[Placed, ...]
    optimal: bool
    bound: int


def over_branches(problem: Problem, limbs: Sequence[Limb]) -> Branched:
    """The best joints of a part with branches.

    Where there are too many choices, the counts are proven by integer programming instead, and the joints spread as
    evenly as the limbs it cuts allow; other limbs might allow more, so that is not called optimal.
    """
    arms = [Arm(limb) for limb in limbs]
    try:
        joints = best_first(arms, problem.spacing)
        return Branched(joints, True, len(joints))
    except TooLarge:
        found = fewest(problem)
    joints = found.joints
    try:
        cost, spread = _solve(arms, [_choice_of(arm, joints) for arm in arms], problem.spacing)
        joints = spread if cost < _WORST and len(spread) <= len(joints) else joints
    except TooLarge:
        pass
    return Branched(joints, False, found.bound)


def best_first(arms: Sequence[Arm], spacing: float) -> tuple[Placed, ...]:
    """The joints of least cost. Raises TooLarge when there are too many choices to go through."""
    options = [sorted(arm.choices(), key=lambda o: (o[0], str(o[1]))) for arm in arms]
    rest: list[Cost] = [(0, 0)]
    for choices in reversed(options):
        rest.append(_plus(rest[-1], choices[0][0]))
    rest.reverse()
    best: Cost = _WORST
    joints: tuple[Placed, ...] = ()
    waiting: list[tuple[Cost, int, tuple[int, ...]]] = [(rest[0], 0, ())]
    opened = steps = 0
    while waiting and waiting[0][0] < best:
        bound, _, taken = heapq.heappop(waiting)
        depth = len(taken)
        steps += 1
        opened += depth == len(arms)
        if opened > CHOICES or steps > STEPS:
            raise TooLarge
        if depth == len(arms):
            cost, found = _solve(arms, [options[n][k][1] for n, k in enumerate(taken)], spacing)
            if cost < best:
                best, joints = cost, found
            continue
        so_far = _minus(bound, rest[depth])
        for k, (cost, choice) in enumerate(options[depth]):
            if choice is None and not _may_stay_whole(arms, options, (*taken, k), spacing):
                continue
            heapq.heappush(waiting, (_plus(_plus(so_far, cost), rest[depth + 1]), -depth - 1, (*taken, k)))
    return joints


def _choice_of(arm: Arm, joints: Sequence[Placed]) -> Choice:
    """The choice a limb's joints amount to."""
    here = [k for k, name in enumerate(arm.limb.names) if name in set(joints)]
    if not here:
        return None
    last = len(arm.limb.line.segments) - 1
    on = (int(arm.limb.line.segment[here[0]]) == 0, int(arm.limb.line.segment[here[-1]]) == last)
    return _place_of(arm, 0, on[0]), _place_of(arm, 1, on[1])


def _place_of(arm: Arm, side: Side, on: bool) -> Place:
    return "any" if arm.places(side) == ("any",) else "on" if on else "past"


def _may_stay_whole(arms: Sequence[Arm], options: Sequence[_Options], taken: tuple[int, ...], spacing: float) -> bool:
    """False when the limbs left whole so far already make too long a path."""
    whole = [arms[n].limb for n, k in enumerate(taken) if options[n][k][1] is None]
    web = Web([(*limb.nodes, limb.line.length) for limb in whole])
    return not exceeds(web, spacing)


def _solve(arms: Sequence[Arm], choice: Sequence[Choice], spacing: float) -> tuple[Cost, tuple[Placed, ...]]:
    """The least cost of one choice and its joints; the worst cost where it cannot be."""
    layout = lay_out(arms, choice, spacing)
    if layout is None:
        return _WORST, ()
    states: list[Ints] = []
    where: _Where = {}
    for number, piece in enumerate(layout.pieces):
        found = widest(piece)
        if not len(found):
            return _WORST, ()
        states.append(found)
        where.update({end: (number, column) for column, end in enumerate(piece.ends)})
    factors, tables = [], {}
    fixed: Cost = (layout.fixed, 0)
    for n, (arm, chosen) in enumerate(zip(arms, choice, strict=True)):
        if chosen is None:
            assert arm.whole_cost is not None
            fixed = _plus(fixed, arm.whole_cost)
            continue
        table = arm.table(chosen, (layout.extra.get((n, 0)), layout.extra.get((n, 1))))
        tables[n] = table
        factors.append(_factor(table, n, where, states))
    cost, picked = eliminate([len(s) for s in states], factors)
    if cost[0] >= NEVER:
        return _WORST, ()
    joints: list[Placed] = []
    for n, table in tables.items():
        row, column = _reach(where, states, picked, (n, 0)), _reach(where, states, picked, (n, 1))
        joints += arms[n].joints(int(table.row[row, column]), int(table.column[row, column]))
    return _plus(cost, fixed), tuple(joints)


def _reach(where: _Where, states: Sequence[Ints], picked: Sequence[int], end: tuple[int, int]) -> int:
    if end not in where:
        return 0
    number, column = where[end]
    return int(states[number][picked[number], column])


def _factor(table: Table, n: int, where: _Where, states: Sequence[Ints]) -> Factor:
    """A cut limb's cost by the states of the pieces at its ends."""
    ends = [where.get((n, side)) for side in (0, 1)]
    reach = [np.zeros(1, dtype=np.int64) if e is None else states[e[0]][:, e[1]] for e in ends]
    one, two = ends
    if one is not None and two is not None and one[0] == two[0]:
        return Factor((one[0],), table.a[reach[0], reach[1]], table.b[reach[0], reach[1]])
    a, b = table.a[np.ix_(*reach)], table.b[np.ix_(*reach)]
    if one is not None and two is not None:
        return Factor((one[0], two[0]), a, b) if one[0] < two[0] else Factor((two[0], one[0]), a.T, b.T)
    end = one if one is not None else two
    assert end is not None
    return Factor((end[0],), a.ravel(), b.ravel())


def widest(piece: Piece) -> Ints:
    """Every combination of reaches of a piece's ends none of which can be widened: rows of last places allowed."""
    ends = piece.ends
    rows = np.zeros((1, 0), dtype=np.int64)
    for k, end in enumerate(ends):
        most = _left(piece, rows, k, end)
        if k == len(ends) - 1:
            rows = np.column_stack([rows, most - 1])[most > 0]
        else:
            counts = np.maximum(most, 0)
            if int(counts.sum()) > 2_000_000:
                raise TooLarge
            repeated = np.repeat(rows, counts, axis=0)
            offset = np.arange(len(repeated)) - np.repeat(np.cumsum(counts) - counts, counts)
            rows = np.column_stack([repeated, offset])
        rows = rows[~_can_widen(piece, rows, k)]
    return rows


def _left(piece: Piece, rows: Ints, chosen: int, end: End) -> Ints:
    """How many of an end's joints the first `chosen` ends of each row leave it."""
    most = np.full(len(rows), piece.last[end], dtype=np.int64)
    for k in range(chosen):
        pair = piece.pairs.get((piece.ends[k], end))
        if pair is not None:
            most = np.minimum(most, pair[rows[:, k]])
    return most


def _can_widen(piece: Piece, rows: Ints, k: int) -> Ints:
    """Rows in which one end can reach further at no loss to those chosen and those still to choose."""
    ends = piece.ends
    later = [_left(piece, rows, k + 1, end) for end in ends[k + 1 :]]
    worse = np.zeros(len(rows), dtype=bool)
    for i in range(k + 1):
        more = rows[:, i] + 1 < piece.last[ends[i]]
        wider = np.minimum(rows[:, i] + 1, piece.last[ends[i]] - 1)
        for j in range(k + 1):
            pair = piece.pairs.get((ends[i], ends[j]))
            if j != i and pair is not None:
                more &= rows[:, j] < pair[wider]
        for end, left in zip(ends[k + 1 :], later, strict=True):
            pair = piece.pairs.get((ends[i], end))
            if pair is not None:
                more &= pair[wider] >= left
        worse |= more
    for left in later:
        worse |= left <= 0
    return worse


def _plus(one: Cost, two: Cost) -> Cost:
    return one[0] + two[0], one[1] + two[1]


def _minus(one: Cost, two: Cost) -> Cost:
    return one[0] - two[0], one[1] - two[1]
