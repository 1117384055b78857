"""Corners as laid, measured by polygons: what overlaps and what is left open. The folder is on the path: tests import this."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from shapely import Polygon, unary_union

from elevgen import pipeline
from elevgen.building.model import Meeting
from elevgen.drawing.corners import Corner, Laid, corners_of, lay_corner, pieces_of
from elevgen.drawing.course_plan import Courses
from elevgen.drawing.plan import footprint
from elevgen.result import Design
from elevgen.spec.models import Spec

WIDEST = 16.2
"""A perpend opened as far as the trade lets it, and a movement joint in the end of a wall (mm)."""
LEAVES: dict[str, Any] = {
    "brick": {"zones": [{"unit": "brick_65"}]},
    "block": {"zones": [{"unit": "aircrete_block_100"}]},
}


def ring(points: Sequence[tuple[float, float]], leaf: dict[str, Any] | None = None) -> Design:
    """A building round these outside corners: a cavity wall, or of one leaf."""
    types = {"wall": {"outer": "own"} if leaf else {"outer": "brick", "inner": "block", "cavity": 100}}
    walls = [
        {"id": f"W{n}", "type": "wall", "start": list(a), "end": list(b), "base": 0, "top": 900, "joints": []}
        for n, (a, b) in enumerate(zip(points, (*points[1:], points[0]), strict=True), 1)
    ]
    leaves = LEAVES | ({"own": leaf} if leaf else {})
    return pipeline.design(Spec.model_validate({"spec": 1, "leaves": leaves, "wall_types": types, "walls": walls}), "ring")


def laid_corners(design: Design) -> Iterator[tuple[Corner, Laid]]:
    courses = Courses(design.building, design.coursing)
    for corner in corners_of(design.building):
        for laid in lay_corner(corner, courses, design.plan) or ():
            yield corner, laid


def overlaps(laid: Laid) -> list[tuple[str, str, float]]:
    pieces = list(pieces_of(laid))
    pairs = ((a, b) for n, a in enumerate(pieces) for b in pieces[n + 1 :])
    return [(a.leaf, b.leaf, area) for a, b in pairs if (area := a.outline.intersection(b.outline).area) > 1.0]


def left_open(design: Design, corner: Corner, meeting: Meeting, laid: Laid) -> float:
    """What of the masonry where two leaves turn into one another is neither a piece nor within half a perpend of one, mm2."""
    walls = {w.id: w for w in design.building.walls}
    feet = [
        Polygon(footprint(walls[design.building.leaf(x).wall], design.building.leaf(x))) for x in (meeting.host, meeting.stem)
    ]
    near = unary_union([foot.buffer(0.5) for foot in feet]).intersection(
        feet[0].intersection(feet[1].buffer(260.0)).centroid.buffer(240.0)
    )
    solid = unary_union(
        [p.outline for p in pieces_of(laid) if p.leaf in (meeting.host, meeting.stem)] + [g for _, g in laid.joints]
    )
    return float(near.difference(solid.buffer(WIDEST / 2, join_style="mitre", mitre_limit=10.0)).area)


def check(design: Design) -> int:
    seen = 0
    for corner, laid in laid_corners(design):
        assert overlaps(laid) == [], corner.id
        for meeting in corner.meetings:
            if meeting.kind == "corner" and meeting.connection == "bonded":
                assert left_open(design, corner, meeting, laid) < 30.0, (corner.id, meeting.id)
                seen += 1
    return seen
