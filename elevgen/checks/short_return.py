"""Short returns, which turn and crack when the walls at both their ends push, have a movement joint."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._masonry import joints_by_leaf, turns
from elevgen.checks._rules import materials, rule, uncovered
from elevgen.core.geometry import at_least
from elevgen.result import Design, Finding

CODE = "short-return"
TITLE = "Short returns"
RATIONALE = "Two long walls that grow towards a short return between them turn it, and it cracks near the corner."
CLAY, FLAG = "movement_joint.short_return.clay", "movement_joint.short_return.flag"


def check(design: Design) -> Iterator[Finding]:
    """A leaf between two bonded corners with no joint in it: in clay under the limit fail; any under the flag warn."""
    joints = joints_by_leaf(design)
    any_short = False
    for leaf in design.building.leaves:
        if joints[leaf.id] or not all(turns(design.building, leaf, end) for end in (leaf.start_end, leaf.finish_end)):
            continue
        if finding := _judged(design, leaf):
            any_short = True
            yield finding
    if not any_short:
        yield found("pass", BUILDING, "no return short enough to need a joint has none")


def _judged(design: Design, leaf: Leaf) -> Finding | None:
    length = leaf.span.length
    clay = "clay" in materials(leaf)
    limit, flag = rule(design, CLAY), rule(design, FLAG)
    if clay and limit is None:
        return uncovered(design, at_leaf(leaf), CLAY)
    if clay and limit is not None and not at_least(length, limit.number):
        text = f"return of {design.figures.measure(length)} in clay between two bonded corners, without a movement joint: "
        text += f"under {design.figures.measure(limit.number)} it needs one, or one of its corners jointed instead of bonded"
        return found("fail", at_leaf(leaf), text, measured=length, least=limit.number, source=limit)
    if flag is None:
        return uncovered(design, at_leaf(leaf), FLAG)
    if not at_least(length, flag.number):
        text = f"return of {design.figures.measure(length)} between two bonded corners, without a movement joint: "
        text += f"under {design.figures.measure(flag.number)} look whether it needs one"
        return found("warn", at_leaf(leaf), text, measured=length, least=flag.number, source=flag)
    return None
