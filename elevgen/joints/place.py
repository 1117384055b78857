"""Place: the movement joints of a building, with their widths, their reasons and the proof that fewer will not do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.demand import lintel_demands
from elevgen.building.model import Building, Leaf, Run
from elevgen.core.figures import Figures
from elevgen.core.geometry import Span
from elevgen.joints.alternatives import edges_by_face, rejected
from elevgen.joints.asked import not_there
from elevgen.joints.audit import Broken, broken
from elevgen.joints.hindrance import Around, around
from elevgen.joints.limits import CORNER_FRACTION, PANEL, leaf_limits
from elevgen.joints.meetings import parted
from elevgen.joints.mixed import proven
from elevgen.joints.model import JointPlan, JointWidth, MovementJoint, Panel, Relaxed, Remedy, RunPlacement
from elevgen.joints.musts import Unmet
from elevgen.joints.problem import Solution
from elevgen.joints.reasons import Cut, cut, where, why
from elevgen.joints.remedies import remedies
from elevgen.joints.sides import sides
from elevgen.joints.solve import solve
from elevgen.joints.survey import Surveyed, height_profile, leaf_of, survey
from elevgen.joints.trials import Trials
from elevgen.joints.wanted import unmet
from elevgen.joints.width import Beside, joint_width
from elevgen.joints.words import length
from elevgen.rules.book import RuleReader
from elevgen.spec.models import Spec


class _Placing(NamedTuple):
    """A run with its joints found: each as a movement joint that has no id yet. `cut` is the run as they leave it."""

    surveyed: Surveyed
    solution: Solution
    cut: Cut
    joints: tuple[MovementJoint, ...]


def place(building: Building, runs: Sequence[Run], reader: RuleReader, spec: Spec | None = None) -> JointPlan:
    """Movement joints of every leaf: the fewest that keep every rule, by the order of preference in `problem`.

    Spacing, corner and panel rules are the rule set's (`movement_joint.*`). Joints given in the spec are kept and nothing
    is added to their walls, unless it says so. Joints that stand whatever the spacing (`musts`, `meetings`) come first. A
    run in a material without a spacing gets no others and is not proven. Lengths in mm. `spec`: what the building was made
    from; without it no remedies are looked for where a rule cannot be kept.
    Raises RuleNotCovered where the set has no lintel bearings.
    """
    demands = lintel_demands(building, reader)
    beside = around(building, demands)
    placed: list[_Placing] = []
    bare: list[str] = []
    for run in runs:
        surveyed = survey(run, building, demands, reader)
        if surveyed is None:
            bare.append(run.id)
        else:
            solution = solve(surveyed.problem, surveyed.off_bond)
            solution = proven(surveyed.problem, solution, surveyed.off_bond)
            made = cut(surveyed, solution)
            placed.append(_Placing(surveyed, solution, made, tuple(_joints(made, building, beside, reader))))
    at_ends = tuple(_at_meetings(building, placed, reader))
    order = {leaf_id: n for n, leaf_id in enumerate(leaf_id for wall in building.walls for leaf_id in wall.leaves)}
    every = sorted((*(j for p in placed for j in p.joints), *at_ends), key=lambda j: (order[j.leaf], j.at))
    joints = tuple(replace(j, id=f"MJ{n}") for n, j in enumerate(every, start=1))
    ids = {(j.leaf, j.at): j.id for j in joints}
    run_of = tuple(_runs_of_ends(runs, at_ends))
    ends_of = {run.id: [ids[j.leaf, j.at] for j, of in zip(at_ends, run_of, strict=True) if of == run.id] for run in runs}
    mending = None if spec is None else (beside, Trials(spec, building, reader.book))
    proofs = {p.surveyed.run.id: _proof(reader.figures, p, ids, ends_of[p.surveyed.run.id], mending) for p in placed}
    proofs |= {run: RunPlacement(run, False, tuple(ends_of[run]), len(ends_of[run]), ()) for run in bare}
    return JointPlan(joints, tuple(proofs[run.id] for run in runs), _panels(building, joints))


def _joints(made: Cut, building: Building, beside_leaves: Around, reader: RuleReader) -> Iterator[MovementJoint]:
    """The joints of a run, each with its width and its reason."""
    surveyed = made.surveyed
    both, on_face = sides(surveyed, made.pieces), edges_by_face(made)
    for placed in made.joints:
        edge, at = made.edges[placed[0]], placed[1]
        leaf, beside = building.leaf(surveyed.leaves[edge.id]), made.longest_beside(placed)
        width, width_rules = joint_width(surveyed.limits[leaf.id], both[placed], reader)
        given, must = surveyed.given.get(placed), surveyed.musts.get(placed)
        basis: tuple[str, ...] = ()
        if given is not None:
            at = given.at
            width = replace(width, built=given.width) if given.width is not None else width
            said = ["given in the spec"]
        elif must is not None:
            at = must.centre(width.built)
            said, basis = [must.reason, *where(reader.figures, surveyed, edge, at, leaf, building, width)], must.basis
        else:
            reason, basis = why(reader.figures, made, placed, building)
            said = [reason, *where(reader.figures, surveyed, edge, at, leaf, building, width)]
        if given is None and not beside.short_enough:
            said.append(f"no legal place in the {length(reader.figures, beside.longest)} beside it")
        joint = _joint(leaf, at, width, "; ".join(said), (*basis, *width_rules), given=given is not None)
        stands = given is not None or must is not None
        yield joint if stands else replace(joint, rejected=rejected(reader.figures, made, placed, on_face, beside_leaves))


def _at_meetings(building: Building, placed: Sequence[_Placing], reader: RuleReader) -> Iterator[MovementJoint]:
    """The joints in the ends of leaves that stop at a meeting that is one."""
    beside = {end: found for made in placed for end, found in made.cut.at_ends().items()}
    for end in parted(building):
        leaf, other = end.leaf, building.leaf(end.meeting.host)
        own = beside.get((leaf.id, end.at), Beside(leaf.span.length, (leaf,)))
        beyond = beside.get((other.id, end.meeting.host_at)) if end.in_line else None
        sides_of = own, beyond or Beside(0.0, (leaf,))
        ends = [leaf, other] if end.in_line else [leaf]
        widths = [joint_width(leaf_limits(one, building.wall(one.wall), reader), sides_of, reader) for one in ends]
        width, width_rules = max(widths, key=lambda found: found[0].built)
        reasons = [f"junction with {other.wall}, jointed", *(parting.words for parting in end.meeting.parted)]
        basis = tuple(parting.rule for parting in end.meeting.parted)
        yield _joint(leaf, end.centre(width.built), width, "; ".join(reasons), (*basis, *width_rules), given=False)


def _joint(leaf: Leaf, at: float, width: JointWidth, reason: str, basis: tuple[str, ...], *, given: bool) -> MovementJoint:
    """A joint from the base to the top of its leaf, without an id."""
    levels = _levels(leaf, Span(at - width.built / 2, at + width.built / 2))
    return MovementJoint("", leaf.wall, leaf.id, at, levels, width, given, reason, tuple(dict.fromkeys(basis)))


def _levels(leaf: Leaf, gap: Span) -> Span:
    inside = Span(max(gap.start, leaf.span.start), min(gap.end, leaf.span.end))
    return Span(leaf.base.lowest(inside), leaf.top.highest(inside))


def _runs_of_ends(runs: Sequence[Run], joints: Sequence[MovementJoint]) -> Iterator[str]:
    """The run that each joint at a leaf's end ends."""
    for joint in joints:
        on_leaf = [
            (abs(joint.at - end), run.id)
            for run in runs
            for e in run.edges
            if e.leaf == joint.leaf
            for end in (e.span.start, e.span.end)
        ]
        yield min(on_leaf)[1]


def _proof(
    figures: Figures,
    placing: _Placing,
    ids: Mapping[tuple[str, float], str],
    at_ends: Sequence[str],
    mending: tuple[Around, Trials] | None,
) -> RunPlacement:
    """The proof of a run; the joints at its ends, which must stand, are counted with the others and in the bound."""
    surveyed, solution = placing.surveyed, placing.solution
    problem = surveyed.problem
    lacking = (not_there(wanted, problem.edges) for wanted in unmet(problem, solution.joints))
    not_kept: list[Broken | Unmet] = [*broken(problem, solution.joints), *surveyed.unmet, *lacking]
    relaxed = tuple(
        _relaxed(figures, rule, surveyed, remedies(figures, rule, surveyed, *mending) if mending else None) for rule in not_kept
    )
    names = [*(ids[j.leaf, j.at] for j in placing.joints), *at_ends]
    names.sort(key=lambda name: int(name[2:]))
    return RunPlacement(surveyed.run.id, solution.optimal, tuple(names), solution.lower_bound + len(at_ends), relaxed)


def _relaxed(figures: Figures, rule: Broken | Unmet, surveyed: Surveyed, mended: tuple[Remedy, ...] | None) -> Relaxed:
    if isinstance(rule, Unmet):
        where = f"{rule.leaf} {figures.length(rule.where.start)} to {figures.length(rule.where.end)}"
        return Relaxed(rule.rule, where, rule.measured, rule.limit, mended)
    leaves = [(leaf_of(name), span) for name, span in rule.stretches]
    where = ", ".join(f"{leaf} {figures.length(s.start)} to {figures.length(s.end)}" for leaf, s in leaves if s.length > 0)
    limits = surveyed.limits[leaf_of(rule.face)]
    keys = {
        "spacing": surveyed.spacing_of(rule.face).basis[-1],
        "panel": limits.panel.key if limits.panel else PANEL,
        "corner": limits.reach.basis[0] if limits.reach else CORNER_FRACTION,
    }
    return Relaxed(keys[rule.rule], where, rule.measured, rule.limit, mended)


def _panels(building: Building, joints: Sequence[MovementJoint]) -> tuple[Panel, ...]:
    """Straight stretches of each leaf's face between joints and ends; the height is the mean one, as the ratio rule has it."""
    found: list[Panel] = []
    on_leaf: dict[str, list[MovementJoint]] = {}
    for joint in joints:
        on_leaf.setdefault(joint.leaf, []).append(joint)
    for wall in building.walls:
        for leaf_id in wall.leaves:
            leaf, here = building.leaf(leaf_id), on_leaf.get(leaf_id, [])
            breaks = leaf.breaks
            broken_at = [at for gap in breaks for at in (gap.start, gap.end)]
            bounds = sorted({leaf.span.start, *(j.at for j in here), *broken_at, leaf.span.end})
            spans = [Span(u, v) for u, v in pairwise(bounds) if not _in_a_gap(u, v, here) and Span(u, v) not in breaks]
            for n, span in enumerate(spans, start=1):
                found.append(Panel(f"{leaf_id}/{n}", wall.id, leaf_id, span, _mean_height(leaf, span)))
    return tuple(found)


def _in_a_gap(start: float, end: float, joints: Sequence[MovementJoint]) -> bool:
    """Whether what lies between a joint and the end of its leaf is only the rest of its gap."""
    outer = joints[:1], joints[-1:]
    return any(j.gap.contains(start) and j.gap.contains(end) for group in outer for j in group)


def _mean_height(leaf: Leaf, over: Span) -> float:
    points = height_profile(leaf, over).points
    area = sum((q[0] - p[0]) * (p[1] + q[1]) / 2 for p, q in pairwise(points))
    return area / over.length
