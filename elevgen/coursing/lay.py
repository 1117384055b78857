"""Lay a building: every leaf into courses, every course into patterns, patterns stored once and laid many times."""

from __future__ import annotations

from elevgen.building.model import Building
from elevgen.coursing.allowances import read_allowances
from elevgen.coursing.beds import beds_of
from elevgen.coursing.cutting import cutting_of
from elevgen.coursing.gauge import bands_of, targets_of
from elevgen.coursing.leafwork import Yard, lay_leaf
from elevgen.coursing.lifting import masses_of
from elevgen.coursing.lintel_beds import bedded
from elevgen.coursing.misfits import misfits_of
from elevgen.coursing.model import Coursing
from elevgen.coursing.seats import seats_of
from elevgen.coursing.turns import turns_of
from elevgen.joints.model import JointPlan
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure


def lay(building: Building, plan: JointPlan, reader: RuleReader) -> Coursing:
    """Every leaf of the building laid in its bond, in the order of the building's leaves.

    A value the rule set lacks asks nothing: beds and perpends stay nominal, no lap or piece is too short.
    Raises ModuleNotFoundError for a bond there is no file for.
    """
    allowances = read_allowances(reader)
    openings = {wall.id: wall.openings for wall in building.walls}
    yard = Yard()
    leaves = []
    targets = {leaf.id: targets_of(leaf, openings.get(leaf.wall, ())) for leaf in building.leaves}
    beds = beds_of(building, targets, allowances)
    bands = {leaf.id: bands_of(leaf, tuple(zone.bed for zone in beds[leaf.id]), allowances) for leaf in building.leaves}
    turns = turns_of(building, plan, bands)
    seats = tuple(bedded(seat, bands[seat.leaf], allowances.bed_tolerance) for seat in seats_of(building, plan, reader))
    for leaf in building.leaves:
        own = [seat for seat in seats if seat.leaf == leaf.id]
        misfits = misfits_of(leaf, targets[leaf.id], bands[leaf.id], beds[leaf.id], own, allowances.split_min)
        joints = plan.on_leaf(leaf.id)
        leaves.append(lay_leaf(leaf, joints, bands[leaf.id], misfits, turns[leaf.id], own, allowances, yard))
    patterns = tuple(yard.patterns.values())
    saw, lift = figure(reader, "cutting.saw"), figure(reader, "lift.height")
    cutting = cutting_of(building, patterns, leaves, saw, lift, reader.figures)
    return Coursing(patterns, tuple(leaves), cutting, masses_of(building, reader), seats)
