"""Trying a changed spec: what of its masonry no placement of joints could keep.

A rule can be kept somewhere exactly where it is kept with a joint at every place there is (`settle`, `problem`), so a trial
needs no search: the spec is resolved and traced anew, cut at every candidate, and measured.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import NamedTuple

from elevgen.building.demand import lintel_demands
from elevgen.building.model import Building, Run
from elevgen.building.resolve import resolve
from elevgen.building.trace import trace
from elevgen.core.errors import SpecError
from elevgen.core.geometry import Span
from elevgen.joints.audit import Broken, broken
from elevgen.joints.musts import Unmet
from elevgen.joints.survey import leaf_of, survey
from elevgen.rules.book import RuleBook, RuleReader
from elevgen.spec.models import Spec

WHOLE = 40
"""Buildings of up to this many walls are tried whole; of larger ones the walls of a piece and those up to two meetings away."""


class Trouble(NamedTuple):
    """A rule no placement can keep: `spacing`, `panel`, `corner` or the key of a must, and the stretches of leaves it is in."""

    kind: str
    stretches: tuple[tuple[str, Span], ...]

    def touches(self, other: Trouble) -> bool:
        """Whether both are about the same rule in the same masonry."""
        pairs = ((a, b) for a in self.stretches for b in other.stretches)
        return self.kind == other.kind and any(a[0] == b[0] and a[1].overlaps(b[1]) for a, b in pairs)


class Tried:
    """What a spec comes to: groups of openings (fewer where a pier got too small to build), and what no placement can keep."""

    def __init__(self, building: Building, reader: RuleReader) -> None:
        self.groups = sum(len(wall.groups) for wall in building.walls)
        self._building, self._reader = building, reader
        self._demands = lintel_demands(building, reader)
        self._runs = trace(building)
        self._known: dict[str, tuple[Trouble, ...]] = {}

    def troubles(self, first: str) -> Iterator[Trouble]:
        """Rules no placement can keep, in the runs of one leaf before all others."""
        for run in sorted(self._runs, key=lambda run: first not in run.leaves):
            if run.id not in self._known:
                self._known[run.id] = tuple(self._of_run(run))
            yield from self._known[run.id]

    def _of_run(self, run: Run) -> Iterator[Trouble]:
        surveyed = survey(run, self._building, self._demands, self._reader)
        if surveyed is not None:
            everywhere = [(edge.id, c.at) for edge in surveyed.problem.edges for c in edge.candidates]
            yield from map(trouble_of, broken(surveyed.problem, everywhere))
            yield from map(trouble_of, surveyed.unmet)


class Trials:
    """A building's spec, to be tried with changes; nothing is tried twice."""

    def __init__(self, spec: Spec, building: Building, book: RuleBook) -> None:
        self.spec, self.building, self.book = spec, building, book
        self._known: dict[tuple[tuple[str, ...], tuple[str, ...]], Tried | None] = {}
        self._near: dict[str, set[str]] = {wall.id: {wall.id} for wall in building.walls}
        wall_of = {leaf: wall.id for wall in building.walls for leaf in wall.leaves}
        for meeting in building.meetings:
            one, other = wall_of[meeting.host], wall_of[meeting.stem]
            self._near[one].add(other)
            self._near[other].add(one)

    def part(self, walls: Collection[str]) -> Spec:
        """The spec, or what of it is near those walls; each wall on the line it was found to have."""
        if len(self.spec.walls) <= WHOLE:
            return self.spec
        near = set(walls)
        for _ in range(2):
            near = {other for wall in near for other in self._near[wall]}
        lines = {wall.id: wall.line for wall in self.building.walls}
        kept = tuple(w.model_copy(update={"line": lines[w.id]}) for w in self.spec.walls if w.id in near)
        junctions = tuple(j for j in self.spec.junctions if near.issuperset(j.walls))
        return self.spec.model_copy(update={"walls": kept, "junctions": junctions})

    def helps(self, before: Spec, after: Spec, what: tuple[str, ...], trouble: Trouble) -> bool:
        """Whether a change, told by `what` it is, rids the masonry of a trouble and makes no other."""
        known, found = self._once(before, ()), self._once(after, what)
        if known is None or found is None or found.groups < known.groups:
            return False
        first = trouble.stretches[0][0]
        before_it = tuple(known.troubles(first))
        return all(any(t.touches(old) for old in before_it) and not t.touches(trouble) for t in found.troubles(first))

    def _once(self, spec: Spec, what: tuple[str, ...]) -> Tried | None:
        key = tuple(wall.id for wall in spec.walls), what
        if key not in self._known:
            self._known[key] = self._tried(spec)
        return self._known[key]

    def _tried(self, spec: Spec) -> Tried | None:
        """None where no masonry can be built so."""
        reader = RuleReader(self.book)
        try:
            building = resolve(spec, reader)
        except SpecError:
            return None
        return Tried(building, reader)


def trouble_of(rule: Broken | Unmet) -> Trouble:
    """A rule not kept, as a trouble of leaves."""
    if isinstance(rule, Unmet):
        return Trouble(rule.rule, ((rule.leaf, rule.where),))
    return Trouble(rule.rule, tuple(_on_leaves(rule.stretches)))


def _on_leaves(stretches: Iterable[tuple[str, Span]]) -> Iterator[tuple[str, Span]]:
    return ((leaf_of(name), span) for name, span in stretches)
