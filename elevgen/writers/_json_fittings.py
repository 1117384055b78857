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
            "opening": tray.opening,
            "level": tray.level,
            "from": tray.span.start,
            "to": tray.span.end,
            "stop_ends": tray.stop_ends,
            "weeps": tray.weeps,
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
            "basis": part.basis,
        }
        for part in design.fittings.joint_parts
    ]
