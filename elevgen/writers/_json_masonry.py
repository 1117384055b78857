"""Records of `design.json` about the masonry: leaves, runs, joints, panels, courses, patterns."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from elevgen.core.ranges import Range
from elevgen.coursing.model import Pattern, Piece
from elevgen.joints.model import Relaxed
from elevgen.joints.movement import JointCase, JointMovement
from elevgen.joints.width_words import width_words
from elevgen.result import Design

Record = dict[str, Any]


def leaves(design: Design) -> list[Record]:
    """Each leaf: size, courses, units laid."""
    records = []
    for leaf in design.building.leaves:
        laid = design.coursing.of(leaf.id)
        records.append(
            {
                "id": leaf.id,
                "wall": leaf.wall,
                "leaf": leaf.side,
                "length": leaf.span.length,
                "height": leaf.height,
                "courses": len(laid.courses),
                "units": {count.unit: {"full": count.full, "cut": count.cut} for count in laid.counts},
                "from": leaf.span.start,
                "to": leaf.span.end,
                "thickness": leaf.thickness,
                "bond": leaf.bond,
                "mortar": leaf.mortar,
                "pointing": leaf.pointing,
            }
        )
    return records


def runs(design: Design, sides: Mapping[str, str]) -> list[Record]:
    """Each run as a graph: nodes, edges, walls."""
    walls = {leaf.id: leaf.wall for leaf in design.building.leaves}
    return [
        {
            "id": run.id,
            "leaf": "+".join(sorted({sides[leaf] for leaf in run.leaves}, reverse=True)),
            "walls": list(dict.fromkeys(walls[leaf] for leaf in run.leaves)),
            "length": run.length,
            "closed": run.closed,
            "nodes": [{"id": node.id, "kind": node.kind, "at": dict(node.at)} for node in run.nodes],
            "edges": [
                {"id": e.id, "leaf": e.leaf, "from": e.span.start, "to": e.span.end, "a": e.a, "b": e.b} for e in run.edges
            ],
        }
        for run in design.runs
    ]


def movement_joints(design: Design, sides: Mapping[str, str]) -> list[Record]:
    """Each movement joint; `from` and `to` are levels."""
    return [
        {
            "id": joint.id,
            "wall": joint.wall,
            "leaf": sides[joint.leaf],
            "at": joint.at,
            "from": joint.levels.start,
            "to": joint.levels.end,
            "width": joint.width.built,
            "given": joint.given,
            "reason": joint.reason,
            "basis": joint.basis,
            "rejected": [{"at": other.at, "why": other.why} for other in joint.rejected],
            "width_rule_of_thumb": joint.width.rule_of_thumb,
            "width_calculated": joint.width.calculated,
            "width_words": width_words(design.figures, joint.width),
            "width_lacking": [{"rule": lacking.key, "meaning": lacking.meaning} for lacking in joint.width.lacking],
            "width_serves": joint.width.serves,
            "movement": _movement(joint.width.movement),
        }
        for joint in design.plan.joints
    ]


def _movement(movement: JointMovement | None) -> Record | None:
    """The sum behind a calculated width, every figure as [least, greatest]; None where it is not known."""
    if movement is None:
        return None
    sealing = movement.sealing
    return {
        "beside": movement.lengths,
        "closing": _case(movement.closing),
        "opening": _case(movement.opening),
        "governs": movement.governs,
        "width": _range(movement.width),
        "sealant_capability": sealing.capability if sealing else None,
        "capability_of": sealing.of if sealing else None,
        "tolerance": sealing.tolerance if sealing else None,
        "left_open": sealing.left_open if sealing else None,
        "basis": movement.basis,
    }


def _case(case: JointCase) -> Record:
    return {
        "materials": [side.material for side in case.sides],
        "thermal": _range(case.thermal),
        "moisture": _range(case.moisture),
        "reversible": _range(case.reversible),
        "other": _range(case.other),
        "movement": _range(case.movement),
        "width": _range(case.width),
    }


def _range(given: Range | None) -> list[float] | None:
    return None if given is None else [given.low, given.high]


def placement(design: Design) -> list[Record]:
    """The proof for each run that fewer joints will not do."""
    return [
        {
            "run": placed.run,
            "optimal": placed.optimal,
            "joints": placed.joints,
            "lower_bound": placed.lower_bound,
            "relaxed": [_relaxed(relaxed) for relaxed in placed.relaxed],
        }
        for placed in design.plan.placements
    ]


def _relaxed(relaxed: Relaxed) -> Record:
    """A rule no placement could keep; `remedies` null where none were looked for."""
    mended = relaxed.remedies
    return {
        "rule": relaxed.rule,
        "where": relaxed.where,
        "measured": relaxed.measured,
        "limit": relaxed.limit,
        "remedies": None if mended is None else [{"kind": r.kind, "words": r.words, "what": r.what} for r in mended],
    }


def panels(design: Design, sides: Mapping[str, str]) -> list[Record]:
    """Masonry between joints, corners and ends."""
    return [
        {
            "id": panel.id,
            "wall": panel.wall,
            "leaf": sides[panel.leaf],
            "from": panel.span.start,
            "to": panel.span.end,
            "length": panel.span.length,
            "height": panel.height,
            "ratio": panel.ratio,
        }
        for panel in design.plan.panels
    ]


def courses(design: Design) -> list[Record]:
    """Every placement: which pattern lies in which course, where. `level` is the underside of its units."""
    heights = {pattern.id: pattern.height for pattern in design.coursing.patterns}
    return [
        {
            "wall": leaf.wall,
            "leaf": leaf.side,
            "course": placed.course,
            "level": placed.level,
            "height": heights[placed.pattern],
            "pattern": placed.pattern,
            "from": placed.span.start,
            "to": placed.span.end,
        }
        for leaf in design.building.leaves
        for placed in design.coursing.of(leaf.id).placements
    ]


def pattern_record(pattern: Pattern) -> Record:
    """A stretch of course, stored once."""
    return {
        "id": pattern.id,
        "unit": pattern.unit,
        "pieces": [_piece(piece) for piece in pattern.pieces],
        "perpends": [{"at": perpend.at, "width": perpend.width} for perpend in pattern.perpends],
        "length": pattern.length,
        "height": pattern.height,
        "split": pattern.split,
        "hidden": pattern.hidden,
        "unseen": [_piece(piece) for piece in pattern.unseen],
    }


def _piece(piece: Piece) -> Record:
    return {"at": piece.at, "length": piece.length, "kind": piece.kind, "laid": piece.laid, "deep": piece.deep}


def rakes(design: Design) -> list[Record]:
    """Units cut to a slope."""
    return [
        {
            "wall": leaf.wall,
            "leaf": leaf.side,
            "course": rake.course,
            "unit": rake.unit,
            "outline": rake.outline,
            "laid": rake.laid,
            "deep": rake.deep,
            "hidden": rake.hidden,
        }
        for leaf in design.building.leaves
        for rake in design.coursing.of(leaf.id).rakes
    ]


def misfits(design: Design) -> list[Record]:
    """Levels that land on no course, the course that pays, and the bed that would land them."""
    return [
        {
            "wall": leaf.wall,
            "leaf": leaf.side,
            "what": m.what,
            "level": m.level,
            "down": m.down,
            "up": m.up,
            "course": m.course,
            "cut_to": m.cut_to,
            "made_up": m.made_up,
            "bed": m.bed,
            "bed_needed": m.bed_needed,
            "barred": m.barred,
            "loses": m.loses,
        }
        for leaf in design.building.leaves
        for m in design.coursing.of(leaf.id).misfits
    ]
