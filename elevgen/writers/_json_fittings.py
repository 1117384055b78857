"""Records of `design.json` about what is built into the masonry."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from elevgen.fittings.model import WallTies
from elevgen.result import Design

Record = dict[str, Any]


def lintels(design: Design, sides: Mapping[str, str]) -> list[Record]:
    """Each lintel, its bearings and, where chosen, its depth."""
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
        }
        for bed in design.fittings.bed_reinforcement
    ]


def ties(design: Design) -> list[Record]:
    """Each wall's ties: counts, and the placed ones as [at, level, kind]. `edge` is all that are neither general nor slip ties.

    Slip ties are counted from the parts of each movement joint, as the take-off does; null where a joint's are not known.
    """
    walls = {joint.id: joint.wall for joint in design.plan.joints}
    found: dict[str, list[int | None]] = {}
    for part in design.fittings.joint_parts:
        found.setdefault(walls[part.joint], []).append(part.slip_ties)
    return [_wall_ties(wall_ties, _all_known(found.pop(wall_ties.wall, []))) for wall_ties in design.fittings.ties]


def _all_known(counts: Iterable[int | None]) -> int | None:
    """The sum, or None when one of them is not known."""
    known = list(counts)
    return None if None in known else sum(n for n in known if n is not None)


def _wall_ties(ties: WallTies, slip: int | None) -> Record:
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
        "placed": [[tie.at, tie.level, tie.kind] for tie in ties.ties],
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
