"""Stretchs that may have to be parted by a movement joint whatever the length: steps of a leaf, and leaves that meet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, Meeting, Profile
from elevgen.checks._masonry import TURN
from elevgen.core.geometry import TOLERANCE, Span, cross, direction

SHRINKING = ("calcium_silicate", "dense_concrete", "lightweight_concrete", "aircrete")
"""Materials that shrink as they dry; clay grows as it takes up moisture, stone does neither."""


class Step(NamedTuple):
    """A step in the `top` or the `base` of a leaf: from where to where along it, and how high.

    `high` is the height of the leaf on the side of the step where it is higher.
    """

    leaf: Leaf
    edge: str
    along: Span
    height: float
    high: float


class Stretch(NamedTuple):
    """A stretch of a leaf in which a joint would do."""

    leaf: str
    along: Span


class Met(NamedTuple):
    """Two leaves that meet on one side of the meeting: in line or at an angle, and where a joint would part the two."""

    meeting: Meeting
    host: Leaf
    stem: Leaf
    in_line: bool
    joints_at: tuple[Stretch, ...]

    @property
    def high(self) -> float:
        """The height of the higher of the two where they meet."""
        sides = (self.host, self.meeting.host_at), (self.stem, self.meeting.stem_at)
        return max(_level(leaf, leaf.top, at) - _level(leaf, leaf.base, at) for leaf, at in sides)

    @property
    def step(self) -> float:
        """How much the higher top stands over the lower, or the lower base under the higher."""
        edges = (self.host.top, self.stem.top), (self.host.base, self.stem.base)
        here, there = self.meeting.host_at, self.meeting.stem_at
        return max(abs(_level(self.host, a, here) - _level(self.stem, b, there)) for a, b in edges)


def module(*leaves: Leaf) -> float:
    """The longest unit of leaves and its perpend: a joint on the bond's grid is no further from where it is wanted."""
    return max(zone.unit.module for leaf in leaves for zone in leaf.zones)


def steps(leaf: Leaf) -> Iterator[Step]:
    """Every change of level of a leaf over no more than a unit of length, clear of its ends. A slope is none."""
    for edge, profile in (("top", leaf.top), ("base", leaf.base)):
        points = profile.clipped(leaf.span)[1:-1]
        near = [(abs(y - v), Span(x, u)) for n, (x, y) in enumerate(points) for u, v in points[n + 1 :] if u - x <= module(leaf)]
        taken: list[Span] = []
        for height, along in sorted(near, key=lambda change: (-change[0], change[1])):
            if height > TOLERANCE and not any(
                along.start <= t.end + TOLERANCE and t.start <= along.end + TOLERANCE for t in taken
            ):
                taken.append(along)
                sides = (along.start, Profile.level_left_of), (along.end, Profile.level_right_of)
                yield Step(leaf, edge, along, height, max(level(leaf.top, at) - level(leaf.base, at) for at, level in sides))


def meetings(building: Building) -> Iterator[Met]:
    """Every meeting of two leaves; a leaf that a wall runs through meets it on each side on which it goes on."""
    for meeting in building.meetings:
        host, stem = building.leaf(meeting.host), building.leaf(meeting.stem)
        one, other = building.wall(host.wall), building.wall(stem.wall)
        turn = abs(cross(direction(one.start, one.end), direction(other.start, other.end)))
        in_line = meeting.kind == "corner" and turn <= TURN
        if meeting.kind == "corner":
            reach = module(host, stem) + (0.0 if in_line else max(host.thickness, stem.thickness))
            places = (_about(host, meeting.host_at, reach), _about(stem, meeting.stem_at, reach))
            yield Met(meeting, host, stem, in_line, places)
        elif meeting.kind == "tee":
            yield Met(meeting, host, stem, False, (_about(stem, meeting.stem_at, module(stem)),))
        else:
            for through in (t.along for t in stem.crossings if t.along.contains(meeting.stem_at)):
                reach = module(stem)
                for beside in (Span(through.start - reach, through.start), Span(through.end, through.end + reach)):
                    if beside.overlaps(stem.span):
                        yield Met(meeting, host, stem, False, (Stretch(stem.id, beside),))


def unlike(kind: str, a: Leaf, b: Leaf) -> tuple[str, str] | None:
    """The materials of two leaves that must not be in one piece, for most of the height the two share; else None.

    `kind` is the rule's word: clay with what shrinks, any two that differ, none.
    """
    shared: dict[tuple[str, str], float] = {}
    for here in a.zones:
        for there in b.zones:
            if common := here.levels.common(there.levels):
                pair = here.unit.material, there.unit.material
                shared[pair] = shared.get(pair, 0.0) + common.length
    apart = {pair: height for pair, height in shared.items() if _must_part(kind, *pair)}
    if 2 * sum(apart.values()) <= sum(shared.values()):
        return None
    return max(apart, key=lambda pair: apart[pair], default=None)


def _must_part(kind: str, a: str, b: str) -> bool:
    if kind == "any_two":
        return a != b
    return kind == "clay_with_shrinking" and "clay" in (a, b) and (a in SHRINKING or b in SHRINKING)


def _about(leaf: Leaf, at: float, reach: float) -> Stretch:
    return Stretch(leaf.id, Span(at - reach, at + reach))


def _level(leaf: Leaf, edge: Profile, at: float) -> float:
    """The level of an edge at the end of a leaf."""
    return edge.level_right_of(at) if abs(at - leaf.span.start) <= TOLERANCE else edge.level_left_of(at)
