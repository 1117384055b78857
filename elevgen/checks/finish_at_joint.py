"""A finish stops at beads on both sides of every movement joint, and begins clear of the damp-proof course."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._damp import courses_of
from elevgen.checks._finding import BUILDING, at_joint, at_leaf, found
from elevgen.checks._masonry import joints_by_leaf
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import at_least
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding

CODE = "finish-at-joint"
TITLE = "Finishes at movement joints and damp-proof courses"
RATIONALE = (
    "Render carried over a movement joint cracks along it, and carried over the damp-proof course it leads water past it: "
    "it stops at a bead (from memory)."
)
OFF = "finish.above_dpc"
EACH_SIDE = 2


def check(design: Design) -> Iterator[Finding]:
    """Each movement joint of a finished leaf against the beads beside it; each rendered leaf is told where render begins."""
    off = rule(design, OFF)
    parts = {part.joint: part for part in design.fittings.joint_parts}
    joints = joints_by_leaf(design)
    finished = [leaf for leaf in design.building.leaves if leaf.finish]
    for leaf in finished:
        for joint in joints[leaf.id]:
            wanted = EACH_SIDE * joint.levels.length * _faces(design, leaf)
            got = parts[joint.id].stop_beads if joint.id in parts else 0.0
            enough = at_least(got, wanted)
            text = f"{design.figures.measure(got)} of stop bead beside it" + (
                "" if enough else f": {design.figures.measure(wanted)} are asked"
            )
            yield found("pass" if enough else "fail", at_joint(joint), text, measured=got, least=wanted)
        yield _off_the_course(design, leaf, off)
    if not finished:
        yield found("pass", BUILDING, "no leaf is rendered or plastered")


def _faces(design: Design, leaf: Leaf) -> int:
    """Both faces of a wall of one leaf inside a building are seen, else one."""
    return 2 if len(design.building.wall(leaf.wall).leaves) == 1 and not leaf.exposed else 1


def _off_the_course(design: Design, leaf: Leaf, off: Sourced | None) -> Finding:
    courses = courses_of(design, leaf, "base")
    if leaf.finish != "render" or not courses:
        return found("pass", at_leaf(leaf), "no render at a damp-proof course")
    if off is None:
        return uncovered(design, at_leaf(leaf), OFF)
    begins = design.figures.level(courses[0].level + off.number)
    text = f"render begins on a bead {design.figures.measure(off.number)} over the damp-proof course, at {begins}"
    return found("note", at_leaf(leaf), text, source=off)
