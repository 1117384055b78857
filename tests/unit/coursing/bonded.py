"""Every bond laid round whole plans, in walls as thick as it is usually built, and read piece by piece off the placements.

The folder is on the path so that tests can import this.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cache, cached_property
from itertools import pairwise
from typing import Any, NamedTuple

from elevgen import pipeline
from elevgen.building.model import Leaf
from elevgen.coursing.model import Pattern, Piece, Placement
from elevgen.result import Design
from elevgen.spec.models import Spec

SIZES = {
    "brick": (215.0, 65.0, 102.5),
    "third": (290.0, 65.0, 90.0),
    "quarter": (440.0, 215.0, 100.0),
    "230x110": (230.0, 76.0, 110.0),
    "390x190": (390.0, 190.0, 190.0),
    "modular": (7.625 * 25.4, 2.25 * 25.4, 3.625 * 25.4),
}
JOINTS = {"modular": 0.375 * 25.4}
COURSES = 12
ONE_BRICK = ("english", "flemish", "header", "english_garden_wall_3", "english_garden_wall_5", "flemish_garden_wall")
SUITS = {"flemish": (19, 16), "flemish_garden_wall": (20, 16.5)}
"""Lengths of two walls in units that its courses fill without a broken bond; 20 and 16 suit the others."""
FULL_LAP = {"stretcher": 112.5, "quarter": 110.0, "third": 100.0} | dict.fromkeys(ONE_BRICK, 56.25)
"""The lap of each bond where nothing is cut but for it (mm)."""


class Reading(NamedTuple):
    """A piece where it lies along the wall; `real` with what is hidden of it."""

    left: float
    right: float
    real: float
    piece: Piece

    @property
    def shown(self) -> float:
        return self.right - self.left


class Laid:
    """A design of one unit, read by leaf and course."""

    def __init__(self, design: Design) -> None:
        self.design = design
        self._patterns = {p.id: p for p in design.coursing.patterns}

    @property
    def leaves(self) -> tuple[Leaf, ...]:
        return self.design.building.leaves

    @cached_property
    def placed(self) -> Mapping[tuple[str, int], Sequence[tuple[Placement, Pattern]]]:
        found = defaultdict(list)
        for laid in self.design.coursing.leaves:
            for p in sorted(laid.placements, key=lambda p: p.span):
                found[laid.leaf, p.course].append((p, self._patterns[p.pattern]))
        return found

    def courses(self, leaf: Leaf) -> list[int]:
        return [c.number for c in self.design.coursing.of(leaf.id).courses]

    def pieces(self, leaf: Leaf, course: int) -> list[Reading]:
        found = []
        for placement, pattern in self.placed[leaf.id, course]:
            for k, piece in enumerate(pattern.pieces):
                hidden = (k == 0) * pattern.hidden[0] + (k == len(pattern.pieces) - 1) * pattern.hidden[1]
                left = placement.span.start + piece.at
                found.append(Reading(left, left + piece.length, piece.length + hidden, piece))
        return found

    def lines(self, leaf: Leaf, course: int) -> list[float]:
        return [q.span.start + p.at + p.width / 2 for q, pattern in self.placed[leaf.id, course] for p in pattern.perpends]

    def real(self, leaf: Leaf, course: int) -> Iterator[tuple[float, Piece]]:
        """Every piece that belongs to the leaf, seen or not, with its real length."""
        yield from ((r.real, r.piece) for r in self.pieces(leaf, course) if r.piece.kind != "return")
        yield from ((p.length, p) for _, pattern in self.placed[leaf.id, course] for p in pattern.unseen)

    def laps(self) -> Iterator[float]:
        """The least distance between perpends of every two courses upon one another."""
        for leaf in self.leaves:
            for lower, upper in pairwise(self.courses(leaf)):
                pairs = ((a, b) for a in self.lines(leaf, lower) for b in self.lines(leaf, upper))
                if (least := min((abs(a - b) for a, b in pairs), default=None)) is not None:
                    yield least


def unit_of(bond: str) -> str:
    return bond if bond in ("third", "quarter") else "brick"


@cache
def laid(bond: str, plan: str, unit: str, build: str | None = None, size: tuple[float, float] = (20, 16)) -> Laid:
    length, height, width = SIZES[unit]
    joint = JOINTS.get(unit, 10.0)
    face = {"material": "clay", "length": length, "height": height, "width": width, "joint": joint}
    walls = PLANS[plan](length + joint, joint, (height + joint) * COURSES, *size)
    spec = {
        "spec": 1,
        "units": {"own": face},
        "leaves": {"masonry": {"bond": bond, "build": build, "zones": [{"unit": "own"}]}},
        "wall_types": {"single": {"outer": "masonry"}},
        "walls": [{"id": f"W{n}", "type": "single", "base": 0, "joints": []} | wall for n, wall in enumerate(walls, 1)],
    }
    return Laid(pipeline.design(Spec.model_validate(spec), "bonded"))


def round_about(points: Sequence[tuple[float, float]], top: float) -> list[dict[str, Any]]:
    return [{"start": list(a), "end": list(b), "top": top} for a, b in zip(points, (*points[1:], points[0]), strict=True)]


def ring(module: float, joint: float, top: float, along: float, across: float) -> list[dict[str, Any]]:
    x, y = along * module - joint, across * module - joint
    return round_about(((0, 0), (x, 0), (x, y), (0, y)), top)


def odd_ring(module: float, joint: float, top: float, along: float, across: float) -> list[dict[str, Any]]:
    return ring(module, joint, top, along + 33 / module, across - 61 / module)


def ell(module: float, joint: float, top: float, along: float, across: float) -> list[dict[str, Any]]:
    """The corner of the ring opposite to where it starts left out: 10 units off one side, 5 off the other."""
    x, y, x2, y2 = (n * module - joint for n in (along, across, along - 10, across - 5))
    return round_about(((0, 0), (x, 0), (x, y2), (x2, y2), (x2, y), (0, y)), top)


def straight(module: float, joint: float, top: float, along: float, across: float) -> list[dict[str, Any]]:
    """One wall between stopped ends."""
    return [{"start": [0, 0], "end": [along * module - joint, 0], "top": top}]


def pierced(module: float, joint: float, top: float, along: float, across: float) -> list[dict[str, Any]]:
    """A window in the first wall, five units wide with its perpends, and a movement joint in the second."""
    walls = ring(module, joint, top, along, across)
    course = top / COURSES
    place = {"at": 5 * module - joint, "width": 5 * module + joint, "sill": 3 * course, "height": 5 * course}
    walls[0]["openings"] = [{"id": "V1", "kind": "window"} | place]
    walls[1]["joints"] = [{"at": 8.5 * module - joint / 2, "width": 10}]
    return walls


PLANS = {"ring": ring, "odd": odd_ring, "ell": ell, "pierced": pierced, "straight": straight}


def near(a: float, b: float) -> bool:
    return abs(a - b) < 0.01


def suited(bond: str, plan: str = "ring", unit: str | None = None) -> Laid:
    return laid(bond, plan, unit or unit_of(bond), None, SUITS.get(bond, (20, 16)))


def corners(work: Laid) -> Iterator[tuple[tuple[Leaf, int], tuple[Leaf, int], bool]]:
    """Each corner as the finish of a leaf (1) and the start of the next (0), and whether it is an outer one."""
    for one, other in zip(work.leaves, (*work.leaves[1:], work.leaves[0]), strict=True):
        a, b = work.design.building.wall(one.wall), work.design.building.wall(other.wall)
        turn = (a.end[0] - a.start[0]) * (b.end[1] - b.start[1]) - (a.end[1] - a.start[1]) * (b.end[0] - b.start[0])
        yield (one, 1), (other, 0), turn > 0
