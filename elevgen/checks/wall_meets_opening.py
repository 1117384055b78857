"""A wall that ends where the wall it meets has an opening has nothing to be bonded or tied to there."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Building, Meeting, Opening
from elevgen.checks._finding import BUILDING, at_opening, found
from elevgen.core.geometry import Span
from elevgen.result import Design, Finding

CODE = "wall-meets-opening"
TITLE = "Walls that meet a wall at an opening"
RATIONALE = (
    "A wall is held by the masonry it runs into; where that is a door or a window there is nothing to bond or tie to, "
    "and the frame stands in the way."
)


def check(design: Design) -> Iterator[Finding]:
    """Every wall that meets another's side or crosses it: whether an opening of that wall lies within its thickness."""
    building = design.building
    met = [(meeting, opening) for meeting in building.meetings for opening in _openings_at(building, meeting)]
    for meeting, opening in met:
        host, stem = building.leaf(meeting.host), building.leaf(meeting.stem)
        text = f"{stem.wall} meets {host.id} where {opening.kind} {opening.id} is: move one of them"
        place = at_opening(host, opening)
        yield found("warn", place._replace(walls=(host.wall, stem.wall)), text)
    if not met:
        yield found("pass", BUILDING, "walls meet walls at masonry, clear of openings")


def _openings_at(building: Building, meeting: Meeting) -> Iterator[Opening]:
    """Openings of the host within the stem's thickness, at levels the stem reaches."""
    if meeting.kind == "corner":
        return
    stem = building.leaf(meeting.stem)
    width = Span(meeting.host_at, meeting.host_at).grown(stem.thickness / 2)
    levels = Span(stem.base.lowest(stem.span), stem.top.highest(stem.span))
    for opening in building.wall(building.leaf(meeting.host).wall).openings:
        if opening.rect.along.overlaps(width) and opening.rect.levels.overlaps(levels):
            yield opening
