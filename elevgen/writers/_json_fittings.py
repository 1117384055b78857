"""Records of `design.json` about what is built into the masonry."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from elevgen.fittings.model import WallTies
from elevgen.result import Design
from elevgen.writers._json_lintel_loads import load_of

Record = dict[str, Any]


def lintels(design: Design, sides: Mapping[str, str]) -> list[Record]:
    """Each lintel, its spans between supports, its bearings and, where chosen, what it is and how deep."""
    return [
        {
            "id": lintel.id,
            "opening": "+".join(lintel.openings),
            "leaf": sides[lintel.leaf],
            "level": lintel.level,
            "length": lintel.length,
            "bearing_start": lintel.bearing_start,
            "bearing_end": lintel.bearing_end,
            "depth": lintel.depth,
            "wall": lintel.wall,
            "from": lintel.span.start,
            "to": lintel.span.end,
            "basis": lintel.basis,
            "kind": lintel.kind,
            "underside": lintel.underside,
            "courses": lintel.courses,
            "mass": lintel.mass,
            "clears": [[clear.start, clear.end] for clear in lintel.clears],
            "given": lintel.given,
            "load": load_of(design, lintel),
        }
        for lintel in design.fittings.lintels
    ]


def bed_reinforcement(design: Design, sides: Mapping[str, str]) -> list[Record]:
    """Each length of bed-joint reinforcement and the pieces it is made of."""
    return [
        {
            "id": bed.id,
            "wall": bed.wall,
            "leaf": sides[bed.leaf],
            "course": bed.course,
            "level": bed.level,
            "from": bed.span.start,
            "to": bed.span.end,
            "length": bed.span.length,
            "laps": bed.laps,
            "pieces": bed.pieces,
            "lap": bed.lap,
            "serves": bed.serves,
            "basis": bed.basis,
            "cuts": [[cut.start, cut.end] for cut in bed.cuts],
            "lap_at": [[lap.start, lap.end] for lap in bed.lap_at],
            "returns": [
                {
                    "end": turn.end,
                    "into": turn.leaf,
                    "continues": turn.continues,
                    "leg": turn.leg,
                    "round_corner": turn.round_corner,
                }
                for turn in bed.returns
            ],
            "ends_at": bed.ends_at,
            "why": bed.why,
            "width_most": bed.width_most,
            "given": bed.given,
        }
        for bed in design.fittings.bed_reinforcement
    ]


def reinforcement_stock(design: Design) -> list[Record]:
    """How stock lengths of reinforcement are cut, by wall and thickness of leaf: pieces, how many alike, what is left."""
    return [
        {
            "wall": stock.wall,
            "leaf_thickness": stock.thickness,
            "stock_length": stock.stock,
            "number": stock.number,
            "least": stock.least,
            "proven": stock.proven,
            "left": stock.left,
            "width_most": stock.width_most,
            "cuts": [{"pieces": cut.pieces, "number": cut.number, "left": cut.left} for cut in stock.cuts],
        }
        for stock in design.fittings.stock
    ]


def ties(design: Design) -> list[Record]:
    """Each wall's ties: counts, and the placed ones as [at, level, kind], or [at, level, kind, leaf] where in one leaf only.

    `edge` are all that are neither general nor slip ties. `slip` is null where nobody has said whether there are to be any, or no
    rule says how far apart. `panels`: the masonry between movement joints, m2, with the ties across the cavity in it; one that is
    not `judged` is so small that one tie more or less would decide.
    """
    return [_wall_ties(design, wall_ties) for wall_ties in design.fittings.ties]


def _slip(design: Design, ties: WallTies) -> int | None:
    """How many slip ties cross the joints of a wall; None where it has joints and it is not known whether there are to be any."""
    joints = any(joint.wall == ties.wall for joint in design.plan.joints)
    asked = design.building.wall(ties.wall).slip_ties
    unknown = asked is None or (asked and not design.rules.has("tie.slip.vertical"))
    return ties.count("slip") or (None if joints and unknown else 0)


def _wall_ties(design: Design, ties: WallTies) -> Record:
    slip = _slip(design, ties)
    field = ties.count("field")
    edge = ties.count() - field - ties.count("slip")
    return {
        "wall": ties.wall,
        "general": field,
        "edge": edge,
        "slip": slip,
        "total": field + edge + (slip or 0),
        "length": ties.length,
        "beds_meet": ties.beds_meet,
        "basis": ties.basis,
        "placed": [[tie.at, tie.level, tie.kind, *([tie.leaf] if tie.leaf else [])] for tie in ties.ties],
        "given": ties.given,
        "beds_apart": ties.apart,
        "reasons": dict(ties.reasons),
        "density_required": ties.required,
        "panels": [
            {
                "from": panel.span.start,
                "to": panel.span.end,
                "area": panel.area / 1e6,
                "ties": panel.ties,
                "density": panel.density,
                "judged": panel.judged,
            }
            for panel in ties.panels
        ],
    }


def damp_courses(design: Design, sides: Mapping[str, str]) -> list[Record]:
    """Each damp-proof course."""
    return [
        {
            "id": course.id,
            "wall": course.wall,
            "leaf": sides[course.leaf],
            "level": course.level,
            "from": course.span.start,
            "to": course.span.end,
            "width": course.width,
            "laps": course.laps,
            "lap": course.lap,
            "place": course.place,
            "length": course.length,
            "lapped_at": course.lapped._asdict() if course.lapped else None,
            "across_joints": course.folded,
            "not_of": course.barred,
            "given": course.given,
            "basis": course.basis,
        }
        for course in design.fittings.damp_courses
    ]


def trays(design: Design) -> list[Record]:
    """Each cavity tray, its stop ends and weeps."""
    return [
        {
            "id": tray.id,
            "wall": tray.wall,
            "opening": "+".join(tray.openings) or tray.opening,
            "kind": tray.kind,
            "level": tray.level,
            "from": tray.span.start,
            "to": tray.span.end,
            "stop_ends": tray.stop_ends,
            "weeps": tray.weeps,
            "cut_weeps": tray.cut_weeps,
            "upper": tray.upper,
            "sheet_width": tray.width,
            "not_of": tray.barred,
            "given": tray.given,
            "basis": tray.basis,
        }
        for tray in design.fittings.trays
    ]


def joint_parts(design: Design) -> list[Record]:
    """What each movement joint is filled and sealed with."""
    return [
        {
            "joint": part.joint,
            "length": part.length,
            "filler_width": part.filler_width,
            "filler_depth": part.filler_depth,
            "sealant_width": part.sealant_width,
            "sealant_depth": part.sealant_depth,
            "sealant_faces": part.sealant_faces,
            "sealant_litres": part.sealant_litres,
            "sealant_ml_per_metre": part.sealant_per_metre,
            "backer_diameter": part.backer_diameter,
            "bond_breaker": part.bond_breaker,
            "filler": part.filler,
            "filler_barred": part.filler_barred,
            "filler_strip": part.filler_strip,
            "slip_ties": part.slip_ties,
            "finish": part.finish,
            "stop_beads": part.stop_beads,
            "basis": part.basis,
        }
        for part in design.fittings.joint_parts
    ]


def corner_mesh(design: Design, sides: Mapping[str, str]) -> list[Record]:
    """Each strip of mesh in a finish: the corner it lies across, and on how many faces."""
    walls = {leaf.id: leaf.wall for leaf in design.building.leaves}
    return [
        {
            "wall": walls[strip.leaf],
            "leaf": sides[strip.leaf],
            "opening": strip.opening,
            "at": strip.at,
            "level": strip.level,
            "side": strip.side,
            "end": strip.end,
            "length": strip.length,
            "width": strip.width,
            "faces": strip.faces,
            "basis": strip.basis,
        }
        for strip in design.fittings.mesh
    ]


def site_tolerances(design: Design) -> list[Record]:
    """What each leaf may be out by when it is built; None where the rule set does not say."""
    return [
        {
            "leaf": allowed.leaf,
            "length": allowed.length,
            "level": allowed.level,
            "height": allowed.height,
            "plumb": allowed.plumb,
            "basis": allowed.basis,
        }
        for allowed in design.fittings.tolerances
    ]
