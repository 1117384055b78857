"""How a limb comes to a table: cut, or left whole; by itself or as part of a small ring that is left whole altogether."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product
from typing import NamedTuple

import numpy as np

from elevgen.joints.frontier import FRESH, Faces, Log, Shape, Stand, Table, Taken, check_size, shaped, taken
from elevgen.joints.graph import Side
from elevgen.joints.limbs import Arm, Cuts
from elevgen.joints.line import NEVER, Ints
from elevgen.joints.outlook import NOTHING, FaceRule, Group, Outlook, beyond, groups, thousandths
from elevgen.joints.recombine import Room, Row, Work, pushed, recombined
from elevgen.joints.rings import Web, link

Ways = Callable[[Sequence[int], Sequence[int], int], Iterator[tuple[int, int, int]]]
"""From the paths a node may stand with and the distances of joints: number of each, and the path the node then has."""


class End(NamedTuple):
    """One end of a limb: the node it comes to, and the joints that may be nearest to it; none of them at a dead end."""

    node: str
    groups: Sequence[Group]


Ends = tuple[End, End]


def ends_of(arms: Sequence[Arm], rules: Mapping[str, FaceRule]) -> list[Ends]:
    """Both ends of every limb: what is seen from them does not depend on what joints cost."""
    return [(_end(arm, 0, rules), _end(arm, 1, rules)) for arm in arms]


def _end(arm: Arm, side: Side, rules: Mapping[str, FaceRule]) -> End:
    return End(arm.limb.nodes[side], groups(arm, side, rules))


class Came(NamedTuple):
    """A live end of a limb come to a node: the node's axis, the ways it may, and whether nothing more comes to it."""

    side: Side
    axis: int
    took: Taken
    over: bool


class Joiner:
    """The limbs of a part and the rules they are joined by; the log of what was cut."""

    def __init__(self, arms: Sequence[Arm], ends: Sequence[Ends], rules: Mapping[str, FaceRule], room: Room) -> None:
        self.arms = arms
        self.ends = ends
        self.rules = rules
        self.room = room
        self.log = Log()
        self.cuts = [
            arm.cuts(*([g.places for g in end.groups] for end in ends)) if arm.a.size else None
            for arm, ends in zip(arms, self.ends, strict=True)
        ]

    def cut(self, table: Table, n: int, done: frozenset[str]) -> Table | None:
        """The table with a limb cut. To nodes in `done` nothing more comes: all their stands are made one."""
        cuts = self.cuts[n]
        return None if cuts is None else self._attached(table, self.ends[n], n, cuts, done)

    def whole(self, table: Table, n: int, done: frozenset[str]) -> Table | None:
        """The table with a limb left whole; None where it is too long or would close a ring."""
        arm = self.arms[n]
        if arm.whole_cost is None:
            return None
        live = self._live(n)
        if len(live) == 2:
            return self.tied(table, link(n, arm))
        length = thousandths(arm.limb.line.length)
        ends = []
        for side in (0, 1):
            seen = beyond(arm, side, self.rules) if side in live and arm.runs_on(side) else None
            face = None if seen is None else arm.segment(side).face.id
            ends.append(End(arm.limb.nodes[side], [Group(face, seen or NOTHING, (length,), (0,))]))
        a, b = (np.array([[x]], dtype=np.int64) for x in arm.whole_cost)
        return self._attached(table, ends, n, Cuts(a, b, None, None), done)

    def _live(self, n: int) -> list[Side]:
        """The sides of a limb that come to nodes with other limbs."""
        return [side for side in (0, 1) if not self.arms[n].limb.dead[side]]

    def _attached(self, table: Table, ends: Sequence[End], n: int, cuts: Cuts, done: frozenset[str]) -> Table | None:
        """A limb whose ends do not reach each other comes to the nodes at its live ends."""
        shape, stands = table.shape, list(table.stands)
        work = Work(table.a, table.b, table.last)
        came: list[Came] = []
        for side in self._live(n):
            end = ends[side]
            axis = shape.nodes.index(end.node)
            over = end.node in done and not any(end.node in tied[:2] for tied in shape.links)
            took = self._combined(stands[axis], end.groups, _each if over else _every if shape.tied(axis) else _widest)
            if took is None:
                return None
            came.append(Came(side, axis, took, over))
            check_size([*(len(s) for m, s in enumerate(stands) if m != axis), len(took.i)], self.room.largest)
            work = work.taking(took.i, took.extra, axis)
            if len(came) == 1:
                work = self._pushed(work, stands, shape, came[0], end, shape.tied(axis))
        work = _priced(work, cuts, came)
        first, second = came[0], came[-1]
        work, stands[first.axis] = work.reduced(first.took, first.axis), first.took.stands
        if len(came) == 2:
            others = [m for m in shape.tied(second.axis) if m != first.axis or not first.over]
            if first.axis in others:
                work = work.carried(stands[first.axis], first.axis)
            work = self._pushed(work, stands, shape, second, ends[second.side], others)
            work, stands[second.axis] = work.reduced(second.took, second.axis), second.took.stands
        last, pick = work.last, work.pick
        if cuts.row is not None and cuts.column is not None and pick is not None:
            last = self.log.add(last, n, cuts.row.ravel()[pick], cuts.column.ravel()[pick])
        return Table(shape, tuple(stands), work.a, work.b, last)

    def _combined(self, stands: Sequence[Stand], found: Sequence[Group], ways: Ways) -> Taken | None:
        """Every way worth telling apart in which the joints of a limb's end come to a node."""
        by_stand: dict[Stand, list[tuple[int, int, int]]] = {}
        at = 0
        for group in found:
            for faces, numbers in _by_faces(stands):
                met = self._met(faces, group.face, group.seen)
                if met is not None:
                    paths = [stands[i].path for i in numbers]
                    for i, j, path in ways(paths, group.distances, self.room.limit):
                        by_stand.setdefault(Stand(met[0], path), []).append((numbers[i], at + j, met[1]))
            at += len(group.distances)
        return taken(by_stand) if by_stand else None

    def _met(self, faces: Faces, face: str | None, seen: Outlook) -> tuple[Faces, int] | None:
        """What is known along a node's faces once one more side of a face is, and what it costs; None: not allowed."""
        if face is None:
            return faces, 0
        known = dict(faces).get(face)
        if known is None:
            return tuple(sorted((*faces, (face, seen)))), 0
        missed = self.rules[face].missed(known, seen)
        return None if missed is None else (tuple(f for f in faces if f[0] != face), missed)

    def _pushed(
        self, work: Work, stands: list[tuple[Stand, ...]], shape: Shape, came: Came, end: End, others: Sequence[int]
    ) -> Work:
        """Nodes tied to the one a limb comes to have a path at least to that limb's joint."""
        distances = np.array([d for group in end.groups for d in group.distances], dtype=np.int64)[came.took.j]
        for other in others:
            least = (distances + shape.ways[came.axis][other]).tolist()
            stands[other], found = pushed(stands[other], least, self.room.limit)
            work = work.gathered(came.axis, other, found)
        return work

    def tied(self, table: Table, web: Web) -> Table | None:
        """The table with limbs left whole that tie nodes to each other; None where some of those are tied already."""
        shape = table.shape
        axes = [shape.nodes.index(node) for node in web.nodes]
        if any(shape.ways[u][v] >= 0 for u in axes for v in axes if u != v):
            return None
        found = self._tie(table, axes, web)
        for n in web.limbs:
            if found is not None:
                a, b = self.arms[n].whole_cost or (NEVER, 0)
                found = replace(found, a=np.minimum(found.a + a, NEVER), b=found.b + b)
                found = self._seen_along(found, n)
        return found

    def _tie(self, table: Table, axes: Sequence[int], web: Web) -> Table | None:
        """Every node of the pieces that come together has paths through the web."""
        shape = table.shape
        pieces = {axis: [(axis, 0), *((m, shape.ways[axis][m]) for m in shape.tied(axis))] for axis in axes}
        rows = []
        for numbers in product(*(range(len(table.stands[axis])) for axis in axes)):
            paths = [table.stands[axis][k].path for axis, k in zip(axes, numbers, strict=True)]
            onto = web.onto(paths, self.room.limit)
            if onto is not None:
                through = zip(axes, onto, strict=True)
                rows.append(Row(numbers, {m: way + far for axis, far in through for m, way in pieces[axis]}))
        ways = [list(way) for way in shape.ways]
        for (i, u), (j, v) in product(enumerate(axes), enumerate(axes)):
            if i != j:
                for (x, to_x), (y, to_y) in product(pieces[u], pieces[v]):
                    ways[x][y] = to_x + web.ways[i][j] + to_y
        return recombined(replace(table, shape=shape._replace(ways=tuple(map(tuple, ways)))), axes, rows, self.room)

    def _seen_along(self, table: Table, n: int) -> Table | None:
        """What is seen along the faces of a limb left whole between two nodes."""
        arm = self.arms[n]
        if all(arm.runs_on(side) and beyond(arm, side, self.rules) is None for side in (0, 1)):
            return self._through(table, arm.limb.nodes, arm.segment(0).face.id, arm.limb.line.size > 0)
        found: Table | None = table
        for side in (0, 1):
            seen = beyond(arm, side, self.rules) if arm.runs_on(side) else None
            if found is None or seen is None:
                continue
            axis = found.shape.nodes.index(arm.limb.nodes[side])
            met = ((k, self._met(s.faces, arm.segment(side).face.id, seen)) for k, s in enumerate(found.stands[axis]))
            found = recombined(found, [axis], [Row((k,), {}, m[1], (m[0],)) for k, m in met if m is not None], self.room)
        return found

    def _through(self, table: Table, nodes: tuple[str, str], face: str, candidates: bool) -> Table | None:
        """A face runs whole between two nodes: what is known at one of them is seen from the other."""
        for here, there in (nodes, nodes[::-1]):
            axes = [table.shape.nodes.index(node) for node in (here, there)]
            if face not in dict(table.stands[axes[0]][0].faces):
                continue
            rows = []
            for (i, one), (j, two) in product(*(list(enumerate(table.stands[axis])) for axis in axes)):
                met = self._met(two.faces, face, self.rules[face].onwards(dict(one.faces)[face], candidates))
                if met is not None:
                    without = tuple(f for f in one.faces if f[0] != face)
                    rows.append(Row((i, j), {}, met[1], (without, met[0])))
            return recombined(table, axes, rows, self.room)
        links = table.shape.links | {(*nodes, face, candidates)}
        return replace(table, shape=table.shape._replace(links=links))

    def linked(self, table: Table | None) -> Table | None:
        """The table with outlooks passed on along links as soon as they are known at one end."""
        for known in sorted(table.shape.links) if table is not None else ():
            assert table is not None
            u, v, face, candidates = known
            stands = [table.stands[table.shape.nodes.index(node)][0] for node in (u, v)]
            if any(face in dict(stand.faces) for stand in stands):
                rest = replace(table, shape=table.shape._replace(links=table.shape.links - {known}))
                return self.linked(self._through(rest, (u, v), face, candidates))
        return table


def _priced(work: Work, cuts: Cuts, came: Sequence[Came]) -> Work:
    """The costs of a limb's cuts laid along the axes of the nodes it comes to."""
    places = {one.side: one.took.j for one in came}
    index = np.ix_(*(places.get(side, np.zeros(1, np.int64)) for side in (0, 1)))
    ndim = work.a.ndim

    def laid(values: Ints) -> Ints:
        if len(came) == 1:
            return shaped(values.ravel(), came[0].axis, ndim)
        shape = [1] * ndim
        shape[came[0].axis], shape[came[1].axis] = values.shape
        return (values if came[0].axis < came[1].axis else values.T).reshape(shape)

    pick = laid(np.arange(cuts.a.size, dtype=np.int64).reshape(cuts.a.shape)[index])
    a = np.minimum(work.a + laid(cuts.a[index]), NEVER)
    return Work(a, work.b + laid(cuts.b[index]), work.last, np.broadcast_to(pick, a.shape))


def _by_faces(stands: Sequence[Stand]) -> list[tuple[Faces, list[int]]]:
    found: dict[Faces, list[int]] = {}
    for k, stand in enumerate(stands):
        found.setdefault(stand.faces, []).append(k)
    return list(found.items())


def _each(paths: Sequence[int], distances: Sequence[int], limit: int) -> Iterator[tuple[int, int, int]]:
    """For each joint the longest path it allows; what the node stands with after that no longer matters."""
    for j, distance in enumerate(distances):
        i = bisect_right(paths, limit - distance) - 1
        if i >= 0:
            yield i, j, FRESH.path


def _every(paths: Sequence[int], distances: Sequence[int], limit: int) -> Iterator[tuple[int, int, int]]:
    """For each joint every path it allows that is longer, and the longest one that is not."""
    for j, distance in enumerate(distances):
        i = bisect_right(paths, min(distance, limit - distance)) - 1
        if i >= 0:
            yield i, j, distance
        for i in range(bisect_right(paths, distance), bisect_right(paths, limit - distance)):
            yield i, j, paths[i]


def _widest(paths: Sequence[int], distances: Sequence[int], limit: int) -> Iterator[tuple[int, int, int]]:
    """Pairs of path and distance by the longer of them, none of which can be widened at no loss."""
    for longest in sorted({*paths, *distances}):
        if 2 * longest <= limit:
            i, j = bisect_right(paths, longest) - 1, bisect_right(distances, longest) - 1
            if i >= 0 and j >= 0:
                yield i, j, longest
            continue
        i, j = bisect_right(paths, limit - longest) - 1, bisect_right(distances, longest) - 1
        if i >= 0 and j >= 0 and distances[j] == longest:
            yield i, j, longest
        i, j = bisect_right(paths, longest) - 1, bisect_right(distances, limit - longest) - 1
        if i >= 0 and j >= 0 and paths[i] == longest:
            yield i, j, longest
