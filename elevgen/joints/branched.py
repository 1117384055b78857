"""Exact placement on a part with branches: limb by limb across it, with the best costs kept for every way of going on.

Each limb is either left whole or cut; what the settled limbs mean for the rest is only how long a path they let run out
of the nodes that still have limbs to come, and what is seen along faces that run through those nodes (`frontier`). The
work grows with the number of limbs, and with the number of nodes that are open at once: two for a terrace however long.
Where tables become large, it is swept to and fro: numbers of joints first, then where they are liked, then all; what
could not lead to the best answer in one sweep is left out of the next.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE
from elevgen.joints.ahead import LOOKS, Ahead
from elevgen.joints.cover import fewest
from elevgen.joints.frontier import Shape, Table, TooLarge, empty_table, kept, merged, with_node, without_node
from elevgen.joints.graph import Limb
from elevgen.joints.joining import Joiner
from elevgen.joints.limbs import Arm
from elevgen.joints.outlook import face_rules, thousandths
from elevgen.joints.problem import Placed, Problem
from elevgen.joints.recombine import Room
from elevgen.joints.rings import Knot, knots

SMALL, LARGE = 100_000, 4_000_000
"""Entries of a table: up to the first it is swept at once, up to the second after sweeps in which less is looked at."""


class Branched(NamedTuple):
    """The best joints, and whether nothing can be better; `bound` is a count no answer undercuts."""

    joints: tuple[Placed, ...]
    optimal: bool
    bound: int


def over_branches(problem: Problem, limbs: Sequence[Limb]) -> Branched:
    """The best joints of a part with branches.

    Where too many nodes are open at once, the counts are proven by integer programming instead and the joints are not
    spread evenly, so that is not called optimal.
    """
    try:
        joints = across(problem, [Arm(limb) for limb in limbs])
        return Branched(joints, True, len(joints))
    except TooLarge:
        found = fewest(problem)
        return Branched(found.joints, False, found.bound)


def across(problem: Problem, arms: Sequence[Arm]) -> tuple[Placed, ...]:
    """The joints of least cost. Raises TooLarge."""
    if not arms:
        return ()
    limit = thousandths(problem.spacing + TOLERANCE)
    rules = face_rules(problem.faces, problem.spacing)
    steps = _steps(knots(arms, limit))
    try:
        joiner = Joiner(arms, rules, Room(limit, SMALL))
        found = swept(steps, joiner)
    except TooLarge:
        ahead: Ahead | None = None
        for look in LOOKS:
            joiner = Joiner([look.at(arm) for arm in arms], rules, Room(limit, LARGE))
            found = swept(steps, joiner, ahead)
            ahead = Ahead(found, limit, look.unit)
            steps = _with_done([step.knot for step in reversed(steps)])
    ((last,),) = found[-1:]
    return tuple(joint for n, row, column in joiner.log.cuts(int(last.last)) for joint in arms[n].joints(row, column))


class Step(NamedTuple):
    """Limbs that are settled together, and the nodes to which nothing more comes after them."""

    knot: Knot
    done: frozenset[str]


def _steps(found: Sequence[Knot]) -> list[Step]:
    """An order in which few nodes are open at once: always on with the open node that has fewest limbs left, oldest first."""
    left: dict[str, set[int]] = {}
    for n, knot in enumerate(found):
        for node in knot.nodes:
            left.setdefault(node, set()).add(n)
    opened: dict[str, None] = {}
    order: list[Knot] = []
    while any(left.values()):
        near = list(opened) or [min((n for n in left if left[n]), key=lambda n: (len(left[n]), n))]
        node = min(near, key=lambda n: len(left[n]))
        n = min(left[node], key=lambda n: (sum(m not in opened for m in found[n].nodes), n))
        order.append(found[n])
        for m in found[n].nodes:
            left[m].discard(n)
            opened[m] = None
            if not left[m]:
                del opened[m]
    return _with_done(order)


def _with_done(order: Sequence[Knot]) -> list[Step]:
    last = {node: n for n, knot in enumerate(order) for node in knot.nodes}
    return [Step(knot, frozenset(m for m in knot.nodes if last[m] == n)) for n, knot in enumerate(order)]


def swept(steps: Sequence[Step], joiner: Joiner, ahead: Ahead | None = None) -> list[list[Table]]:
    """The tables after each step; where the rest was looked at before, without what cannot lead to the best answer."""
    tables, found = [empty_table()], []
    for n, step in enumerate(steps):
        settled = _settled(tables, step, joiner)
        if ahead is not None:
            settled = [ahead.pruned(table, n) for table in settled]
        tables = [one for table in settled if (one := kept(table)) is not None]
        found.append(tables)
    return found


def _settled(tables: Sequence[Table], step: Step, joiner: Joiner) -> list[Table]:
    """The tables with one more step settled in every way, those of one shape made one."""
    knot = step.knot
    by_shape: dict[Shape, list[Table]] = {}
    for begun in tables:
        table = begun
        for node in knot.nodes:
            table = with_node(table, node)
        for web in (None, *knot.webs):
            tied = table if web is None else joiner.linked(joiner.tied(table, web))
            rest = [n for n in knot.limbs if web is None or n not in web.limbs]
            for found in _each_way([] if tied is None else [tied], rest, joiner, step.done):
                one = found
                for node in sorted(step.done & set(one.shape.nodes)):
                    one = without_node(one, node)
                by_shape.setdefault(one.shape, []).append(one)
    return [merged(group, joiner.room.largest) for group in by_shape.values()]


def _each_way(tables: Sequence[Table], limbs: Sequence[int], joiner: Joiner, done: frozenset[str]) -> list[Table]:
    """Each limb cut and left whole; a node is done with once the last of them has come to it."""
    found = list(tables)
    for k, n in enumerate(limbs):
        later = {node for m in limbs[k + 1 :] for node in joiner.arms[m].limb.nodes}
        over = frozenset(done - later)
        ways = [joiner.linked(way(table, n, over)) for table in found for way in (joiner.cut, joiner.whole)]
        found = [one for table in ways if table is not None and (one := kept(table)) is not None]
    return found
