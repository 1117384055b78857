"""A part with branches, taken apart into lines between its branch nodes; and the pieces a choice of cut lines leaves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Literal, NamedTuple

from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.line import Line, Lines, asked_along, build
from elevgen.joints.problem import Edge, Face, Problem

Side = Literal[0, 1]
"""A line's start or its finish."""


Directed = Sequence[tuple[Edge, bool]]
"""Edges strung together, each followed forwards or (False) backwards."""


class Limb(NamedTuple):
    """A line between two nodes of the graph; `nodes` with one edge only are dead ends, the others branch.

    `asked`: stretches of the line in each of which a joint is asked for.
    """

    line: Line
    names: tuple[tuple[str, float], ...]
    nodes: tuple[str, str]
    dead: tuple[bool, bool]
    asked: tuple[Span, ...] = ()


def has_branches(edges: Iterable[Edge]) -> bool:
    """Whether more than two edges come together somewhere."""
    met = Counter(node for edge in edges for node in (edge.a, edge.b))
    return any(number > 2 for number in met.values())


def directed_lines(problem: Problem) -> list[list[tuple[Edge, bool]]]:
    """Edges strung together from branch or dead-end node to the next; a ring without either is one closed string."""
    edges = sorted(problem.edges, key=lambda e: e.id)
    at: dict[str, list[Edge]] = {}
    for edge in edges:
        at.setdefault(edge.a, []).append(edge)
        at.setdefault(edge.b, []).append(edge)
    faces = {f.id: f for f in problem.faces}
    stops = {node for node, met in at.items() if len(met) != 2}
    used: set[str] = set()
    lines = []
    starts = [(e, f) for e in edges for f in (True, False) if (e.a if f else e.b) in stops]
    starts += [(e, f) for e in edges for f in (True, False) if _begins_face(e, f, faces)]
    for edge, forward in starts:
        if edge.id in used:
            continue
        line = [(edge, forward)]
        used.add(edge.id)
        while (node := line[-1][0].b if line[-1][1] else line[-1][0].a) not in stops:
            onward = next((e for e in at[node] if e.id not in used), None)
            if onward is None:
                break
            line.append((onward, onward.a == node))
            used.add(onward.id)
        lines.append(line)
    return lines


def opened(lines: Sequence[Directed]) -> list[Directed]:
    """Lines none of which leads back to the node it began at: such a one is parted where it turns nearest to its middle."""
    found: list[Directed] = []
    for line in lines:
        (first, ahead), (last, onward) = line[0], line[-1]
        if (first.a if ahead else first.b) != (last.b if onward else last.a):
            found.append(line)
            continue
        turns = [k for k in range(1, len(line)) if line[k - 1][0].face != line[k][0].face] or range(1, len(line))
        k = min(turns, key=lambda k: abs(2 * k - len(line)))
        found += [line[:k], line[k:]]
    return found


def _begins_face(edge: Edge, forward: bool, faces: Mapping[str, Face]) -> bool:
    span = faces[edge.face].span
    return abs(edge.span.start - span.start) <= TOLERANCE if forward else abs(edge.span.end - span.end) <= TOLERANCE


def limbs(problem: Problem, lines: Sequence[Directed]) -> list[Limb]:
    """The lines of a part with their costs, and what is asked of each that does not go on past it."""
    faces = {f.id: f for f in problem.faces}
    degree: dict[str, int] = {}
    for edge in problem.edges:
        for node in (edge.a, edge.b):
            degree[node] = degree.get(node, 0) + 1
    found = []
    known: Lines = {}
    for directed in lines:
        line, names = build(directed, faces, problem.spacing, known)
        (first, ahead), (last, onward) = directed[0], directed[-1]
        nodes = (first.a if ahead else first.b, last.b if onward else last.a)
        dead = (degree[nodes[0]] == 1, degree[nodes[1]] == 1)
        asked = (span for span in asked_along(line.segments, problem.wanted) if span.length > 2 * TOLERANCE)
        has_place = tuple(span for span in asked if any(span.contains(x) for x in line.x.tolist()))
        found.append(Limb(line, tuple(names), nodes, dead, has_place))
    return found
