"""Everything that goes into the walls besides units and mortar."""

from __future__ import annotations

from collections.abc import Mapping

from elevgen.building.demand import LintelDemand, lintel_demands
from elevgen.building.model import Building, Leaf, Run, Wall
from elevgen.coursing.model import Coursing
from elevgen.fittings.beds import Bed, beds
from elevgen.fittings.damp_proof import damp_courses, trays
from elevgen.fittings.joint_parts import joint_parts
from elevgen.fittings.lintels import lintels
from elevgen.fittings.model import Fittings, Lintel, Tie, Tray, WallTies
from elevgen.fittings.partition_ties import partition_basis, partition_ties, takes_ties
from elevgen.fittings.reinforcement import bed_reinforcement
from elevgen.fittings.tie_bays import Cavity
from elevgen.fittings.ties import cavity_ties
from elevgen.joints.model import JointPlan
from elevgen.rules.book import RuleReader

Beds = Mapping[str, tuple[Bed, ...]]


def fit(building: Building, runs: tuple[Run, ...], plan: JointPlan, coursing: Coursing, reader: RuleReader) -> Fittings:
    """Lintels, bed-joint reinforcement, ties, damp-proofing and joint parts of the whole building, in spec order.

    What the rule set does not cover is left out, for a check to report. Lengths in mm.
    """
    walls = {wall.id: wall for wall in building.walls}
    leaves = {leaf.id: leaf for leaf in building.leaves}
    leaf_beds = {laid.leaf: beds(laid.courses) for laid in coursing.leaves}
    over_openings = _lintels(building, plan, reader)
    steel, stock = bed_reinforcement(building, coursing, leaf_beds, plan, reader)
    return Fittings(
        lintels=tuple(lintel for made in over_openings.values() for lintel in made),
        bed_reinforcement=steel,
        ties=tuple(_ties(building, plan, leaf_beds, reader)),
        damp_courses=tuple(dpc for leaf in building.leaves for dpc in damp_courses(leaf, reader)),
        trays=tuple(_trays(building, over_openings, plan, reader)),
        joint_parts=tuple(
            parts
            for joint in plan.joints
            if (parts := joint_parts(joint, walls[joint.wall], leaves[joint.leaf], leaf_beds[joint.leaf], reader)) is not None
        ),
        stock=stock,
    )


def _lintels(building: Building, plan: JointPlan, reader: RuleReader) -> dict[str, tuple[Lintel, ...]]:
    demands: dict[str, list[LintelDemand]] = {leaf.id: [] for leaf in building.leaves}
    for demand in lintel_demands(building, reader):
        demands[demand.leaf].append(demand)
    return {
        leaf.id: lintels(wall, leaf, demands[leaf.id], plan.on_leaf(leaf.id), reader)
        for wall in building.walls
        for leaf in building.leaves_of(wall.id)
    }


def _trays(building: Building, over: Mapping[str, tuple[Lintel, ...]], plan: JointPlan, reader: RuleReader) -> list[Tray]:
    return [
        tray
        for wall in building.walls
        if len(wall.leaves) == 2
        for tray in trays(building.leaf(wall.leaves[0]), over[wall.leaves[0]], plan.on_leaf(wall.leaves[0]), reader)
    ]


def _ties(building: Building, plan: JointPlan, leaf_beds: Beds, reader: RuleReader) -> list[WallTies]:
    """The ties of every wall that has any: across its cavity, and at its ends where it is tied to another."""
    made: list[WallTies] = []
    for wall in building.walls:
        across = _across(building, wall, plan, leaf_beds, reader)
        ends = _at_ends(building, wall, leaf_beds, reader)
        if across is None and not ends:
            continue
        made.append(
            WallTies(
                wall=wall.id,
                ties=tuple(sorted((*(across.ties if across else ()), *ends), key=lambda t: (t.level, t.at, t.kind))),
                length=across.length if across else None,
                beds_meet=across.beds_meet if across else True,
                basis=(*(across.basis if across else ()), *(partition_basis(reader) if ends else ())),
            )
        )
    return made


def _across(building: Building, wall: Wall, plan: JointPlan, leaf_beds: Beds, reader: RuleReader) -> WallTies | None:
    if len(wall.leaves) != 2:
        return None
    outer, inner = (building.leaf(name) for name in wall.leaves)
    cavity = Cavity(outer, inner, leaf_beds[outer.id], leaf_beds[inner.id], (*plan.on_leaf(outer.id), *plan.on_leaf(inner.id)))
    return cavity_ties(wall, cavity, reader)


def _at_ends(building: Building, wall: Wall, leaf_beds: Beds, reader: RuleReader) -> list[Tie]:
    def leaf(name: str) -> Leaf:
        return building.leaf(name)

    return [
        tie
        for meeting in building.meetings
        if leaf(meeting.stem).wall == wall.id and takes_ties(building, meeting)
        for tie in partition_ties(
            meeting, leaf(meeting.stem), leaf(meeting.host), leaf_beds[meeting.stem], leaf_beds[meeting.host], reader
        )
    ]
