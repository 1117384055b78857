"""What is seen along a face from a branch node it runs straight through, and what the two sides ask of each other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from elevgen.core.geometry import Span, at_most
from elevgen.joints.graph import Side
from elevgen.joints.limbs import Arm
from elevgen.joints.line import excess
from elevgen.joints.problem import Face, FaceEnd


class Outlook(NamedTuple):
    """Where the straight stretch ends on one side of a node (position on the face), and whether there are candidates before.

    `to_finish`: seen towards the face's finish.
    """

    kind: FaceEnd
    at: float
    candidates: bool
    to_finish: bool

    @property
    def far(self) -> float:
        """Rises with the distance from the node; only to be compared among outlooks from one node along one face."""
        return self.at if self.to_finish else -self.at


NOTHING = Outlook("stem", 0.0, False, True)
"""A side that asks nothing of the other one, whatever it is."""


class FaceRule(NamedTuple):
    """A face, and whether its panels may be too long although no path is."""

    face: Face
    spacing: float
    panels: bool

    def plain(self, seen: Outlook) -> Outlook:
        """The outlook without what nothing on the other side makes a difference to."""
        if self.panels:
            return seen
        face = self.face
        if face.corner_reach is None or seen.kind not in ("corner", "joint"):
            return NOTHING
        if seen.kind == "joint":
            kind, end = (face.start, face.span.start) if seen.to_finish else (face.finish, face.span.end)
            off = abs(seen.at - end)
            if kind != "corner" or at_most(off, face.corner_reach) or not at_most(off, self.spacing):
                return NOTHING
        return seen._replace(candidates=False)

    def asks_along(self, stretch: Span) -> bool:
        """Whether anything along a stretch of the face may make a difference to what is beyond it."""
        face = self.face
        if self.panels:
            return True
        near_start = face.start == "corner" and at_most(stretch.start - face.span.start, self.spacing)
        near_finish = face.finish == "corner" and at_most(face.span.end - stretch.end, self.spacing)
        return face.corner_reach is not None and (near_start or near_finish)

    def onwards(self, seen: Outlook, candidates: bool) -> Outlook:
        """The same seen from further off, past a stretch that has candidates or not."""
        return seen._replace(candidates=True) if self.panels and candidates else seen

    def missed(self, one: Outlook, two: Outlook) -> int | None:
        """What the stretch between two outlooks costs; None where it is a panel that a joint could have made shorter."""
        if NOTHING in (one, two):
            return 0
        over = Span(min(one.at, two.at), max(one.at, two.at))
        if self.panels and (one.candidates or two.candidates) and not self.face.short_enough(over):
            return None
        if self.face.corner_reach is None or {one.kind, two.kind} != {"corner", "joint"}:
            return 0
        return excess(over.length - self.face.corner_reach)


def face_rules(faces: Sequence[Face], spacing: float) -> Mapping[str, FaceRule]:
    """The rules of faces by their names."""
    return {face.id: FaceRule(face, spacing, face.panels().start < spacing) for face in faces}


class Group(NamedTuple):
    """Joints that may be the nearest to one end of a limb and look alike along the face: distances rising, and which they are."""

    face: str | None
    seen: Outlook
    distances: tuple[int, ...]
    places: tuple[int, ...]


def thousandths(length: float) -> int:
    """A length in whole thousandths of a millimetre: sums of them do not depend on their order."""
    return int(length * 1000 + 0.5)


def groups(arm: Arm, side: Side, rules: Mapping[str, FaceRule]) -> list[Group]:
    """The joints that may be nearest to one end of a cut limb, at their distances (0.001 mm)."""
    if arm.limb.dead[side]:
        return [Group(None, NOTHING, (0,), (0,))]
    distances = [thousandths(d) for d in arm.distances(side).tolist()]
    if not arm.runs_on(side):
        return [Group(None, NOTHING, tuple(distances), tuple(range(len(distances))))]
    segment = arm.segment(side)
    rule = rules[segment.face.id]
    if not rule.asks_along(segment.stretch(segment.left, segment.right)):
        return [Group(segment.face.id, NOTHING, tuple(distances), tuple(range(len(distances))))]
    to_finish = segment.forward == (side == 0)
    end = rule.plain(_face_end(arm, side))
    found: dict[Outlook, list[int]] = {}
    for k, (on, x) in enumerate(zip(arm.on_face(side), arm.limb.line.x[arm.joints_from(side)].tolist(), strict=True)):
        seen = rule.plain(Outlook("joint", round(segment.stretch(x, x).start, 3), k > 0, to_finish)) if on else end
        found.setdefault(seen, []).append(k)
    return [Group(segment.face.id, seen, tuple(distances[k] for k in ks), tuple(ks)) for seen, ks in found.items()]


def beyond(arm: Arm, side: Side, rules: Mapping[str, FaceRule]) -> Outlook | None:
    """What is seen from a node along a limb left whole; None where the face runs on at its other end too."""
    other: Side = 1 if side == 0 else 0
    if len(arm.limb.line.segments) == 1 and arm.runs_on(other):
        return None
    return rules[arm.segment(side).face.id].plain(_face_end(arm, side))


def _face_end(arm: Arm, side: Side) -> Outlook:
    segment = arm.segment(side)
    face = segment.face
    number = 0 if side == 0 else len(arm.limb.line.segments) - 1
    candidates = bool((arm.limb.line.segment == number).any())
    to_finish = segment.forward == (side == 0)
    kind, at = (face.finish, face.span.end) if to_finish else (face.start, face.span.start)
    return Outlook(kind, round(at, 3), candidates, to_finish)
