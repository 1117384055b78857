"""Where no placement of movement joints keeps every rule, the rules that had to give way are named."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Run
from elevgen.checks._finding import Place, found
from elevgen.core.measures import millimetres
from elevgen.joints.model import Relaxed
from elevgen.result import Design, Finding

CODE = "placement-relaxed"
TITLE = "Movement joint rules that could not be kept"
RATIONALE = "Openings can stand so close that no joint fits between; what is placed is the least bad, and somebody must decide."


def check(design: Design) -> Iterator[Finding]:
    """One warning for each rule given way, and a note for a run whose placement is not proven best."""
    runs = {run.id: run for run in design.runs}
    for placement in design.plan.placements:
        place = Place(placement.run, leaves=runs[placement.run].leaves)
        for relaxed in placement.relaxed:
            source = design.rules.values.get(relaxed.rule)
            text = (
                f"no legal place for a joint keeps {relaxed.rule}: "
                f"{millimetres(relaxed.measured)} against {millimetres(relaxed.limit)}"
            )
            there = _place(runs[placement.run], relaxed)
            yield found("warn", there, text, measured=relaxed.measured, most=relaxed.limit, source=source)
        if not placement.optimal:
            yield found("note", place, _unproven(len(placement.joints), placement.lower_bound))
        if placement.optimal and not placement.relaxed:
            text = f"{len(placement.joints)} joints, every rule kept, and fewer will not do"
            yield found("pass", place, text)


def _place(run: Run, relaxed: Relaxed) -> Place:
    """The leaves of the run that the placement names; all of them where it names none."""
    named = tuple(leaf for leaf in run.leaves if any(leaf in part.split() for part in relaxed.where.split(", ")))
    return Place(relaxed.where or run.id, leaves=named or run.leaves)


def _unproven(joints: int, bound: int) -> str:
    """What is not proven of a placement: that any joints are needed, their number, or only where they stand."""
    if joints == 0:
        return "no joints placed, and not proven that none are needed"
    if bound < joints:
        return f"{joints} joints placed, at least {bound} needed; not proven that fewer would not do"
    return f"{joints} joints, and fewer will not do; not proven that as many cannot stand better or more evenly"
