"""A movement joint in one leaf of a cavity wall is not taken for a joint in the other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from elevgen.building.model import Leaf, Wall
from elevgen.checks._finding import BUILDING, Place, at_leaf, at_wall, found
from elevgen.checks._masonry import through_joints
from elevgen.checks._overlong import Piece, every_piece
from elevgen.checks._rules import materials, uncovered
from elevgen.checks._spacing import allowed
from elevgen.checks._words import listed
from elevgen.core.figures import Figures
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-both-leaves"
TITLE = "Both leaves of a cavity wall"
RATIONALE = (
    "The two leaves are tied, not bonded: a joint in one does nothing for the other. Blocks inside shrink and need joints "
    "sooner than the bricks outside, which grow; each leaf is looked at by its own material."
)


def check(design: Design) -> Iterator[Finding]:
    """A note on each joint of one leaf past which the other goes on in a piece over its own spacing, no joint of its own near.

    Near is within a unit and its perpend. The length itself is judged by joint-spacing.
    """
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    joints = through_joints(design)
    by_leaf: dict[str, list[Piece]] = {}
    for piece in every_piece(design):
        for name in dict.fromkeys(s.leaf for s in piece.stretches):
            by_leaf.setdefault(name, []).append(piece)
    cavity_walls = [wall for wall in design.building.walls if len(wall.leaves) == 2]
    for wall in cavity_walls:
        yield from _of_wall(design, wall, [leaves[name] for name in wall.leaves], joints, by_leaf)
    if not cavity_walls:
        yield found("pass", BUILDING, "no wall of two leaves")


def _of_wall(
    design: Design,
    wall: Wall,
    pair: Sequence[Leaf],
    joints: Mapping[str, Sequence[MovementJoint]],
    by_leaf: Mapping[str, Sequence[Piece]],
) -> Iterator[Finding]:
    outer, inner = pair
    unknown = [(leaf, missing) for leaf in pair if (missing := allowed(design, leaf).missing)]
    for leaf, missing in unknown:
        yield uncovered(design, at_leaf(leaf), *missing)
    findings = [
        finding
        for jointed, other in ((outer, inner), (inner, outer))
        for piece in by_leaf.get(other.id, ())
        if (finding := _taken_for_both(design.figures, jointed, other, piece, joints)) is not None
    ]
    yield from findings
    if not findings and not unknown:
        yield found("pass", at_wall(wall), "; ".join(_looked_at(design.figures, leaf, by_leaf.get(leaf.id, ())) for leaf in pair))


def _taken_for_both(
    figures: Figures, jointed: Leaf, other: Leaf, piece: Piece, joints: Mapping[str, Sequence[MovementJoint]]
) -> Finding | None:
    """The joints of one leaf that the other, in a piece too long, goes on past."""
    limit = piece.over
    near = max(zone.unit.module for leaf in (jointed, other) for zone in leaf.zones)
    inside = [span.grown(-near) for span in piece.spans(other.id) if span.length > 2 * near]
    past = [j for j in joints[jointed.id] if any(span.contains(j.at) for span in inside)]
    if limit is None or not past:
        return None
    names, one = listed([joint.id for joint in past]), len(past) == 1
    length = f"{'' if piece.way.exact else 'at least '}{figures.run(piece.way.length)}"
    text = (
        f"{names} {'parts' if one else 'part'} the {jointed.side} leaf only: the {other.side} leaf, of {_named(other)}, goes on "
        f"past {'it' if one else 'them'} in a piece of {length}, where {figures.run(limit.number)} is allowed; "
        f"put a joint in the {other.side} leaf too, near {_places(figures, past)} along the wall"
    )
    place = Place(
        f"{jointed.wall} {other.side} leaf at {names}", (jointed.wall,), (jointed.id, other.id), (), tuple(j.id for j in past)
    )
    return found("note", place, text, measured=piece.way.length, most=limit.number, source=limit.source)


def _places(figures: Figures, joints: Sequence[MovementJoint]) -> str:
    *first, last = joints
    return listed([*(figures.length(joint.at) for joint in first), figures.measure(last.at)])


def _named(leaf: Leaf) -> str:
    return listed([material.replace("_", " ") for material in materials(leaf)])


def _looked_at(figures: Figures, leaf: Leaf, pieces: Sequence[Piece]) -> str:
    """The longest piece that a leaf is part of."""
    longest = max((piece.way.length for piece in pieces), default=leaf.span.length)
    return f"{leaf.side} leaf, {_named(leaf)}: up to {figures.run(longest)} in one piece"
