"""Where other walls meet the face of a leaf: a stem against it, a wall running through it or it through a wall."""

from __future__ import annotations

from collections import defaultdict
from typing import NamedTuple

from elevgen.building.model import Building, Leaf
from elevgen.core.geometry import Rect, cross, direction
from elevgen.drawing.board import Board, Room
from elevgen.drawing.labels import Label, Spot
from elevgen.drawing.scene import Role
from elevgen.spec.fields import Connection

LABEL_SIZE = 2.0
_SHARES = (0.5, 0.3, 0.7, 0.15, 0.85)


class MetWall(NamedTuple):
    """Another wall on this leaf's face: the band it takes, how it is connected, and in words what it does there."""

    wall: str
    band: Rect
    connection: Connection
    words: str


def met_walls(building: Building) -> dict[str, tuple[MetWall, ...]]:
    """For every leaf, the walls that meet its face, from its start on. Corners are no part of a face."""
    leaves = {leaf.id: leaf for leaf in building.leaves}
    walls = {wall.id: wall for wall in building.walls}
    found: defaultdict[str, list[MetWall]] = defaultdict(list)
    for meeting in building.meetings:
        if meeting.kind == "corner":
            continue
        host, stem = leaves[meeting.host], leaves[meeting.stem]
        one, other = walls[host.wall], walls[stem.wall]
        square = abs(cross(direction(one.start, one.end), direction(other.start, other.end)))
        half = stem.thickness / square / 2
        bottom = max(host.base.level_left_of(meeting.host_at), stem.base.level_left_of(meeting.stem_at))
        top = min(host.top.level_left_of(meeting.host_at), stem.top.level_left_of(meeting.stem_at))
        name = stem.wall if len(other.leaves) == 1 else stem.id
        if top > bottom:
            band = Rect(meeting.host_at - half, bottom, meeting.host_at + half, top)
            words = "crosses, " if meeting.kind == "cross" else ""
            found[host.id].append(MetWall(stem.wall, band, meeting.connection, f"{name} {words}{meeting.connection}"))
        if meeting.kind == "cross":
            found[stem.id] += [
                MetWall(host.wall, gap, meeting.connection, f"{host.wall} runs through, {meeting.connection}")
                for gap in _gaps_at(stem, meeting.stem_at)
            ]
    return {leaf: tuple(sorted(dict.fromkeys(met), key=lambda m: (m.band, m.words))) for leaf, met in found.items()}


def _gaps_at(stem: Leaf, at: float) -> list[Rect]:
    return [gap for gap in stem.crossings if gap.along.contains(at)]


def draw_met_walls(board: Board, met: tuple[MetWall, ...], soft: Room) -> tuple[Label, ...]:
    """A dashed band as wide as the wall met, and its label to be placed along it."""
    labels = []
    for wall in met:
        band = wall.band
        for x in (band.left, band.right):
            board.polyline(Role.MEETING, ((x, band.bottom), (x, band.top)), source=wall.wall, title=f"wall {wall.words}")
        soft.take(band)
        off = board.mm(0.8)
        levels = [band.bottom + band.height * share for share in _SHARES]
        spots = [Spot((band.right + off, y), "centre", "top", 90.0) for y in levels]
        spots += [Spot((band.left - off, y), "centre", "base", 90.0) for y in levels]
        target = (band.along.middle, band.levels.middle)
        labels.append(Label(wall.words, Role.MARK, tuple(spots), target, 1, LABEL_SIZE, source=wall.wall))
    return tuple(labels)
