"""What to check on site and tick: before the first course, while the wall goes up, after."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.listing import counted, in_rows
from elevgen.drawing.schedule_ties import ties_on
from elevgen.drawing.tables import TICK, Column, Row, Table
from elevgen.fittings.filler_words import filler_words
from elevgen.fittings.model import JointParts

SIGNED = ". . . . . . . . . . . ."
"""Room to write who has checked."""


def hold_points(facts: LeafFacts) -> Table:
    """What to check and tick: before, during, after."""
    points = [(when, p) for when, say in (("Before", _before), ("During", _during), ("After", _after)) for p in say(facts)]
    rows = tuple(Row((TICK, when, what), facts.leaf.id) for when, what in points)
    return Table("Hold points", (Column("", 5), Column("", 12), Column("", 78)), rows)


def _before(facts: LeafFacts) -> Iterator[str]:
    length = facts.figures.length
    yield f"Setting-out end marked, face from {length(facts.face.left)}; {length(facts.face.width)} overall taped"
    if any(end.kind == "corner" for end in (facts.leaf.start_end, facts.leaf.finish_end)):
        yield "Corners checked for square, lengths round them taped"
    if facts.coursing.courses:
        yield f"Gauge rods marked, {counted(len(facts.coursing.courses), 'course')} to {facts.figures.level(facts.face.top)}"
        yield "First two courses dry as listed; reveals, joints marked"
        yield f"First course passed for line, level and bond by {SIGNED}"
    yield from _damp_courses(facts)


def _damp_courses(facts: LeafFacts) -> list[str]:
    """Each level with a damp-proof course and its laps; at a coping what it must not be of."""
    at: dict[tuple[str, str], int] = {}
    for course in facts.damp_courses:
        where = "under the coping at" if course.place == "coping" else "at"
        barred = f", not of {' or '.join(course.barred)}".replace("_", " ") if course.barred else ""
        key = f"{where} {facts.figures.level(course.level)}", barred
        at[key] = at.get(key, 0) + course.laps
    joints = sum(len(course.folded) for course in facts.damp_courses)
    points = [
        f"Damp-proof course {where}" + (f", {counted(n, 'lap')}" if n else "") + barred for (where, barred), n in at.items()
    ]
    if joints:
        points.append("Damp-proof course runs on through movement joints, lapped or folded there, not cut off")
    return points


def _during(facts: LeafFacts) -> Iterator[str]:
    here = ties_on(facts)
    field = sum(tie.kind == "field" for tie in here)
    edge = sum(tie.kind in ("reveal", "joint", "end", "verge") for tie in here)
    met = sum(tie.kind == "partition" for tie in here)
    both_sides = ", ties both sides" if field + edge else ""
    for joint in facts.joints:
        how = f"formed full height, no mortar bridging{both_sides}{_slip_ties(facts, joint.id)}"
        yield f"{facts.short(joint.id)} {how}"
    filled = dict.fromkeys(filler_words(facts.figures, parts) for parts in facts.joint_parts.values())
    yield from (f"Joints filled with {words}" for words in filled if words)
    if facts.reinforced:
        bent = any(bed.returns for beds in facts.reinforced for bed in beds.lengths)
        stopped = ", stopped at movement joints" if facts.joints else ""
        yield f"Bed reinforcement as listed, lapped{stopped}{', bent round corners' if bent else ''}"
    if facts.lintels:
        lintels = counted(len(facts.lintels), "lintel")
        yield f"{lintels} level on a full bed, bearings as listed, on whole units; propped as the maker asks"
    if facts.trays:
        yield f"{counted(len(facts.trays), 'cavity tray')}: laps sealed, stop ends fixed, weeps left open and clean"
    if field + edge:
        yield f"Ties as marked: {field} field, {edge} edge; clean, none falling inwards"
    if met:
        yield f"{counted(met, 'tie')} to walls met, as marked"
    if len(facts.wall.leaves) > 1:
        yield f"Cavity kept clear of mortar, cleaned {'at every row of ties' if here else 'as the leaves go up'}"
    yield "Work covered every evening against rain and frost"


def _after(facts: LeafFacts) -> list[str]:
    sealed: dict[str, list[str]] = {}
    for joint in facts.joints:
        parts = facts.joint_parts.get(joint.id)
        how = (
            f" {facts.figures.length(parts.sealant_width)} wide, {facts.figures.length(parts.sealant_depth)} deep"
            if parts
            else ""
        )
        sealed.setdefault(f"{_backed(facts, parts)} and sealed{how}", []).append(facts.short(joint.id))
    points = [f"{in_rows(tuple(ids))} cleaned out, open right through, {how}" for how, ids in sealed.items()]
    if facts.joints:
        finish = facts.leaf.finish
        beads = f"Joints carried through the {finish}, a stop bead each side"
        points.append(beads if finish else "Joints carried through render, plaster and finishes")
    if facts.mesh:
        corners = counted(sum(strip.faces for strip in facts.mesh), "corner")
        points.append(f"Mesh in the {facts.leaf.finish} across {corners} of openings, as drawn")
    points.append("Faces cleaned")
    points.extend(_out_by(facts))
    return points


def _out_by(facts: LeafFacts) -> Iterator[str]:
    """How far this wall may be out of level and of plumb, over its own length and height."""
    allowed, length = facts.tolerance, facts.figures.length
    if allowed is None or (allowed.level is None and allowed.plumb is None):
        yield "Levels and plumb checked"
        return
    level = (
        "Levels checked"
        if allowed.level is None
        else f"Level within {_at_most(facts, allowed.level)} in {length(allowed.length)}"
    )
    plumb = (
        "plumb checked" if allowed.plumb is None else f"plumb within {_at_most(facts, allowed.plumb)} in {length(allowed.height)}"
    )
    yield f"{level}, {plumb}"


def _at_most(facts: LeafFacts, tolerance: float) -> str:
    """A tolerance as it can be read off a rule: rounded down, to whole millimetres or sixteenths of an inch."""
    step = facts.figures.step
    return facts.figures.measure(floor(tolerance / step + 1e-6) * step)


def _backed(facts: LeafFacts, parts: JointParts | None) -> str:
    """What the sealant is laid against so that it holds to the two sides only."""
    if parts is None or parts.bond_breaker is None:
        return "backed"
    if parts.backer_diameter is None:
        return "taped at the back"
    return f"backed with {facts.figures.measure(parts.backer_diameter)} rod"


def _slip_ties(facts: LeafFacts, joint: str) -> str:
    parts = facts.joint_parts.get(joint)
    return f", {counted(parts.slip_ties, 'slip tie')} across" if parts and parts.slip_ties else ""
