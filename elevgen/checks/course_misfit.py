"""Sills, heads and tops that do not land on a course are named, with the levels that would."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import at_leaf, found
from elevgen.core.measures import level
from elevgen.result import Design, Finding

CODE = "course-misfit"
TITLE = "Levels that land on courses"
RATIONALE = (
    "A level off the courses means units cut in height or a thick bed: slow to lay, plain to see, and easy to avoid on paper."
)


def check(design: Design) -> Iterator[Finding]:
    """One warning for every level of a leaf that misses its courses."""
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    for laid in design.coursing.leaves:
        place = at_leaf(leaves[laid.leaf])
        for misfit in laid.misfits:
            text = (
                f"{misfit.what} at {level(misfit.level)} does not land on a course: "
                f"{level(misfit.down)} or {level(misfit.up)} would"
            )
            nearest = _nearest(misfit.level, misfit.down, misfit.up)
            yield found("warn", place.part(misfit.what), text, measured=misfit.level, exactly=nearest)
        if not laid.misfits:
            yield found("pass", place, "every level lands on a course")


def _nearest(wanted: float, down: float, up: float) -> float:
    return down if wanted - down <= up - wanted else up
