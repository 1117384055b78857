"""Movement joints are wide enough for the masonry they serve."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._finding import at_joint, found
from elevgen.checks._masonry import full_height, joints_by_leaf
from elevgen.checks._paths import longest, pieces
from elevgen.checks._rules import materials, rule, uncovered
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.core.measures import metres, millimetres
from elevgen.core.sourced import Sourced
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding, Severity

CODE = "joint-width"
TITLE = "Width of movement joints"
RATIONALE = "A joint closes as the masonry grows; a filler squeezed to nothing passes the push on, and the wall cracks elsewhere."
PER_METRE, NOMINAL = "movement_joint.width.per_metre.clay", "movement_joint.width.nominal"


def check(design: Design) -> Iterator[Finding]:
    """The width as built against the rule of thumb for the longest masonry on either side, each material for itself.

    In clay a width for each metre of spacing; in other materials the nominal width.
    """
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    served = _served(design, leaves)
    for joint in design.plan.joints:
        leaf = leaves[joint.leaf]
        findings = [_judged(design, joint, material, served.get(joint.id)) for material in materials(leaf)]
        yield max(findings, key=lambda f: ("pass", "not_checked", "fail").index(f.severity))


def _served(design: Design, leaves: dict[str, Leaf]) -> dict[str, float]:
    """For each joint the longest way through the masonry on either side of it."""
    joints = joints_by_leaf(design)
    cuts = {leaf: [j.at for j in on_leaf if full_height(leaves[leaf], j)] for leaf, on_leaf in joints.items()}
    served: dict[str, float] = {}
    for run in design.runs:
        for piece in pieces(run, cuts):
            ends = {(s.leaf, at) for s in piece for at in (s.span.start, s.span.end)}
            beside = [j for leaf, at in ends for j in joints[leaf] if abs(j.at - at) <= TOLERANCE]
            if beside:
                length = longest(piece, {}).length
                for joint in beside:
                    served[joint.id] = max(served.get(joint.id, 0.0), length)
    return served


def _judged(design: Design, joint: MovementJoint, material: str, served: float | None) -> Finding:
    needed = _needed(design, material, served)
    if needed is None:
        return uncovered(design, at_joint(joint), PER_METRE if material == "clay" else f"{NOMINAL}.{material}")
    width, source = needed
    built = joint.width.built
    text = f"{millimetres(built)} mm wide in {material.replace('_', ' ')}"
    if served is not None:
        text += f", up to {metres(served)} m of masonry beside it"
    severity: Severity = "pass" if at_least(built, width) else "fail"
    if severity == "fail":
        text += f", needs {millimetres(width)} mm"
    return found(severity, at_joint(joint), text, measured=built, least=width, source=source)


def _needed(design: Design, material: str, served: float | None) -> tuple[float, Sourced] | None:
    per_metre = rule(design, PER_METRE) if material == "clay" and served is not None else None
    if per_metre is not None and served is not None:
        return per_metre.number * served / 1000, per_metre
    nominal = rule(design, f"{NOMINAL}.{material}")
    return None if nominal is None else (nominal.number, nominal)
