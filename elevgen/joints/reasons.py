"""Why each joint of a run stands where it does: what would be wrong without it, and what is worth saying about its place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Building, Leaf
from elevgen.core.figures import Figures
from elevgen.core.geometry import Span, at_most
from elevgen.joints.audit import Remnant, Straight, joined, rejoined, remnants, straights
from elevgen.joints.limits import CORNER_FRACTION
from elevgen.joints.model import JointWidth
from elevgen.joints.problem import Edge, Face, Placed, Problem, Solution, Wanted
from elevgen.joints.sides import beside
from elevgen.joints.spacings import materials
from elevgen.joints.survey import Surveyed, leaf_of
from elevgen.joints.width import Beside
from elevgen.joints.words import hiding_words, length, opening_words, run_words

NEEDLESS = "shortens the pieces beside it"


class Cut(NamedTuple):
    """A run cut at its joints: the pieces that border each joint, and the joints of each face; what the run is built of."""

    surveyed: Surveyed
    joints: tuple[Placed, ...]
    pieces: tuple[Remnant, ...]
    beside: Mapping[Placed, tuple[Remnant, ...]]
    edges: Mapping[str, Edge]
    faces: Mapping[str, Face]
    on_face: Mapping[str, Sequence[Placed]]
    materials: frozenset[str]

    def wanted_at(self, joint: Placed) -> list[Wanted]:
        """What asks for a joint where this one stands."""
        face = self.edges[joint[0]].face
        return [w for w in self.surveyed.problem.wanted if w.met_at(face, joint[1])]

    def longest_beside(self, joint: Placed) -> Remnant:
        """Of the pieces it borders, that with the longest path."""
        return max(self.beside[joint], key=lambda piece: piece.longest)

    def at_ends(self) -> dict[tuple[str, float], Beside]:
        """The piece that each end of an edge, by its leaf and position, is part of: its longest path and its leaves."""
        found: dict[tuple[str, float], Beside] = {}
        for piece in self.pieces:
            here = beside(self.surveyed, piece)
            for edge, span in piece.stretches:
                for end in ((leaf_of(edge), span.start), (leaf_of(edge), span.end)):
                    found[end] = max(found.get(end, here), here, key=lambda one: one.length)
        return found

    def without(self, joint: Placed) -> Remnant:
        """The piece there would be without the joint."""
        return rejoined(self.beside[joint], joint, self.edges, self.faces, self.surveyed.problem.spacing)

    def uncut(self, joint: Placed) -> Problem:
        """The masonry between the other joints that the joint stands in."""
        return joined(self.beside[joint], joint, self.edges, self.faces, self.surveyed.problem.spacing)

    def straight_without(self, joint: Placed) -> Straight:
        """The straight stretch of its face there would be without the joint."""
        face = self.faces[self.edges[joint[0]].face]
        on_face = self.on_face[face.id]
        here = on_face.index(joint)
        others = [*on_face[max(here - 1, 0) : here], *on_face[here + 1 : here + 2]]
        between = Problem(
            tuple(self.edges[name] for name in {edge for edge, _ in others}), (face,), self.surveyed.problem.spacing
        )
        return next(s for s in straights(between, others) if s.span.contains(joint[1]))


def cut(surveyed: Surveyed, solution: Solution) -> Cut:
    """The run as the joints of a solution leave it."""
    pieces = remnants(surveyed.problem, solution.joints)
    beside: dict[Placed, list[Remnant]] = {}
    for piece in pieces:
        for joint in dict.fromkeys(piece.joints):
            beside.setdefault(joint, []).append(piece)
    edges = {edge.id: edge for edge in surveyed.problem.edges}
    on_face: dict[str, list[Placed]] = {}
    for joint in solution.joints:
        on_face.setdefault(edges[joint[0]].face, []).append(joint)
    for joints in on_face.values():
        joints.sort(key=lambda joint: joint[1])
    faces = {face.id: face for face in surveyed.problem.faces}
    of = frozenset(material for limits in surveyed.limits.values() for material in materials(limits.leaf))
    return Cut(surveyed, solution.joints, pieces, {j: tuple(p) for j, p in beside.items()}, edges, faces, on_face, of)


def why(figures: Figures, made: Cut, placed: Placed, building: Building) -> tuple[str, tuple[str, ...]]:
    """What would be wrong without this joint, and the rules that say so; what asks for one near by, and has no other."""
    text, basis = _needed(figures, made, placed, building)
    alone = [w for w in made.wanted_at(placed) if len([j for j in made.joints if w.met_at(made.edges[j[0]].face, j[1])]) == 1]
    if not alone:
        return text, basis
    said = [f"one is asked for {w.words}" for w in alone]
    said = said if text == NEEDLESS else [text, *said]
    return "; ".join(said), (*(() if text == NEEDLESS else basis), *(w.rule for w in alone))


def _needed(figures: Figures, made: Cut, placed: Placed, building: Building) -> tuple[str, tuple[str, ...]]:
    surveyed = made.surveyed
    left = made.without(placed)
    if not left.short_enough:
        return _too_long(figures, made, left, building)
    whole = made.straight_without(placed)
    limit, limits = whole.face.panel_limit(whole.span), surveyed.limits[surveyed.leaves[placed[0]]]
    if limit is not None and limits.panel is not None and not at_most(whole.span.length, limit):
        text = f"panel of {length(figures, whole.span.length)} would exceed {length(figures, limit)}"
        text += f", {limits.panel.number:g} times its height"
        if limits.reach is not None and _first_from_corner(whole, placed[1], limits.reach.number):
            text += f"; first joint within {length(figures, limits.reach.number)} of the corner"
            return text, (limits.panel.key, *limits.reach.basis)
        return text, (limits.panel.key,)
    reach = limits.reach
    if reach is None or (made.wanted_at(placed) and not _first_from_corner(whole, placed[1], reach.number)):
        return NEEDLESS, (CORNER_FRACTION, *surveyed.spacing_of(whole.face.id).basis)
    return f"first joint within {length(figures, reach.number)} of the corner", reach.basis


def _first_from_corner(whole: Straight, at: float, reach: float) -> bool:
    """Whether the straight stretch that a joint cuts begins or ends at a corner, which without it had no joint so near."""
    sides = ((whole.start, at - whole.span.start), (whole.finish, whole.span.end - at))
    return not at_most(whole.span.length, reach) and any(kind == "corner" and at_most(apart, reach) for kind, apart in sides)


def _too_long(figures: Figures, made: Cut, left: Remnant, building: Building) -> tuple[str, tuple[str, ...]]:
    surveyed = made.surveyed
    spacing = surveyed.spacing_of(left.face)
    text = f"{run_words(figures, surveyed.run, building)} exceeds {length(figures, left.spacing)}"
    said = list(spacing.words)
    if len(made.materials) > 1:
        said.insert(0, f"{spacing.material.replace('_', ' ')} governs")
    elif len({limits.spacing.number for limits in surveyed.limits.values() if limits.spacing}) > 1:
        said.insert(0, f"{leaf_of(left.face)} governs")
    if said:
        text += f" ({'; '.join(said)})"
    if len(made.joints) > 1 or not at_most(surveyed.run.length, left.longest):
        text += f", {length(figures, left.longest)} in one piece without this joint"
    return text, spacing.basis


def where(
    figures: Figures, surveyed: Surveyed, edge: Edge, at: float, leaf: Leaf, building: Building, width: JointWidth
) -> Iterable[str]:
    """What is worth saying about the place itself."""
    candidate = next((c for c in edge.candidates if c.at == at), None) or surveyed.off_bond(edge.id, at)
    gap = Span(at - width.built / 2, at + width.built / 2)
    said = [hiding_words(surveyed.sites[leaf.id].hides, at), opening_words(figures, building.wall(leaf.wall), gap)]
    if candidate.crowding:
        said.append("nearer to an opening or a corner than liked, no better place with as few joints")
    if not candidate.on_grid:
        said.append("off the bond, units are cut")
    return [words for words in said if words]
