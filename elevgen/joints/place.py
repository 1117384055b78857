"""Place: the movement joints of a building, with their widths, their reasons and the proof that fewer will not do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from elevgen.building.demand import lintel_demands
from elevgen.building.model import Building, Leaf, Run
from elevgen.core.geometry import Span, at_most
from elevgen.core.measures import millimetres
from elevgen.joints.audit import Broken, broken, remnants, straights
from elevgen.joints.limits import CORNER_FRACTION, PANEL, materials
from elevgen.joints.model import JointPlan, JointWidth, MovementJoint, Panel, Relaxed, RunPlacement
from elevgen.joints.problem import Placed, Solution
from elevgen.joints.sides import Sides, sides
from elevgen.joints.solve import solve
from elevgen.joints.survey import Surveyed, height_profile, survey
from elevgen.joints.width import joint_width
from elevgen.joints.words import hiding_words, length, opening_words, run_words
from elevgen.rules.book import RuleReader


class _Placing(NamedTuple):
    """A run with its joints found: each as a movement joint that has no id yet."""

    surveyed: Surveyed
    solution: Solution
    joints: tuple[MovementJoint, ...]


def place(building: Building, runs: Sequence[Run], reader: RuleReader) -> JointPlan:
    """Movement joints of every leaf: the fewest that keep every rule, by the order of preference in `problem`.

    Spacing, corner and panel rules are the rule set's (`movement_joint.*`). Joints given in the spec are kept and nothing
    is added to their walls. A run in a material without a spacing gets no joints and is not proven. Lengths in mm.
    Raises RuleNotCovered where the set has no lintel bearings.
    """
    demands = lintel_demands(building, reader)
    placed: list[_Placing] = []
    uncovered: list[RunPlacement] = []
    for run in runs:
        surveyed = survey(run, building, demands, reader)
        if surveyed is None:
            uncovered.append(RunPlacement(run.id, False, (), 0, ()))
        else:
            solution = solve(surveyed.problem, surveyed.off_bond)
            placed.append(_Placing(surveyed, solution, _joints(surveyed, solution, building, reader)))
    order = {leaf_id: n for n, leaf_id in enumerate(leaf_id for wall in building.walls for leaf_id in wall.leaves)}
    every = sorted((j for p in placed for j in p.joints), key=lambda j: (order[j.leaf], j.at))
    ids = {(j.leaf, j.at): f"MJ{n}" for n, j in enumerate(every, start=1)}
    joints = tuple(replace(j, id=ids[j.leaf, j.at]) for j in every)
    proofs = {p.surveyed.run.id: _proof(p, ids) for p in placed} | {u.run: u for u in uncovered}
    return JointPlan(joints, tuple(proofs[run.id] for run in runs), _panels(building, runs, joints))


def _joints(surveyed: Surveyed, solution: Solution, building: Building, reader: RuleReader) -> tuple[MovementJoint, ...]:
    beside = sides(surveyed, solution.joints)
    return tuple(_joint(surveyed, solution, at, beside[at], building, reader) for at in solution.joints)


def _joint(
    surveyed: Surveyed, solution: Solution, placed: Placed, both: Sides, building: Building, reader: RuleReader
) -> MovementJoint:
    edge_id, at = placed
    leaf = building.leaf(surveyed.leaves[edge_id])
    width, width_rules = joint_width(surveyed.limits[leaf.id], both, reader)
    beside = max(side.length for side in both)
    given = surveyed.given.get(placed)
    if given is not None:
        at = given.at
        width = replace(width, built=given.width) if given.width is not None else width
    why, basis = _why(surveyed, solution, placed, building) if given is None else ("given in the spec", ())
    said = [why] if given else [why, *_where(surveyed, placed, leaf, building, width)]
    if not at_most(beside, surveyed.problem.spacing) and not given:
        said.append(f"no legal place in the {length(beside)} beside it")
    return MovementJoint(
        id="",
        wall=leaf.wall,
        leaf=leaf.id,
        at=at,
        levels=_levels(leaf, Span(at - width.built / 2, at + width.built / 2)),
        width=width,
        given=given is not None,
        reason="; ".join(said),
        basis=(*basis, *width_rules),
    )


def _why(surveyed: Surveyed, solution: Solution, placed: Placed, building: Building) -> tuple[str, tuple[str, ...]]:
    """What would be wrong without this joint, and the rules that say so."""
    problem, run = surveyed.problem, surveyed.run
    without = [j for j in solution.joints if j != placed]
    rule = surveyed.rule
    assert rule.spacing is not None
    left = next(r for r in remnants(problem, without) if any(e == placed[0] and s.contains(placed[1]) for e, s in r.stretches))
    if not at_most(left.longest, problem.spacing):
        text = f"{run_words(run, building)} exceeds {length(problem.spacing)}"
        if len({m for limits in surveyed.limits.values() for m in materials(limits.leaf)}) > 1:
            text += f" ({rule.material.replace('_', ' ')} governs)"
        if len(without) > 0:
            text += f", {length(left.longest)} in one piece without this joint"
        return text, (rule.spacing.key,)
    face = next(e.face for e in problem.edges if e.id == placed[0])
    whole = next(s for s in straights(problem, without) if s.face.id == face and s.span.contains(placed[1]))
    limit, panel = whole.face.panel_limit(whole.span), surveyed.limits[surveyed.leaves[placed[0]]].panel
    if limit is not None and panel is not None and not at_most(whole.span.length, limit):
        times = f"{panel.number:g} times its height"
        return f"panel of {length(whole.span.length)} would exceed {length(limit)}, {times}", (panel.key,)
    reach = whole.face.corner_reach
    text = f"first joint within {length(reach)} of the corner" if reach is not None else "shortens the pieces beside it"
    return text, (CORNER_FRACTION, rule.spacing.key)


def _where(surveyed: Surveyed, placed: Placed, leaf: Leaf, building: Building, width: JointWidth) -> list[str]:
    """What is worth saying about the place itself."""
    edge_id, at = placed
    edge = next(e for e in surveyed.problem.edges if e.id == edge_id)
    candidate = next((c for c in edge.candidates if c.at == at), None) or surveyed.off_bond(edge_id, at)
    gap = Span(at - width.built / 2, at + width.built / 2)
    said = [hiding_words(surveyed.sites[leaf.id].hides, at), opening_words(building.wall(leaf.wall), gap)]
    if candidate.crowding:
        said.append("nearer to an opening or a corner than liked, no better place with as few joints")
    if not candidate.on_grid:
        said.append("off the bond, units are cut")
    return [words for words in said if words]


def _levels(leaf: Leaf, gap: Span) -> Span:
    inside = Span(max(gap.start, leaf.span.start), min(gap.end, leaf.span.end))
    return Span(leaf.base.lowest(inside), leaf.top.highest(inside))


def _proof(placing: _Placing, ids: Mapping[tuple[str, float], str]) -> RunPlacement:
    surveyed, solution = placing.surveyed, placing.solution
    relaxed = tuple(_relaxed(b, surveyed) for b in broken(surveyed.problem, solution.joints))
    names = tuple(sorted((ids[j.leaf, j.at] for j in placing.joints), key=lambda name: int(name[2:])))
    return RunPlacement(surveyed.run.id, solution.optimal, names, solution.lower_bound, relaxed)


def _relaxed(rule: Broken, surveyed: Surveyed) -> Relaxed:
    spacing = surveyed.rule.spacing
    assert spacing is not None
    leaves = [(surveyed.leaves.get(name, name.rsplit("/", 1)[0]), span) for name, span in rule.stretches]
    where = ", ".join(f"{leaf} {millimetres(s.start)} to {millimetres(s.end)}" for leaf, s in leaves if s.length > 0)
    panel = surveyed.limits[leaves[0][0]].panel
    keys = {"spacing": spacing.key, "panel": panel.key if panel else PANEL, "corner": CORNER_FRACTION}
    return Relaxed(keys[rule.rule], where, rule.measured, rule.limit)


def _panels(building: Building, runs: Sequence[Run], joints: Sequence[MovementJoint]) -> tuple[Panel, ...]:
    """Straight stretches of each leaf's face between joints and ends; the height is the mean one, as the ratio rule has it."""
    found: list[Panel] = []
    for wall in building.walls:
        for leaf_id in wall.leaves:
            leaf = building.leaf(leaf_id)
            cuts = [j.at for j in joints if j.leaf == leaf_id]
            bounds = [leaf.span.start, *cuts, leaf.span.end]
            for n, (u, v) in enumerate(pairwise(bounds), start=1):
                span = Span(u, v)
                found.append(Panel(f"{leaf_id}/{n}", wall.id, leaf_id, span, _mean_height(leaf, span)))
    return tuple(found)


def _mean_height(leaf: Leaf, over: Span) -> float:
    points = height_profile(leaf, over).points
    area = sum((q[0] - p[0]) * (p[1] + q[1]) / 2 for p, q in pairwise(points))
    return area / over.length
