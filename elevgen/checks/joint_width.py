"""Movement joints are wide enough for the masonry they serve, by the rule of thumb and by its calculated movement."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from elevgen.building.model import Leaf
from elevgen.checks._finding import Place, at_joint, found
from elevgen.checks._masonry import full_height, joints_by_leaf
from elevgen.checks._movement import Beside, Need, need
from elevgen.checks._paths import longest, pieces
from elevgen.checks._rules import materials, rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, at_least, at_most
from elevgen.core.sourced import Sourced
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding, Severity

CODE = "joint-width"
TITLE = "Width of movement joints"
RATIONALE = "A joint closes as the masonry grows; a filler squeezed to nothing passes the push on, and the wall cracks elsewhere."
PER_METRE, NOMINAL = "movement_joint.width.per_metre.clay", "movement_joint.width.nominal"
HIGH, HIGH_WIDTH = "movement_joint.high_wall.height", "movement_joint.high_wall.width"
NARROWEST, WIDEST = "sealant.width.min", "sealant.width.max"

Sides = tuple[Beside, Beside]


def check(design: Design) -> Iterator[Finding]:
    """The width as built against the rule of thumb, the movement beside it, and the widths a sealant fills.

    Rule of thumb: for the longest masonry on either side, each material for itself; in clay a width for each metre of
    spacing, in other materials the nominal width. High walls may ask for a width of their own. Movement: closing and opening
    of both sides, the worse of the two.
    """
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    served = _served(design, leaves)
    lacking: dict[tuple[str, ...], list[MovementJoint]] = {}
    for joint in design.plan.joints:
        sides = served.get(joint.id)
        longer = max(side.length for side in sides) if sides else None
        findings = [*_in_high_wall(design, joint, leaves[joint.leaf])]
        findings += [_judged(design, joint, material, longer) for material in materials(leaves[joint.leaf])]
        yield max(findings, key=lambda f: ("pass", "not_checked", "fail").index(f.severity))
        yield from _fillable(design, joint)
        needed = need(design, sides) if sides else None
        if isinstance(needed, Need):
            yield _held_against(design.figures, joint, needed)
        elif needed is not None:
            lacking.setdefault(needed.missing, []).append(joint)
    for missing, joints in lacking.items():
        yield _not_calculated(design, missing, joints)


def _served(design: Design, leaves: Mapping[str, Leaf]) -> dict[str, Sides]:
    """For each joint what stands before it and after it: the longest way through that piece of the run, and its leaves."""
    joints = joints_by_leaf(design)
    cuts = {leaf: [j.at for j in on_leaf if full_height(leaves[leaf], j)] for leaf, on_leaf in joints.items()}
    before: dict[str, dict[float, Beside]] = {leaf: {} for leaf in leaves}
    after: dict[str, dict[float, Beside]] = {leaf: {} for leaf in leaves}
    for run in design.runs:
        for piece in pieces(run, cuts):
            beside = Beside(longest(piece, {}).length, tuple(leaves[name] for name in dict.fromkeys(s.leaf for s in piece)))
            for s in piece:
                for side, at in ((before, s.span.end), (after, s.span.start)):
                    longer = side[s.leaf].get(at)
                    side[s.leaf][at] = beside if longer is None or longer.length < beside.length else longer
    found: dict[str, Sides] = {}
    for joint in design.plan.joints:
        sides = tuple(_beside(joint, leaves, one, other) for one, other in ((before, after), (after, before)))
        if any(side.length for side in sides):
            found[joint.id] = sides[0], sides[1]
    return found


_Ends = Mapping[str, Mapping[float, Beside]]
"""What ends there, by leaf and position."""


def _beside(joint: MovementJoint, leaves: Mapping[str, Leaf], ending: _Ends, beginning: _Ends) -> Beside:
    """What stands on one side of a joint; beyond one in a leaf's end a leaf in line that stops there too, or nothing."""
    here = leaves[joint.leaf]
    end = next(
        (e for at, e in ((here.span.start, here.start_end), (here.span.end, here.finish_end)) if joint.gap.contains(at)), None
    )
    own = next((b for at, b in ending[here.id].items() if abs(at - joint.at) <= TOLERANCE), None)
    if own is not None and own.length > joint.width.built / 2 + TOLERANCE:
        return own
    there = leaves.get(end.other or "") if end is not None else None
    if there is not None:
        for at, its in ((there.span.start, there.start_end), (there.span.end, there.finish_end)):
            if its.kind == "abutting" and its.other == here.id:
                return ending[there.id].get(at) or beginning[there.id].get(at) or Beside(0.0, (here,))
    return Beside(0.0, (here,))


def _judged(design: Design, joint: MovementJoint, material: str, served: float | None) -> Finding:
    needed = _needed(design, material, served)
    if needed is None:
        return uncovered(design, at_joint(joint), PER_METRE if material == "clay" else f"{NOMINAL}.{material}")
    width, source = needed
    built = joint.width.built
    text = f"{design.figures.measure(built)} wide in {material.replace('_', ' ')}"
    if served is not None:
        text += f", up to {design.figures.run(served)} of masonry beside it"
    severity: Severity = "pass" if at_least(built, width) else "fail"
    if severity == "fail":
        text += f", needs {design.figures.measure(width)}"
    return found(severity, at_joint(joint), text, measured=built, least=width, source=source)


def _in_high_wall(design: Design, joint: MovementJoint, leaf: Leaf) -> Iterator[Finding]:
    """The width a wall higher than most asks of its joints, whatever stands beside them."""
    height, width = rule(design, HIGH), rule(design, HIGH_WIDTH)
    if height is None and width is None:
        return
    if height is None or width is None:
        yield uncovered(design, at_joint(joint), HIGH, HIGH_WIDTH)
    elif not at_most(leaf.height, height.number):
        built = joint.width.built
        text = f"{design.figures.measure(built)} wide in a wall {design.figures.run(leaf.height)} high"
        wide = at_least(built, width.number)
        text += "" if wide else f", needs {design.figures.measure(width.number)} in one over {design.figures.run(height.number)}"
        yield found(
            "pass" if wide else "fail", at_joint(joint), text, measured=built, least=width.number, source=width, also=(height,)
        )


def _needed(design: Design, material: str, served: float | None) -> tuple[float, Sourced] | None:
    per_metre = rule(design, PER_METRE) if material == "clay" and served is not None else None
    if per_metre is not None and served is not None:
        return per_metre.number * served / 1000, per_metre
    nominal = rule(design, f"{NOMINAL}.{material}")
    return None if nominal is None else (nominal.number, nominal)


def _held_against(figures: Figures, joint: MovementJoint, needed: Need) -> Finding:
    """The width as built against the one its movement needs."""
    built = joint.width.built
    text = f"{figures.measure(built)} wide, {needed.case} by up to {figures.measure(needed.movement)} by calculation"
    severity: Severity = "pass" if at_least(built, needed.width) else "fail"
    if severity == "fail":
        text += f", needs {figures.measure(needed.width)}: set joints nearer together, take a sealant that moves more, "
        text += "or give the products' own figures"
    return found(severity, at_joint(joint), text, measured=built, least=needed.width, source=needed.source, also=needed.also)


def _fillable(design: Design, joint: MovementJoint) -> Iterator[Finding]:
    """A joint too narrow or too wide for a sealant; silence where it is neither."""
    built = joint.width.built
    least, most = rule(design, NARROWEST), rule(design, WIDEST)
    if least is not None and not at_least(built, least.number):
        text = f"{design.figures.measure(built)} wide, too narrow to be sealed"
        yield found("warn", at_joint(joint), text, measured=built, least=least.number, source=least)
    if most is not None and not at_most(built, most.number):
        text = f"{design.figures.measure(built)} wide, wider than sealant spans: joints nearer together make it narrower"
        yield found("warn", at_joint(joint), text, measured=built, most=most.number, source=most)


def _not_calculated(design: Design, missing: Sequence[str], joints: Sequence[MovementJoint]) -> Finding:
    """Every joint whose need is not known for want of the same figures, as one."""
    place = Place(
        "movement joints",
        tuple(dict.fromkeys(joint.wall for joint in joints)),
        tuple(dict.fromkeys(joint.leaf for joint in joints)),
        joints=tuple(joint.id for joint in joints),
    )
    finding = uncovered(design, place, *missing)
    text = f"calculated width of {counted(len(joints), 'joint')} not checked: {finding.text}"
    others = f"; {len(missing) - 1} more missing" if len(missing) > 1 else ""
    return found("not_checked", place, text + others)
