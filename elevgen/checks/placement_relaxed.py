"""Where no placement of movement joints keeps every rule, the rules that had to give way are named."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevgen.building.model import Run
from elevgen.checks._finding import Place, found
from elevgen.checks._rules import rule
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.joints.model import Relaxed, RunPlacement
from elevgen.result import Design, Finding
from elevgen.rules.keys import KEYS, MATERIALS

CODE = "placement-relaxed"
TITLE = "Movement joint rules that could not be kept"
RATIONALE = "Openings can stand so close that no joint fits between; what is placed is the least bad, and somebody must decide."
_FREE_CLAY = "movement_joint.free_standing.spacing.clay"
_OF_SOME_WALLS = {
    "movement_joint.spacing.with_openings": "of a wall with openings",
    "movement_joint.spacing.low_units": "of a wall of low units",
    "movement_joint.parapet.spacing": "of a parapet",
}


def check(design: Design) -> Iterator[Finding]:
    """One warning for each rule given way, and a note for a run whose placement is not proven best.

    Nothing is said of walls whose joints are given: no place was looked for there, and other checks judge what they have.
    """
    runs = {run.id: run for run in design.runs}
    given = {leaf for wall in design.building.walls if not wall.placing for leaf in wall.leaves}
    for placement in design.plan.placements:
        run = runs[placement.run]
        gave_way = [(_place(run, relaxed), relaxed) for relaxed in placement.relaxed]
        looked_for = [(place, relaxed) for place, relaxed in gave_way if not given.issuperset(place.leaves)]
        for place, relaxed in looked_for:
            source = rule(design, relaxed.rule)
            yield found(
                "warn",
                place,
                _gave_way(design.figures, relaxed) + _remedies(relaxed),
                measured=relaxed.measured,
                most=relaxed.limit,
                source=source,
            )
        whole = Place(run.id, leaves=run.leaves)
        if not placement.optimal:
            yield found("note", whole, _unproven(len(placement.joints), placement.lower_bound))
        elif given.issuperset(run.leaves):
            yield found("pass", whole, "joints as given, no place was looked for")
        elif not looked_for:
            yield found("pass", whole, _kept(placement, gave_way))


def _place(run: Run, relaxed: Relaxed) -> Place:
    """The leaves of the run that the placement names; all of them where it names none."""
    named = tuple(leaf for leaf in run.leaves if any(leaf in part.split() for part in relaxed.where.split(", ")))
    return Place(relaxed.where or run.id, leaves=named or run.leaves)


def _gave_way(figures: Figures, relaxed: Relaxed) -> str:
    """What is asked for, and what there is instead."""
    asked, last = relaxed.rule.rsplit(".", 1)[0], relaxed.rule.rsplit(".", 1)[-1]
    material = f" in {last.replace('_', ' ')}" if last in MATERIALS else ""
    measured, limit = _length(figures, relaxed.measured), _length(figures, relaxed.limit)
    if asked.startswith("movement_joint.spacing.reinforced"):
        return f"no place for a joint keeps the spacing for reinforced beds{material}, {limit}: {measured} without one"
    if relaxed.rule in ("movement_joint.parapet.fraction", "movement_joint.free_standing.fraction", _FREE_CLAY):
        where = "a parapet" if "parapet" in relaxed.rule else "a free-standing wall"
        return f"no place for a joint keeps the spacing in {where}, {limit}: {measured} without one"
    if relaxed.rule in ("movement_joint.change_of_height", "movement_joint.change_of_height.fraction"):
        return f"no place for the joint that a step of {measured} in the wall's height needs: over {limit}"
    if asked == "movement_joint.short_return":
        lengths = f"{figures.measure(relaxed.limit)} needs: it is {figures.measure(relaxed.measured)}"
        return f"no place for the joint that a return{material} shorter than {lengths}"
    if asked in _OF_SOME_WALLS:
        return f"no place for a joint keeps the spacing {_OF_SOME_WALLS[asked]}{material}, {limit}: {measured} without one"
    if asked == "movement_joint.spacing.normal":
        return f"no place for a joint keeps the usual spacing{material}, {limit}: {measured} without one"
    if asked == "movement_joint.panel_ratio":
        return f"no place for a joint keeps a panel{material} to the {limit} its height allows: it is {measured} long"
    if asked in ("movement_joint.corner", "movement_joint.parapet"):
        return f"no place for the first joint within {limit} of the corner: it is {measured} from it"
    if asked.startswith("movement_joint.at_opening."):
        return f"no place for the joint asked for within {limit} of an opening: the nearest is {measured} from it"
    meaning = KEYS[relaxed.rule].meaning if relaxed.rule in KEYS else "a rule"
    return f"no place for a joint keeps the {meaning}, {limit}: it is {measured}"


def _remedies(relaxed: Relaxed) -> str:
    """The changes the plan names by which the rule could be kept; nothing where none were looked for."""
    if relaxed.remedies is None:
        return ""
    if not relaxed.remedies:
        return "; no cheap change was found by which it would be kept"
    return f"; to keep it, {', or '.join(remedy.words for remedy in relaxed.remedies)}"


def _kept(placement: RunPlacement, given_way: Sequence[object]) -> str:
    joints = counted(len(placement.joints), "joint")
    if given_way:
        return f"{joints}, and fewer will not do; every rule kept except where joints are given"
    return f"{joints}, every rule kept, and fewer will not do"


def _unproven(joints: int, bound: int) -> str:
    """What is not proven of a placement: that any joints are needed, their number, or only where they stand."""
    if joints == 0:
        return "no joints placed, and not proven that none are needed"
    if bound < joints:
        return f"{counted(joints, 'joint')} placed, at least {bound} needed; not proven that fewer would not do"
    return f"{counted(joints, 'joint')}, and fewer will not do; not proven that as many cannot stand better or more evenly"


def _length(figures: Figures, value: float) -> str:
    """Metres, with no more figures than needed."""
    return figures.plain(value)
