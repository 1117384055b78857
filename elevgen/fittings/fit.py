"""Everything that goes into the walls besides units and mortar."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from elevgen.building.model import Building, Leaf, Run, Wall
from elevgen.core.geometry import Rect
from elevgen.coursing.model import Coursing
from elevgen.fittings.abutment_trays import abutment_trays
from elevgen.fittings.beds import Bed, beds
from elevgen.fittings.damp_proof import damp_courses
from elevgen.fittings.joint_parts import joint_parts
from elevgen.fittings.lintel_loads import lintel_loads
from elevgen.fittings.lintels import lintels
from elevgen.fittings.mesh import corner_mesh
from elevgen.fittings.model import Fittings, Lintel, Tie, TieKind, Tray, WallTies
from elevgen.fittings.partition_ties import partition_basis, partition_ties, takes_ties
from elevgen.fittings.reinforcement import bed_reinforcement
from elevgen.fittings.slip_ties import slip_basis, slip_ties, stopped_against
from elevgen.fittings.tie_bays import Cavity, changes_on
from elevgen.fittings.ties import cavity_ties
from elevgen.fittings.tolerances import site_tolerances
from elevgen.fittings.tray_walls import TrayWall
from elevgen.fittings.trays import given_trays, opening_trays
from elevgen.joints.model import JointPlan
from elevgen.rules.book import RuleReader

Beds = Mapping[str, tuple[Bed, ...]]
Slips = Mapping[tuple[str, str], tuple[Tie, ...] | None]
"""The slip ties of each movement joint that is to have them, by leaf and joint."""
Bodies = Mapping[str, tuple[Rect, ...]]
"""What the lintels in the place of units take of each leaf: no tie lies there."""


def fit(building: Building, runs: tuple[Run, ...], plan: JointPlan, coursing: Coursing, reader: RuleReader) -> Fittings:
    """Lintels, bed-joint reinforcement, ties, damp-proofing and joint parts of the whole building, in spec order.

    What the rule set does not cover is left out, for a check to report. Lengths in mm.
    """
    walls = {wall.id: wall for wall in building.walls}
    leaves = {leaf.id: leaf for leaf in building.leaves}
    leaf_beds = {laid.leaf: beds(laid.courses) for laid in coursing.leaves}
    over_openings = lintels(coursing.lintels, building, reader)
    bodies = _bodies(building, coursing)
    slips = _slips(building, plan, leaf_beds, bodies, reader)
    damp = {
        leaf.id: damp_courses(walls[leaf.wall], leaf, leaf_beds[leaf.id], plan.on_leaf(leaf.id), reader)
        for leaf in building.leaves
    }
    steel, stock = bed_reinforcement(building, coursing, leaf_beds, plan, reader)
    return Fittings(
        lintels=over_openings,
        bed_reinforcement=steel,
        ties=tuple(_ties(building, plan, leaf_beds, bodies, slips, reader)),
        damp_courses=tuple(course for laid in damp.values() for course in laid),
        trays=tuple(_trays(building, over_openings, plan, coursing, leaf_beds, reader)),
        joint_parts=tuple(
            parts
            for joint in plan.joints
            if (parts := joint_parts(joint, walls[joint.wall], leaves[joint.leaf], slips.get((joint.leaf, joint.id)), reader))
            is not None
        ),
        lintel_loads=lintel_loads(building, over_openings, plan, reader),
        mesh=tuple(
            strip
            for leaf in building.leaves
            for strip in corner_mesh(walls[leaf.wall], leaf, plan.on_leaf(leaf.id), damp[leaf.id], reader)
        ),
        stock=stock,
        tolerances=tuple(site_tolerances(building, reader)),
    )


def _trays(
    building: Building,
    over: Sequence[Lintel],
    plan: JointPlan,
    coursing: Coursing,
    leaf_beds: Beds,
    reader: RuleReader,
) -> Iterator[Tray]:
    """Every wall's trays: over the openings and abutments of its cavity, and those the spec lists for it, whatever it is."""
    patterns = {pattern.id: pattern for pattern in coursing.patterns}
    for wall in building.walls:
        outer, inner = building.leaf(wall.leaves[0]), building.leaf(wall.leaves[1]) if len(wall.leaves) == 2 else None
        beds_of_inner = leaf_beds[inner.id] if inner else ()
        where = TrayWall(
            *(wall, outer, inner, leaf_beds[outer.id], beds_of_inner, coursing.of(outer.id), patterns, plan.on_leaf(outer.id))
        )
        on_outer = tuple(lintel for lintel in over if lintel.leaf == outer.id)
        yield from given_trays(where, on_outer, reader)
        if inner is not None and wall.trays.placing:
            yield from opening_trays(where, on_outer, reader)
            yield from abutment_trays(where, reader)


def _bodies(building: Building, coursing: Coursing) -> Bodies:
    return {
        leaf.id: tuple(body for seat in coursing.lintels if seat.leaf == leaf.id and (body := seat.body))
        for leaf in building.leaves
    }


def _ties(
    building: Building, plan: JointPlan, leaf_beds: Beds, bodies: Bodies, slips: Slips, reader: RuleReader
) -> list[WallTies]:
    """The ties of every wall that has any: across its cavity, at its ends where it is tied to another, across its joints."""
    made: list[WallTies] = []
    for wall in building.walls:
        across = _across(building, wall, plan, leaf_beds, bodies, reader)
        ends = _at_ends(building, wall, leaf_beds, bodies, reader)
        slip = [tie for leaf in wall.leaves for joint in plan.on_leaf(leaf) for tie in slips.get((joint.leaf, joint.id)) or ()]
        if across is None and not ends and not slip:
            continue
        more: tuple[tuple[TieKind, tuple[str, ...]], ...] = (
            *((("partition", partition_basis(reader)),) if ends else ()),
            *((("slip", slip_basis(reader)),) if slip else ()),
        )
        laid = across or WallTies(wall.id, (), None, True, ())
        made.append(
            replace(
                laid,
                ties=tuple(sorted((*laid.ties, *ends, *slip), key=lambda t: (t.level, t.at, t.kind, t.leaf or ""))),
                basis=tuple(dict.fromkeys((*laid.basis, *(key for _, keys in more for key in keys)))),
                reasons=(*laid.reasons, *more),
            )
        )
    return made


def _across(
    building: Building, wall: Wall, plan: JointPlan, leaf_beds: Beds, bodies: Bodies, reader: RuleReader
) -> WallTies | None:
    if len(wall.leaves) != 2:
        return None
    outer, inner = (building.leaf(name) for name in wall.leaves)
    joints = (*plan.on_leaf(outer.id), *plan.on_leaf(inner.id))
    changes = (
        any(changes_on(building, leaf, leaf.start_end) for leaf in (outer, inner)),
        any(changes_on(building, leaf, leaf.finish_end) for leaf in (outer, inner)),
    )
    taken = (*bodies[outer.id], *bodies[inner.id])
    cavity = Cavity(outer, inner, leaf_beds[outer.id], leaf_beds[inner.id], joints, changes, bodies=taken)
    return cavity_ties(wall, cavity, reader)


def _slips(building: Building, plan: JointPlan, leaf_beds: Beds, bodies: Bodies, reader: RuleReader) -> Slips:
    """The slip ties of each joint of a wall that is to have them; None where the rule set has no spacing for them."""
    asked = {wall.id for wall in building.walls if wall.slip_ties}
    found: dict[tuple[str, str], tuple[Tie, ...] | None] = {}
    for joint in plan.joints:
        if joint.wall in asked:
            leaf = building.leaf(joint.leaf)
            beyond = stopped_against(building, joint, leaf, leaf_beds.__getitem__)
            found[joint.leaf, joint.id] = slip_ties(joint, leaf, leaf_beds[leaf.id], reader, beyond, bodies)
    return found


def _at_ends(building: Building, wall: Wall, leaf_beds: Beds, bodies: Bodies, reader: RuleReader) -> list[Tie]:
    def leaf(name: str) -> Leaf:
        return building.leaf(name)

    return [
        tie
        for meeting in building.meetings
        if leaf(meeting.stem).wall == wall.id and takes_ties(building, meeting)
        for tie in partition_ties(
            meeting, leaf(meeting.stem), leaf(meeting.host), leaf_beds[meeting.stem], leaf_beds[meeting.host], reader, bodies
        )
    ]
