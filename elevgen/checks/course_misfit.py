"""Sills, heads and tops that do not land on a course are named, with the levels that would."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf, Opening, Wall
from elevgen.checks._finding import at_leaf, at_wall, found
from elevgen.checks._rules import rule
from elevgen.checks._words import counted, listed
from elevgen.core.figures import Figures
from elevgen.core.geometry import at_most
from elevgen.coursing.model import Misfit
from elevgen.result import Design, Finding

CODE = "course-misfit"
TITLE = "Levels that land on courses"
RATIONALE = (
    "A level off the courses means units cut in height or a thick bed: slow to lay, plain to see, and easy to avoid on paper."
)
TOLERATED = "bed.tolerance"


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
            yield _named(design, wall, together)


def _missed(wall: Wall, leaf: Leaf, misfit: Misfit) -> _Missed:
    for opening in wall.openings:
        for edge in ("sill", "head"):
            if misfit.what == f"{edge} of {opening.id}":
                return _Missed(leaf, edge, opening, misfit)
    return _Missed(leaf, misfit.what, None, misfit)


def _named(design: Design, wall: Wall, missed: Sequence[_Missed]) -> Finding:
    leaves = list({m.leaf.id: m.leaf for m in missed}.values())
    openings = tuple(dict.fromkeys(o.id for o in sorted((m.opening for m in missed if m.opening), key=lambda o: (o.rect, o.id))))
    many = "s" if len(openings) > 1 else ""
    what = f"{missed[0].edge}{many} of {listed(openings)}" if openings else missed[0].edge
    wanted = missed[0].misfit.level
    place = at_leaf(leaves[0]) if len(leaves) == 1 else at_wall(wall)
    place = place.part(what)._replace(leaves=tuple(leaf.id for leaf in leaves), openings=openings)
    text = f"{design.figures.level(wanted)} does not land on a course{_said(design, wall, missed)}"
    near = [nearest for m in missed for nearest in (m.misfit.down, m.misfit.up)]
    return found("warn", place, text, measured=wanted, exactly=min(near, key=lambda at: (abs(at - wanted), at)))


def _said(design: Design, wall: Wall, missed: Sequence[_Missed]) -> str:
    """Which levels would land, what is cut or made up, and which bed would do, for each leaf where they differ."""
    sides: dict[str, list[str]] = {}
    for m in missed:
        leaves = sides.setdefault(_one_said(design, m), [])
        if m.leaf.side not in leaves:
            leaves.append(m.leaf.side)
    if len(sides) == 1 and len(wall.leaves) == len(next(iter(sides.values()))):
        return f": {next(iter(sides))}"
    return "".join(f". {listed(leaves).capitalize()} leaf: {said}" for said, leaves in sides.items())


def _one_said(design: Design, missed: _Missed) -> str:
    misfit = missed.misfit
    near = f"{design.figures.level(misfit.down)} or {design.figures.level(misfit.up)} would"
    return "; ".join(filter(None, (near, _paid(design.figures, misfit), _bed_needed(design, missed))))


def _paid(figures: Figures, misfit: Misfit) -> str:
    """The course that is cut or split, or the bed made up to a thickness."""
    if misfit.cut_to is not None:
        return f"units cut to {figures.measure(misfit.cut_to)} in course {misfit.course}"
    if misfit.made_up is not None:
        course = "" if misfit.course is None else f" in course {misfit.course}"
        return f"a bed of {figures.measure(misfit.made_up)}{course}"
    return ""


def _bed_needed(design: Design, missed: _Missed) -> str:
    """The beds that would land the level, from the bottom of its zone up, and why they are not laid."""
    misfit = missed.misfit
    if misfit.bed is None or misfit.bed_needed is None or misfit.barred is None:
        return ""
    beds = f"beds of {design.figures.measure(misfit.bed_needed)} in place of {design.figures.length(misfit.bed)}"
    return f"{beds}, from {design.figures.level(_from(missed))} up, would land it, but {_barred(design, misfit)}"


def _barred(design: Design, misfit: Misfit) -> str:
    if misfit.barred == "tolerance":
        tolerance = rule(design, TOLERATED)
        return "differ too much" + (
            "" if tolerance is None else f", by over {design.figures.measure(tolerance.number)} from the usual"
        )
    if misfit.barred == "ties":
        return "both leaves keep theirs, which meet for the ties"
    if misfit.barred == "run":
        return "not meet those of the walls it is bonded to"
    now = "lands" if misfit.loses == 1 else "land"
    return "lose other levels" if misfit.loses is None else f"lose {counted(misfit.loses, 'level')} that now {now}"


def _from(missed: _Missed) -> float:
    """Where the courses a level lies among begin."""
    reached = (zone.levels.start for zone in missed.leaf.zones if at_most(missed.misfit.level, zone.levels.end))
    return next(reached, missed.leaf.zones[-1].levels.start)
