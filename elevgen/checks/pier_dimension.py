"""Short masonry beside an opening is a number of units long."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal, NamedTuple

from elevgen.building.model import Leaf, LeafEnd, Opening, Unit
from elevgen.checks._coordinating import Fit, fit
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._masonry import gaps_at, joints_by_leaf, stretches
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted, listed
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_most
from elevgen.core.measures import millimetres
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

Ending = Literal["opening", "joint", "end", "against"]
"""What ends a piece of masonry: an opening; a movement joint; its own end; the face of a wall it is bonded to, a joint off."""


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
    """One end of a piece of masonry; `short` is how much of it belongs to another wall's units and the joint beside them."""

    ending: Ending
    opening: str = ""
    joint: str = ""
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
        yield from (_named(leaf, pier, near, limit) for pier, near in bricks)
        yield from _noted(leaf, "short piers", [one for one in wrong if one not in bricks])
        yield from _noted(leaf, "widths of openings", _odd_widths(leaf, openings, perpend))
        if not wrong:
            text = f"{counted(len(piers), 'short pier')} of a number of half units" if piers else "no short piers"
            yield found("pass", at_leaf(leaf), text, source=limit)


def _named(leaf: Leaf, pier: _Pier, near: Fit, limit: Sourced) -> Finding:
    length = pier.along.length
    place = at_leaf(leaf).part(f"pier at {millimetres(pier.along.middle)}")
    place = place._replace(openings=pier.openings, joints=pier.joints)
    text = f"{millimetres(length)} mm of masonry {pier.between}, no number of half units: {near.words()} would be"
    return found("warn", place, text, measured=length, exactly=near.nearest(length), source=limit)


def _noted(leaf: Leaf, what: str, odd: Sequence[tuple[_Pier, Fit]]) -> Iterator[Finding]:
    """One note for all that is no number of half units, with the nearest that would be."""
    if odd:
        names = tuple(dict.fromkeys(name for piece, _ in odd for name in piece.openings))
        joints = tuple(dict.fromkeys(name for piece, _ in odd for name in piece.joints))
        place = at_leaf(leaf).part(what)._replace(openings=names, joints=joints)
        listing = "; ".join(f"{piece.between}, {millimetres(piece.along.length)}: {near.words()}" for piece, near in odd)
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


def _piers(leaf: Leaf, openings: Sequence[Opening], joints: Sequence[MovementJoint]) -> list[_Pier]:
    """Every piece of masonry with an opening beside it and an upright edge at its other end, from the left, each once."""
    found: dict[tuple[float, float, str], _Pier] = {}
    for void in leaf.voids:
        for level in (void.bottom + INSIDE, void.top - INSIDE):
            for solid in stretches(leaf, Span(level, level), gaps_at(joints, level)):
                pier = _pier(leaf, openings, joints, solid, level)
                if pier is not None:
                    found.setdefault((round(solid.start, 1), round(solid.end, 1), pier.unit.name), pier)
    return [found[key] for key in sorted(found)]


def _pier(leaf: Leaf, openings: Sequence[Opening], joints: Sequence[MovementJoint], solid: Span, level: float) -> _Pier | None:
    left = _edge(leaf, openings, joints, solid.start, level, 0)
    right = _edge(leaf, openings, joints, solid.end, level, 1)
    if left is None or right is None or "opening" not in (left.ending, right.ending):
        return None
    along = Span(solid.start + left.short, solid.end - right.short)
    spare = -1 + sum(edge.ending == "against" for edge in (left, right))
    names = tuple(dict.fromkeys(edge.opening for edge in (left, right) if edge.opening))
    return _Pier(along, _unit_at(leaf, level), spare, names, tuple(edge.joint for edge in (left, right) if edge.joint))


def _edge(
    leaf: Leaf, openings: Sequence[Opening], joints: Sequence[MovementJoint], at: float, level: float, side: int
) -> _Edge | None:
    """What ends the masonry at one of its sides; None where it is a slope, a step, or the masonry of another wall in line."""
    for joint in joints:
        if joint.levels.contains(level) and abs((joint.gap.start if side else joint.gap.end) - at) <= TOLERANCE:
            return _Edge("joint", joint=joint.id)
    for opening in openings:
        if _bounds(opening.rect, at, level, side):
            return _Edge("opening", opening=opening.id)
    if any(_bounds(void, at, level, side) for void in leaf.crossings):
        return _Edge("end")
    end, face = (leaf.finish_end, leaf.span.end) if side else (leaf.start_end, leaf.span.start)
    return _at_end(leaf, end, face, level) if abs(face - at) <= TOLERANCE else None


def _bounds(rect: Rect, at: float, level: float, side: int) -> bool:
    return rect.levels.contains(level) and abs((rect.left if side else rect.right) - at) <= TOLERANCE


def _at_end(leaf: Leaf, end: LeafEnd, face: float, level: float) -> _Edge | None:
    if end.kind != "corner" or end.connection not in ("bonded", "tied"):
        return _Edge("end")
    depth = abs(end.far - end.near)
    if depth <= TOLERANCE:
        return None
    if abs(end.far - face) > TOLERANCE:
        return _Edge("against")
    stops = end.connection == "tied" and not end.through_on_even
    return _Edge("end", short=depth + _unit_at(leaf, level).joint if stops else 0.0)


def _unit_at(leaf: Leaf, level: float) -> Unit:
    reached: Iterable[Unit] = (zone.unit for zone in leaf.zones if at_most(level, zone.levels.end))
    return next(iter(reached), leaf.zones[-1].unit)
