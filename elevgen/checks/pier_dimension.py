"""Short masonry beside an opening is a number of units long."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf, LeafEnd, Opening, Unit
from elevgen.checks._coordinating import Fit, fit
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._masonry import joints_by_leaf, stretches
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted, listed
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_most
from elevgen.core.sourced import Sourced
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "pier-dimension"
TITLE = "Short masonry in whole and half units"
RATIONALE = (
    "A pier of a few bricks has too few perpends to lose a difference in: unless it is a number of half bricks long, "
    "every course of it has a cut brick where it shows most, beside an opening."
)
KEY, NARROW, WIDE = "opening.pier.coordinated", "perpend.min", "perpend.max"
BRICK = 113.0
"""A unit no higher than this (mm) is a brick; blocks are cut to fit where nobody sees it. Common practice, no source."""
INSIDE = 1.0
"""Masonry between openings is looked at this far (mm) inside their heads and sills, where most others reach it."""


class _Pier(NamedTuple):
    """Masonry between two upright edges, one of them an opening's, or the opening. `spare`: joints more than it has units."""

    along: Span
    unit: Unit
    spare: int
    openings: tuple[str, ...]
    joints: tuple[str, ...]

    @property
    def between(self) -> str:
        """In words: its openings."""
        if self.spare > 0:
            return self.openings[0]
        return f"between {listed(self.openings)}" if len(self.openings) > 1 else f"beside {self.openings[0]}"


class _Edge(NamedTuple):
    """One end of a piece of masonry: an opening, a movement joint, or its own end.

    Against the face of a wall it is bonded to it has one of the `joints` there. `short` is how much of it belongs to another
    wall's units and the joint beside them.
    """

    opening: str = ""
    joint: str = ""
    joints: int = 0
    short: float = 0.0


def check(design: Design) -> Iterator[Finding]:
    """Each short pier of bricks in a weathered face on its own; other short piers, and widths of openings, in a note a leaf.

    Masonry up to the rule's length between an opening and another, a movement joint, a corner or an end has to be n half
    units and the joints between them, within what its perpends can take up. At an outer corner it is the course that runs
    through which is measured, to the outer face; at an inner one, to the return.
    """
    limit, narrow, wide = rule(design, KEY), rule(design, NARROW), rule(design, WIDE)
    if limit is None or narrow is None or wide is None:
        yield uncovered(design, BUILDING, KEY, NARROW, WIDE)
        return
    perpend = narrow.number, wide.number
    joints = joints_by_leaf(design)
    for leaf in design.building.leaves:
        openings = design.building.wall(leaf.wall).openings
        piers = [p for p in _piers(leaf, openings, joints[leaf.id]) if at_most(p.along.length, limit.number)]
        wrong = [(pier, near) for pier in piers if not (near := fit(pier.along.length, pier.unit, pier.spare, perpend)).fits]
        bricks = [(pier, near) for pier, near in wrong if leaf.exposed and pier.unit.height <= BRICK]
        yield from (_named(design.figures, leaf, pier, near, limit) for pier, near in bricks)
        yield from _noted(design.figures, leaf, "short piers", [one for one in wrong if one not in bricks])
        yield from _noted(design.figures, leaf, "widths of openings", _odd_widths(leaf, openings, perpend))
        if not wrong:
            text = f"{counted(len(piers), 'short pier')} of a number of half units" if piers else "no short piers"
            yield found("pass", at_leaf(leaf), text, source=limit)


def _named(figures: Figures, leaf: Leaf, pier: _Pier, near: Fit, limit: Sourced) -> Finding:
    length = pier.along.length
    place = at_leaf(leaf).part(f"pier at {figures.length(pier.along.middle)}")
    place = place._replace(openings=pier.openings, joints=pier.joints)
    text = f"{figures.measure(length)} of masonry {pier.between}, no number of half units: {near.words(figures)} would be"
    return found("warn", place, text, measured=length, exactly=near.nearest(length), source=limit)


def _noted(figures: Figures, leaf: Leaf, what: str, odd: Sequence[tuple[_Pier, Fit]]) -> Iterator[Finding]:
    """One note for all that is no number of half units, with the nearest that would be."""
    if odd:
        names = tuple(dict.fromkeys(name for piece, _ in odd for name in piece.openings))
        joints = tuple(dict.fromkeys(name for piece, _ in odd for name in piece.joints))
        place = at_leaf(leaf).part(what)._replace(openings=names, joints=joints)
        listing = "; ".join(
            f"{piece.between}, {figures.length(piece.along.length)}: {near.words(figures)}" for piece, near in odd
        )
        yield found("note", place, f"no number of half units, and the nearest that are: {listing}")


def _odd_widths(leaf: Leaf, openings: Sequence[Opening], perpend: tuple[float, float]) -> list[tuple[_Pier, Fit]]:
    """The openings whose widths are no number of units and the joints either side."""
    odd = []
    for opening in openings:
        gap = _Pier(opening.rect.along, _unit_at(leaf, opening.rect.levels.middle), 1, (opening.id,), ())
        near = fit(gap.along.length, gap.unit, gap.spare, perpend)
        if not near.fits:
            odd.append((gap, near))
    return odd


class _Row(NamedTuple):
    """A leaf at one level, with the openings and the joints that stand there."""

    leaf: Leaf
    level: float
    openings: tuple[Opening, ...]
    joints: tuple[MovementJoint, ...]

    def piers(self) -> Iterator[_Pier]:
        """Every piece of masonry with an opening beside it and an upright edge at its other end."""
        unit = _unit_at(self.leaf, self.level)
        for solid in stretches(self.leaf, Span(self.level, self.level), [joint.gap for joint in self.joints]):
            edges = [edge for side, at in enumerate((solid.start, solid.end)) if (edge := self._edge(at, side)) is not None]
            if len(edges) == 2 and any(edge.opening for edge in edges):
                left, right = edges
                along = Span(solid.start + left.short, solid.end - right.short)
                names = tuple(dict.fromkeys(edge.opening for edge in edges if edge.opening))
                yield _Pier(along, unit, left.joints + right.joints - 1, names, tuple(e.joint for e in edges if e.joint))

    def _edge(self, at: float, side: int) -> _Edge | None:
        """What ends the masonry at one of its sides; None where it is a slope, a step, or the masonry of another wall in line."""
        for joint in self.joints:
            if abs((joint.gap.start if side else joint.gap.end) - at) <= TOLERANCE:
                return _Edge(joint=joint.id)
        for opening in self.openings:
            if _bounds(opening.rect, at, self.level, side):
                return _Edge(opening=opening.id)
        if any(_bounds(void, at, self.level, side) for void in self.leaf.crossings):
            return _Edge()
        end, face = (self.leaf.finish_end, self.leaf.span.end) if side else (self.leaf.start_end, self.leaf.span.start)
        return self._at_end(end, face) if abs(face - at) <= TOLERANCE else None

    def _at_end(self, end: LeafEnd, face: float) -> _Edge | None:
        if end.kind != "corner" or end.connection not in ("bonded", "tied"):
            return _Edge()
        depth = abs(end.far - end.near)
        if depth <= TOLERANCE:
            return None
        if abs(end.far - face) > TOLERANCE:
            return _Edge(joints=1)
        stops = end.connection == "tied" and not end.through_on_even
        return _Edge(short=depth + _unit_at(self.leaf, self.level).joint if stops else 0.0)


def _piers(leaf: Leaf, openings: Sequence[Opening], joints: Sequence[MovementJoint]) -> list[_Pier]:
    """The piers of a leaf from the left, each once, as they stand beside the heads and the sills of its openings."""
    found: dict[tuple[float, float, str], _Pier] = {}
    for level in sorted({round(y, 3) for void in leaf.voids for y in (void.bottom + INSIDE, void.top - INSIDE)}):
        there = tuple(opening for opening in openings if opening.rect.levels.contains(level))
        row = _Row(leaf, level, there, tuple(joint for joint in joints if joint.levels.contains(level)))
        for pier in row.piers():
            found.setdefault((round(pier.along.start, 1), round(pier.along.end, 1), pier.unit.name), pier)
    return [found[key] for key in sorted(found)]


def _bounds(rect: Rect, at: float, level: float, side: int) -> bool:
    return abs((rect.left if side else rect.right) - at) <= TOLERANCE and rect.levels.contains(level)


def _unit_at(leaf: Leaf, level: float) -> Unit:
    reached: Iterable[Unit] = (zone.unit for zone in leaf.zones if at_most(level, zone.levels.end))
    return next(iter(reached), leaf.zones[-1].unit)
