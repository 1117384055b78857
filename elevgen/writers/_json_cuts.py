"""Records of `design.json` about cutting: pieces, slopes, and what each scaffold lift needs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from elevgen.coursing.model import UnitNeed
from elevgen.result import Design

Record = dict[str, Any]


def cuts(design: Design, walls: Mapping[str, str], sides: Mapping[str, str]) -> list[Record]:
    """Cut pieces of each leaf and lift by size; `takes` is how much of a unit, its length, width, height."""
    return [
        {
            "wall": walls[piece.leaf],
            "leaf": sides[piece.leaf],
            "lift": piece.lift,
            "unit": piece.unit,
            "laid": piece.laid,
            "length": piece.length,
            "height": piece.height,
            "takes": piece.box,
            "number": piece.number,
        }
        for piece in design.coursing.cutting.pieces
    ]


def slope_cuts(design: Design, walls: Mapping[str, str], sides: Mapping[str, str]) -> list[Record]:
    """Pieces cut to a slope, course by course: long and short edge, heights of the two ends."""
    return [
        {
            "wall": walls[cut.leaf],
            "leaf": sides[cut.leaf],
            "lift": cut.lift,
            "course": cut.course,
            "unit": cut.unit,
            "laid": cut.laid,
            "long_edge": cut.long,
            "short_edge": cut.short,
            "high_end": cut.high,
            "low_end": cut.low,
            "takes": cut.box,
            "number": cut.number,
        }
        for cut in design.coursing.cutting.slopes
    ]


def lifts(design: Design) -> list[Record]:
    """Each scaffold lift: units to buy, how they are cut, what is left over."""
    return [
        {
            "lift": lift.number,
            "from": lift.levels.start,
            "to": lift.levels.end,
            "units": [_need(need) for need in lift.needs],
            "sawing": [
                {
                    "unit": sawing.unit,
                    "slope": sawing.sloping,
                    "pieces": sawing.pieces,
                    "width": sawing.width,
                    "height": sawing.height,
                    "number": sawing.number,
                    "left": sawing.left,
                    "per_unit": sawing.per_unit,
                }
                for sawing in lift.sawing
            ],
            "off_cuts": [{"unit": off.unit, "size": off.box, "number": off.number} for off in lift.off_cuts],
        }
        for lift in design.coursing.cutting.lifts
    ]


def _need(need: UnitNeed) -> Record:
    return {
        "unit": need.unit,
        "whole": need.whole,
        "pieces": need.pieces,
        "cut_from": need.cut_from,
        "at_least": need.least,
        "to_buy": need.to_buy,
    }


def unit_masses(design: Design) -> list[Record]:
    """How heavy one unit of each kind is, kg, beside what one person lifts; null where not known."""
    return [{"unit": m.unit, "mass": m.mass, "given": m.given, "limit": m.limit} for m in design.coursing.masses]
