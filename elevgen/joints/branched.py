"""Exact placement on a part with branches: limb by limb across it, with the best costs kept for every way of going on.

Each limb is either left whole or cut; what the settled limbs mean for the rest is only how long a path they let run out
of the nodes that still have limbs to come, and what is seen along faces that run through those nodes (`frontier`). The
work grows with the number of limbs, and with the number of nodes that are open at once: two for a terrace however long.
Where tables become large, it is swept to and fro: numbers of joints first, then where they are liked, then all; what
could not lead to the best answer in one sweep is left out of the next.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE
from elevgen.joints.ahead import LOOKS, Ahead
from elevgen.joints.audit import straights
from elevgen.joints.frontier import Shape, Table, TooLarge, empty_table, kept, merged, with_node, without_node
from elevgen.joints.graph import Directed, limbs
from elevgen.joints.joining import Joiner, ends_of
from elevgen.joints.limbs import Arm, arms_of
from elevgen.joints.outlook import face_rules, thousandths
from elevgen.joints.problem import Placed, Problem, Solution
from elevgen.joints.recombine import Room
from elevgen.joints.rings import Knot, knots

SMALL, LARGE = 100_000, 4_000_000
"""Entries of a table: up to the first it is swept at once, up to the second after sweeps in which less is looked at."""


THINNINGS = 5
"""Times half of the candidates are left out, and two halves tried each time, before every one of them has to be a joint."""


def over_branches(problem: Problem, lines: Sequence[Directed]) -> Solution:
    """The best joints of a part with branches at its candidates.

    Where too many nodes are open at once, every other candidate is left out until there is room. Whether something better
    was among those is not known, so that is not called optimal, and no bound is known: 0.
    """
    for by, phase in ((1, 0), *((2**times, phase) for times in range(1, THINNINGS) for phase in (0, 1))):
        thinner = _thinned(problem, by, phase)
        try:
            joints = across(thinner, arms_of(limbs(thinner, _again(lines, thinner))))
        except TooLarge:
            continue
        if joints is not None and (by == 1 or _panels_kept(problem, joints)):
            return Solution(joints, by == 1, len(joints) if by == 1 else 0)
    return Solution(tuple((edge.id, c.at) for edge in problem.edges for c in edge.candidates), False, 0)


def _panels_kept(problem: Problem, joints: Collection[Placed]) -> bool:
    """Whether no panel is too long that one of the candidates left out could have made shorter."""
    places: dict[str, list[float]] = {}
    for edge in problem.edges:
        places.setdefault(edge.face, []).extend(c.at for c in edge.candidates)
    return all(
        s.face.short_enough(s.span) or not any(s.span.start < at < s.span.end for at in places[s.face.id])
        for s in straights(problem, joints)
    )


def _thinned(problem: Problem, by: int, phase: int) -> Problem:
    """The problem with one in so many of each edge's candidates; its first and last, those hidden and those that stand stay."""
    edges = []
    for edge in problem.edges:
        ends = (0, len(edge.candidates) - 1)
        kept = tuple(c for k, c in enumerate(edge.candidates) if k % by == phase or k in ends or c.hidden or c.given)
        edges.append(edge._replace(candidates=kept))
    return problem._replace(edges=tuple(edges))


def _again(lines: Sequence[Directed], problem: Problem) -> list[Directed]:
    """The same lines along the edges of another problem."""
    edges = {edge.id: edge for edge in problem.edges}
    return [[(edges[edge.id], forward) for edge, forward in line] for line in lines]


def across(problem: Problem, arms: Sequence[Arm]) -> tuple[Placed, ...] | None:
    """The joints of least cost; None where no choice keeps every rule. Raises TooLarge."""
    if not arms:
        return ()
    limit = thousandths(problem.spacing + TOLERANCE)
    rules = face_rules(problem.faces, problem.spacing)
    steps, ends = _steps(knots(arms, limit)), ends_of(arms, rules)
    try:
        joiner = Joiner(arms, ends, rules, Room(limit, SMALL))
        found = swept(steps, joiner)
    except TooLarge:
        ahead: Ahead | None = None
        for look in LOOKS:
            joiner = Joiner([look.at(arm) for arm in arms], ends, rules, Room(limit, LARGE))
            found = swept(steps, joiner, ahead)
            if not found[-1]:
                break
            ahead = Ahead(found, limit, look.unit)
            steps = _with_done([step.knot for step in reversed(steps)])
    if not found[-1]:
        return None
    (last,) = found[-1]
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
