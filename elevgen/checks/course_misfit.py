"""Sills, heads and tops that do not land on a course are named, with the levels that would."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf, Opening, Wall
from elevgen.checks._finding import at_leaf, at_wall, found
from elevgen.checks._words import listed
from elevgen.core.measures import level
from elevgen.coursing.model import Misfit
from elevgen.result import Design, Finding

CODE = "course-misfit"
TITLE = "Levels that land on courses"
RATIONALE = (
    "A level off the courses means units cut in height or a thick bed: slow to lay, plain to see, and easy to avoid on paper."
)


class _Missed(NamedTuple):
    """A level that misses the courses of a leaf: `edge` is what lies there, of an opening or (None) of the leaf."""

    leaf: Leaf
    edge: str
    opening: Opening | None
    misfit: Misfit


def check(design: Design) -> Iterator[Finding]:
    """One warning for every level of a wall that misses its courses, with the openings and the leaves it is of."""
    for wall in design.building.walls:
        leaves = design.building.leaves_of(wall.id)
        alike: dict[tuple[str, float], list[_Missed]] = {}
        for leaf in leaves:
            missed = [_missed(wall, leaf, misfit) for misfit in design.coursing.of(leaf.id).misfits]
            for one in missed:
                alike.setdefault((one.edge, round(one.misfit.level, 1)), []).append(one)
            if not missed:
                yield found("pass", at_leaf(leaf), "every level lands on a course")
        for together in alike.values():
            yield _named(wall, together)


def _missed(wall: Wall, leaf: Leaf, misfit: Misfit) -> _Missed:
    for opening in wall.openings:
        for edge in ("sill", "head"):
            if misfit.what == f"{edge} of {opening.id}":
                return _Missed(leaf, edge, opening, misfit)
    return _Missed(leaf, misfit.what, None, misfit)


def _named(wall: Wall, missed: Sequence[_Missed]) -> Finding:
    leaves = list({m.leaf.id: m.leaf for m in missed}.values())
    openings = tuple(dict.fromkeys(o.id for o in sorted((m.opening for m in missed if m.opening), key=lambda o: (o.rect, o.id))))
    many = "s" if len(openings) > 1 else ""
    what = f"{missed[0].edge}{many} of {listed(openings)}" if openings else missed[0].edge
    wanted = missed[0].misfit.level
    place = at_leaf(leaves[0]) if len(leaves) == 1 else at_wall(wall)
    place = place.part(what)._replace(leaves=tuple(leaf.id for leaf in leaves), openings=openings)
    text = f"{level(wanted)} does not land on a course: {_would(wall, missed)}"
    near = [nearest for m in missed for nearest in (m.misfit.down, m.misfit.up)]
    return found("warn", place, text, measured=wanted, exactly=min(near, key=lambda at: (abs(at - wanted), at)))


def _would(wall: Wall, missed: Sequence[_Missed]) -> str:
    """The levels that would land, for each leaf where they differ."""
    levels: dict[str, list[str]] = {}
    for m in missed:
        sides = levels.setdefault(f"{level(m.misfit.down)} or {level(m.misfit.up)} would", [])
        if m.leaf.side not in sides:
            sides.append(m.leaf.side)
    if len(levels) == 1 and len(wall.leaves) == len(next(iter(levels.values()))):
        return next(iter(levels))
    return ", ".join(f"{would} in the {listed(sides)} leaf" for would, sides in levels.items())
