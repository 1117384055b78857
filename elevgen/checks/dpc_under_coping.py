"""A wall that stands free at its top has a damp-proof course under its coping, of a sheet that does for it."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf, Wall
from elevgen.checks._damp import courses_of, straight
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import TOLERANCE, Span, subtract
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding

CODE = "dpc-under-coping"
TITLE = "Damp-proof course under copings"
RATIONALE = (
    "Rain goes down through the joints of a coping; without a sheet under it the top of the wall is wet and frost breaks it."
)
KEY = "dpc.coping.barred"


def check(design: Design) -> Iterator[Finding]:
    """The top of each parapet and free-standing wall against the sheets on it.

    What these must not be of is noted (NHBC 6.1.17).
    """
    barred = rule(design, KEY)
    free = [wall for wall in design.building.walls if wall.stands != "building"]
    for wall in free:
        yield from _judged(design, wall, design.building.leaf(wall.leaves[0]), barred)
    if not free:
        yield found("pass", BUILDING, "no parapet and no wall that stands by itself")


def _judged(design: Design, wall: Wall, leaf: Leaf, barred: Sourced | None) -> Iterator[Finding]:
    courses = courses_of(design, leaf, "coping")
    open_at = [void.along for void in leaf.voids if void.top >= leaf.top.lowest(void.along) - TOLERANCE]
    top = [left for a, b in straight(leaf.top, leaf.span) for left in subtract(Span(a[0], b[0]), open_at)]
    bare = [left for span in top for left in subtract(span, (course.span for course in courses))]
    narrow = [course for course in courses if course.width < wall.thickness - TOLERANCE]
    if bare:
        length = sum(span.length for span in bare)
        yield found(
            "fail",
            at_leaf(leaf),
            f"no damp-proof course under {design.figures.measure(length)} of its coping",
            measured=length,
            most=0.0,
        )
    elif narrow:
        width = narrow[0].width
        has, wanted = design.figures.measure(width), design.figures.measure(wall.thickness)
        text = f"the damp-proof course under the coping is {has} wide, the wall {wanted}"
        yield found("fail", at_leaf(leaf), text, measured=width, exactly=wall.thickness)
    else:
        yield found("pass", at_leaf(leaf), "a damp-proof course under all of its coping, across the whole wall")
    if courses and barred is None:
        yield uncovered(design, at_leaf(leaf), KEY)
    elif courses and barred is not None:
        kinds = " or ".join(word.replace("_", " ") for word in barred.words)
        yield found("note", at_leaf(leaf), f"the damp-proof course under the coping must not be of {kinds}", source=barred)
