"""What is written on the plan: joints, walls, corners with their developed length, openings, features, walls met."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Opening, RunNode, Wall
from elevgen.core.geometry import Point, Rect, cross, direction, left_of
from elevgen.drawing.board import SMALLEST_TEXT, Board, Room
from elevgen.drawing.corners import STRAIGHT
from elevgen.drawing.course_plan import on_plan
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.labels import Label, Spot, label_box, place_labels
from elevgen.drawing.plan_runs import Developed
from elevgen.drawing.scene import Align, Role, VAlign

CUT_HEIGHT = 1300.0
"""Openings shown are those cut this far above the lowest base of their leaf, mm."""
CROWDED = 200
"""Drawn smaller than this, how far along their runs joints stand is left to the table, and openings are not named."""
NAME_SIZES = (3.5, 2.5)
"""A wall's name is written in the first size for which there is room; paper mm."""
CORNER_ROOM = 10.0
"""How much further than other labels those of corners may reach to the left and right of the building, paper mm."""
JOINT_SIZE, NOTE_SIZE = 2.0, SMALLEST_TEXT
_REACHES = (2.0, 4.6)
_NAME_REACHES = (3.0, 5.5, 8.6)
_CORNER_REACHES = (1.2, 2.6, 4.0, 5.4, 7.0)
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)


class Subject(NamedTuple):
    """What the labels of a plan are about: leaves, runs as measured, what the leaves fill, and what they all lie in."""

    leaves: tuple[LeafFacts, ...]
    runs: tuple[Developed, ...]
    bodies: tuple[tuple[Point, ...], ...]
    bounds: Rect

    def along(self, leaf: str, at: float) -> tuple[str, float] | None:
        """The run that passes a place, and how far along it that is."""
        for developed in self.runs:
            along = developed.along(leaf, at)
            if along is not None:
                return developed.run.id, along
        return None


def openings_cut(facts: LeafFacts) -> tuple[Opening, ...]:
    """The openings of a leaf at the level the plan is cut at."""
    cut = facts.face.bottom + CUT_HEIGHT
    return tuple(opening for opening in facts.openings if opening.rect.bottom <= cut <= opening.rect.top)


def label_plan(board: Board, subject: Subject, within: Rect) -> None:
    """Walls first, clear of where the joints' own labels want to stand, then joints, corners, openings and the rest.

    What has no room in full is written shorter; what has none at all is in the tables.
    """
    joints = [label for facts in subject.leaves for label in _joint_labels(board, subject, facts)]
    beside_joints = Room(board.mm(15))
    for label in joints:
        for spot in label.spots[: len(_REACHES)]:
            beside_joints.take(label_box(board, label, spot))
    firsts = [facts for facts in subject.leaves if facts.leaf.id == facts.wall.leaves[0]]
    for facts in firsts:
        _name_wall(board, facts, within, beside_joints)
    soft = Room(board.mm(15))
    left = place_labels(board, [label._replace(leader=False) for label in joints], within, soft)
    corners = [label for developed in subject.runs for label in _corner_labels(board, subject, developed)]
    wide = Rect(within.left - board.mm(CORNER_ROOM), within.bottom, within.right + board.mm(CORNER_ROOM), within.top)
    turned = place_labels(board, [label._replace(leader=False) for label in corners], wide, soft)
    if board.scale <= CROWDED:
        left = place_labels(board, [label._replace(leader=True) for label in left], within, soft)
        place_labels(board, [label._replace(text=label.text.split("  ")[0]) for label in left], wide, soft)
    place_labels(board, [label._replace(leader=True) for label in turned], wide, soft)
    if board.scale > CROWDED:
        return
    rest = [label for facts in firsts for label in (*_opening_labels(board, facts), *_feature_labels(board, facts))]
    rest += [label for facts in subject.leaves for label in _met_labels(board, facts)]
    place_labels(board, rest, within, soft)


def _joint_labels(board: Board, subject: Subject, facts: LeafFacts) -> Iterator[Label]:
    """A joint's id and how far along its run it stands, on the side its leaf faces; behind a single leaf where that is full."""
    for joint in facts.joints:
        outside = facts.leaf.side == "outer"
        found = subject.along(facts.leaf.id, joint.at)
        words = f"{joint.id}  {facts.figures.run(found[1])}" if found and board.scale <= CROWDED else joint.id
        single = len(facts.wall.leaves) == 1
        spots = [
            spot for side in ((outside, not outside) if single else (outside,)) for spot in _off(board, facts, joint.at, side)
        ]
        target = on_plan(facts.wall, joint.at, _face(facts, outside))
        yield Label(words, Role.MOVEMENT_JOINT, tuple(spots), target, 0, JOINT_SIZE, True, joint.id)


def _face(facts: LeafFacts, outside: bool) -> float:
    return facts.leaf.offset if outside else facts.leaf.offset + facts.leaf.thickness


def _off(
    board: Board, facts: LeafFacts, at: float, outside: bool, reaches: Sequence[float] = _REACHES, past: float | None = None
) -> tuple[Spot, ...]:
    """Spots square off a leaf's face, or off the face of its whole wall where `past` says how far left that lies."""
    left = _face(facts, outside) if past is None else past
    return _beside(board, facts.wall, on_plan(facts.wall, at, left), outside, reaches)


def _beside(board: Board, wall: Wall, at: Point, outside: bool, reaches: Sequence[float]) -> tuple[Spot, ...]:
    """Spots square off a wall's face, the nearest first; along a wall that runs up the sheet the text is turned."""
    normal = left_of(direction(wall.start, wall.end))
    side = -1.0 if outside else 1.0
    away = (normal[0] * side, normal[1] * side)
    places = tuple((at[0] + away[0] * board.mm(r), at[1] + away[1] * board.mm(r)) for r in reaches)
    if abs(away[0]) > 0.9:
        upright: VAlign = "top" if away[0] > 0 else "base"
        return tuple(Spot(p, "centre", upright, 90.0) for p in places)
    align: Align = "left" if away[0] > 0.3 else "right" if away[0] < -0.3 else "centre"
    valign: VAlign = "base" if away[1] > 0.3 else "top" if away[1] < -0.3 else "middle"
    return tuple(Spot(p, align, valign) for p in places)


def _name_wall(board: Board, facts: LeafFacts, within: Rect, soft: Room) -> None:
    """A wall's id and name outside it, or inside; smaller, then the id alone; only then where a joint's label would rather be."""
    wall = facts.wall
    back = facts.leaf.offset + wall.thickness
    middle = on_plan(wall, wall.length / 2, facts.leaf.offset)
    whole = f"{wall.id} {wall.name}".strip()
    tries = [(whole, size, False) for size in NAME_SIZES]
    tries += [(wall.id, size, False) for size in NAME_SIZES] + [(whole, NAME_SIZES[-1], True)]
    for kept in (True, False):
        for words, size, leader in tries:
            half = board.fonts.width(words, board.mm(size), bold=True) / 2
            spots = tuple(
                spot
                for outside in (True, False)
                for reach in _NAME_REACHES
                for at in (wall.length * share for share in _SHARES)
                if at == wall.length / 2 or half <= at <= wall.length - half
                for spot in _off(board, facts, at, outside, (reach,), None if outside else back)
            )
            label = Label(words, Role.TEXT, spots, middle, 0, size, True, wall.id, leader)
            if kept:
                clear = tuple(spot for spot in spots if soft.free(label_box(board, label, spot)))
                label = label._replace(spots=clear, leader=False)
            if not place_labels(board, [label], within, soft):
                return


def _corner_labels(board: Board, subject: Subject, developed: Developed) -> Iterator[Label]:
    """At every corner and end of a run how far along it that is, and where it starts."""
    leaves = {facts.leaf.id: facts for facts in subject.leaves}
    for node in developed.run.nodes:
        facts = leaves[node.at[0][0]]
        words = f"{developed.run.id} {facts.figures.run(developed.nodes[node.id])}"
        if node.id == developed.start:
            words = f"{developed.run.id} starts"
        elif node.kind != "end" and not turns(node, leaves):
            continue
        at, out = _corner_place(facts, node)
        spots = tuple(_diagonal(board, at, out))
        role = Role.DIMENSION
        yield Label(words, role, spots, at, 1, NOTE_SIZE, node.id == developed.start, developed.run.id)


def turns(node: RunNode, leaves: Mapping[str, LeafFacts]) -> bool:
    """True at a node where the run goes round a corner, and not on in a line."""
    if node.kind != "corner":
        return False
    ways = [direction(leaves[leaf].wall.start, leaves[leaf].wall.end) for leaf, _ in node.at]
    return any(abs(cross(ways[0], way)) > STRAIGHT for way in ways[1:])


def _corner_place(facts: LeafFacts, node: RunNode) -> tuple[Point, Point]:
    """Where the label of a corner points to and which way it stands off: outwards off an outer leaf, inwards off an inner."""
    leaf, wall, at = facts.leaf, facts.wall, node.at[0][1]
    d = direction(wall.start, wall.end)
    n = left_of(d)
    inner = len(wall.leaves) > 1 and leaf.side == "inner"
    side = 1.0 if inner else -1.0
    finish = abs(at - leaf.span.end) < abs(at - leaf.span.start)
    end = leaf.finish_end if finish else leaf.start_end
    place, onward = at, 1.0 if finish else -1.0
    if inner and end.kind == "corner":
        place = end.near + end.far - at
        onward = -onward
    elif end.kind == "corner" and abs(end.near - at) < abs(end.far - at):
        onward = -onward
    point = on_plan(wall, place, leaf.offset + (leaf.thickness if inner else 0.0))
    return point, (n[0] * side + d[0] * onward, n[1] * side + d[1] * onward)


def _diagonal(board: Board, at: Point, out: Point) -> Iterator[Spot]:
    """Spots off a corner, the text beginning or ending there, whichever leads away from it."""
    align: Align = "left" if out[0] > 0.2 else "right" if out[0] < -0.2 else "centre"
    valign: VAlign = "base" if out[1] > 0.2 else "top" if out[1] < -0.2 else "middle"
    for reach in _CORNER_REACHES:
        for x, y in ((1.2, reach), (reach, 1.2), (reach, reach)):
            yield Spot((at[0] + out[0] * board.mm(x), at[1] + out[1] * board.mm(y)), align, valign)


def _opening_labels(board: Board, facts: LeafFacts) -> Iterator[Label]:
    """The ids of openings, near their middle, where there is room."""
    back = facts.leaf.offset + facts.wall.thickness
    for opening in openings_cut(facts):
        spots = [
            spot
            for outside in (True, False)
            for spot in _off(board, facts, opening.rect.along.middle, outside, (1.2, 3.6), None if outside else back)
        ]
        target = on_plan(facts.wall, opening.rect.along.middle, facts.leaf.offset)
        yield Label(opening.id, Role.OPENING, tuple(spots), target, 2, NOTE_SIZE, False, opening.id, leader=False)


def _feature_labels(board: Board, facts: LeafFacts) -> Iterator[Label]:
    """What a feature is."""
    for feature in facts.wall.features:
        if facts.leaf.span.contains(feature.at):
            spots = _off(board, facts, feature.at, True, (3.2, 5.4))
            target = on_plan(facts.wall, feature.at, facts.leaf.offset)
            yield Label(feature.kind, Role.MARK, spots, target, 3, NOTE_SIZE, False, facts.wall.id)


def _met_labels(board: Board, facts: LeafFacts) -> Iterator[Label]:
    """How another wall is connected to this leaf's face."""
    back = facts.leaf.offset + facts.leaf.thickness
    for met in facts.met:
        half = met.band.width / 2 + board.mm(1.0)
        middle = met.band.along.middle
        width = board.fonts.width(met.connection, board.mm(NOTE_SIZE)) / 2
        spots: list[Spot] = []
        for outside in (False, True):
            for at in (middle + half + width, middle - half - width):
                spots += _off(board, facts, at, outside, (1.2, 3.6), None if outside else back)
        target = on_plan(facts.wall, middle, back)
        yield Label(met.connection, Role.MEETING, tuple(spots), target, 4, NOTE_SIZE, False, met.wall, leader=False)
