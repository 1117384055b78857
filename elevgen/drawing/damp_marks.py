"""Trays with their weeps, the lines they are over, the ground outside, and mesh in finishes; on the elevation of their leaf."""

from __future__ import annotations

from itertools import pairwise
from math import sqrt

from elevgen.building.outline import clipped
from elevgen.core.geometry import TOLERANCE, Point, Rect
from elevgen.drawing.board import Board, Room
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.labels import Label, Spot
from elevgen.drawing.listing import places
from elevgen.drawing.marks import LABEL_SIZE
from elevgen.drawing.scene import Role, Symbol, VAlign
from elevgen.fittings.model import Mesh, Tray

STOP_END = 1.8
WEEP_SIZE = 2.2


def draw_trays(board: Board, facts: LeafFacts) -> tuple[Label, ...]:
    """Each tray as a dashed line at its level, turned up where it is stopped, a slot at every weep; and the line it is over."""
    for tray in facts.trays:
        y, span, up = tray.level, tray.span, board.mm(STOP_END)
        start, end = _stopped(tray, facts.trays)
        shape: tuple[Point, ...] = ((span.start, y), (span.end, y))
        shape = ((span.start, y + up), *shape) if start else shape
        shape = (*shape, (span.end, y + up)) if end else shape
        weeps = places(facts.figures, tray.weeps)
        title = f"cavity tray {facts.short(tray.id)}, {facts.figures.length(span.length)} long, level {facts.figures.level(y)}"
        title += f", weeps at {weeps}" if weeps else ""
        board.polyline(Role.DPC, shape, False, tray.id, title)
        board.room.take(Rect(span.start, y - board.mm(0.3), span.end, y + board.mm(0.3)))
        for at in tray.weeps:
            board.add(Symbol(Role.MARK, "weep", (at, y), WEEP_SIZE, 0.0, tray.id, "weep hole"))
            board.room.take(Rect(at - board.mm(0.4), y - board.mm(0.4 * WEEP_SIZE), at + board.mm(0.4), y + board.mm(WEEP_SIZE)))
    if facts.leaf.id != facts.wall.leaves[0]:
        return ()
    return (*_abutments(board, facts), *_ground(board, facts))


def _stopped(tray: Tray, trays: tuple[Tray, ...]) -> tuple[bool, bool]:
    """Which of its two ends are stopped: not those from which it runs off on to a lower one."""
    lower = [other.span for other in trays if other.level < tray.level - TOLERANCE and other.kind == "step"]
    ends = [not any(s.start + TOLERANCE < at < s.end - TOLERANCE for s in lower) for at in (tray.span.start, tray.span.end)]
    if tray.kind != "step" or sum(ends) != tray.stop_ends:
        ends = [tray.stop_ends >= 1, tray.stop_ends >= 2]
    return ends[0], ends[1]


def _abutments(board: Board, facts: LeafFacts) -> list[Label]:
    """The line in which a lower roof or building meets the face, named."""
    labels = []
    for line in facts.wall.abutments:
        inside = [p for p in line.points if facts.face.bottom <= p[1] <= facts.face.top]
        if len(inside) < len(line.points):
            continue
        board.polyline(Role.MEETING, line.points, False, facts.wall.id, "lower roof or building meets the wall here")
        for a, b in pairwise(line.points):
            board.keep_off(a, b)
        below = board.mm(LABEL_SIZE)
        spots = tuple(
            Spot(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + side * below * (1.0 if abs(a[1] - b[1]) < 1 else 2.5)), "centre")
            for a, b in pairwise(line.points)
            for side in (-1, 1)
        )
        middle = line.points[0]
        labels.append(Label("lower roof", Role.MARK, spots, middle, 3, LABEL_SIZE, source=facts.wall.id))
    return labels


def _ground(board: Board, facts: LeafFacts) -> list[Label]:
    """The ground outside, where it is no lower than the masonry drawn."""
    ground = facts.wall.ground
    if ground is None:
        return []
    points = ground.clipped(facts.leaf.span)
    if any(not facts.face.bottom <= at <= facts.face.top for _, at in points):
        return []
    board.polyline(Role.MARK, points, False, facts.wall.id, "ground outside")
    for a, b in pairwise(points):
        board.keep_off(a, b)
    clear = board.mm(1.2)
    sides: tuple[tuple[int, VAlign], ...] = ((-1, "top"), (1, "base"))
    spots = tuple(
        Spot(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + side * clear), "centre", valign)
        for a, b in pairwise(points)
        for side, valign in sides
    )
    targets = tuple(
        (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share) for a, b in pairwise(points) for share in (0.1, 0.5, 0.9)
    )
    return [
        Label(
            f"ground {facts.figures.level(points[0][1])}",
            Role.MARK,
            spots,
            targets[0],
            4,
            LABEL_SIZE,
            source=facts.wall.id,
            leader=False,
            targets=targets[1:],
        )
    ]


def draw_mesh(board: Board, facts: LeafFacts, soft: Room) -> None:
    """Each strip of mesh where it lies in the finish, across its corner."""
    for strip in facts.mesh:
        size = f"{facts.figures.length(strip.length)} by {facts.figures.length(strip.width)}"
        edge = outline(strip, facts.face)
        board.polyline(Role.MARK, edge, True, strip.opening, f"mesh in the finish, {size}")
        board.keep_off_outline(edge, soft)


def outline(strip: Mesh, face: Rect) -> tuple[Point, ...]:
    """A strip, trimmed where the face ends: its long edge lies through the corner of the opening, square to what halves it."""
    out = (-1 if strip.side == "left" else 1) / sqrt(2), (1 if strip.end == "head" else -1) / sqrt(2)
    across = (-out[1], out[0])
    half = strip.length / 2
    whole = tuple(
        (strip.at + across[0] * along + out[0] * off, strip.level + across[1] * along + out[1] * off)
        for along, off in ((-half, 0.0), (half, 0.0), (half, strip.width), (-half, strip.width))
    )
    return clipped(whole, face)
