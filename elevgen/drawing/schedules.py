"""What a setting-out sheet lists, table by table: the order they stand in. Each trade's tables are in a file of their own."""

from __future__ import annotations

from elevgen.drawing.dry_courses import dry_table
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.gauge import course_table
from elevgen.drawing.hold_points import hold_points
from elevgen.drawing.scene import View
from elevgen.drawing.schedule_cuts import cut_table
from elevgen.drawing.schedule_damp import tray_table
from elevgen.drawing.schedule_findings import finding_table
from elevgen.drawing.schedule_joints import joint_table, reason_table, width_table
from elevgen.drawing.schedule_lintels import lintel_table
from elevgen.drawing.schedule_memory import given_table, memory_table
from elevgen.drawing.schedule_openings import opening_table, zone_table
from elevgen.drawing.schedule_reinforcement import reinforcement_table
from elevgen.drawing.schedule_ties import tie_table
from elevgen.drawing.schedule_units import gauge_table, unit_table
from elevgen.drawing.tables import Table


def schedules(facts: LeafFacts, view: View | None = None) -> tuple[Table, ...]:
    """Every table of one leaf, the most needed first. Courses all written on the `view`'s gauge rods are not listed again."""
    return (
        joint_table(facts),
        finding_table(facts, "fail", "To settle before starting"),
        opening_table(facts),
        hold_points(facts),
        dry_table(facts),
        zone_table(facts),
        gauge_table(facts),
        course_table(facts, view),
        reinforcement_table(facts),
        lintel_table(facts),
        tray_table(facts),
        finding_table(facts, "warn", "To look at"),
        cut_table(facts),
        tie_table(facts),
        unit_table(facts),
        reason_table(facts),
        width_table(facts),
        given_table(facts),
        memory_table(facts),
    )
