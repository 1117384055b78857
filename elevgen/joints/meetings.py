"""Where walls meet and are not one piece there is a movement joint: in the end of the leaf that stops there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, Meeting
from elevgen.core.geometry import TOLERANCE


class Parted(NamedTuple):
    """A leaf that stops with a joint against another: where its masonry would end (mm) and which way that is (1 onwards).

    `in_line`: the other goes on in the same line, so that both move towards the joint.
    """

    meeting: Meeting
    leaf: Leaf
    at: float
    way: int
    in_line: bool

    def centre(self, width: float) -> float:
        """Where a joint of this width stands, its gap inside the leaf's end."""
        return self.at - self.way * width / 2


def parted(building: Building) -> Iterator[Parted]:
    """Every leaf end that stops against another leaf with a joint, in the order of the meetings.

    None where the spec lists a joint there already, within half a unit of the end; nor where a wall is interrupted by
    another that runs through it.
    """
    leaves = {leaf.id: leaf for leaf in building.leaves}
    walls = {wall.id: wall for wall in building.walls}
    for meeting in building.meetings:
        if meeting.connection != "jointed" or meeting.kind == "cross":
            continue
        leaf = leaves[meeting.stem]
        for end, at, way in ((leaf.start_end, leaf.span.start, -1), (leaf.finish_end, leaf.span.end, 1)):
            stops_here = end.kind == "abutting" and end.other == meeting.host and abs(at - meeting.stem_at) <= TOLERANCE
            near = max(zone.unit.length for zone in leaf.zones) / 2
            listed = [j for j in walls[leaf.wall].joints if j.leaf in (None, leaf.side)]
            if stops_here and not any(abs(j.at - at) <= near and _in_masonry(j.at, leaf) for j in listed):
                yield Parted(meeting, leaf, at, way, _in_line(leaves[meeting.host], meeting))


def _in_line(host: Leaf, meeting: Meeting) -> bool:
    """Whether the host stops against the stem as the stem does against it; at a turn it runs past."""
    ends = ((host.start_end, host.span.start), (host.finish_end, host.span.end))
    here = [end for end, at in ends if abs(at - meeting.host_at) <= TOLERANCE]
    return meeting.kind == "corner" and any(end.kind == "abutting" for end in here)


def _in_masonry(at: float, leaf: Leaf) -> bool:
    return leaf.span.start + TOLERANCE < at < leaf.span.end - TOLERANCE
