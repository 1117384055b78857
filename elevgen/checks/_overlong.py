"""Pieces of masonry without a movement joint, the longest way through each, and the spacing that way breaks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._finding import Place
from elevgen.checks._masonry import through_joints
from elevgen.checks._paths import Stretch, Way, longest, pieces
from elevgen.checks._spacing import Allowed, allowed
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_most, merge
from elevgen.core.sourced import Sourced
from elevgen.result import Design


class Limit(NamedTuple):
    """A spacing (mm), and the rule it is from."""

    number: float
    source: Sourced | None
    also: tuple[Sourced, ...] = ()


class Piece(NamedTuple):
    """Masonry between joints and ends, and the longest way through it.

    `over` is the spacing that way breaks, the greatest where it exceeds that and not only the usual; None where it keeps both.
    """

    stretches: tuple[Stretch, ...]
    way: Way
    over: Limit | None

    def spans(self, leaf: str) -> tuple[Span, ...]:
        """The stretches of a leaf in it, those that follow on each other made one."""
        return merge(s.span for s in self.stretches if s.leaf == leaf)

    def place(self, figures: Figures, leaves: Mapping[str, Leaf]) -> Place:
        """From where to where the way goes, as joint-spacing has it."""
        return place_of(figures, self.way, leaves)


def place_of(figures: Figures, way: Way, leaves: Mapping[str, Leaf]) -> Place:
    """From where to where a way goes: walls in the order of the spec, along a wall from its start."""
    order = {leaf: n for n, leaf in enumerate(leaves)}
    (a, start), (b, end) = sorted((way.start, way.end), key=lambda at: (order[at[0]], at[1]))
    label = f"{a} all round" if way.closed else f"{a} {figures.length(start)} to {b} {figures.length(end)}"
    return Place(label, tuple(dict.fromkeys(leaves[leaf].wall for leaf in way.leaves)), way.leaves)


def ways(design: Design, rules: Mapping[str, Allowed]) -> Iterator[tuple[tuple[Stretch, ...], Way, list[Allowed]]]:
    """Every piece of every run, the longest way through it, and the spacings known of the leaves that way goes through."""
    cuts = {name: [joint.at for joint in joints] for name, joints in through_joints(design).items()}
    usual = {name: known.usual for name, known in rules.items() if known.usual_source is not None}
    for run in design.runs:
        for piece in pieces(run, cuts):
            way = longest(piece, usual)
            if governing := [rules[leaf] for leaf in way.leaves if leaf in usual]:
                yield piece, way, governing


def every_piece(design: Design) -> Iterator[Piece]:
    """Every piece of every run for which a spacing is known."""
    rules = {leaf.id: allowed(design, leaf) for leaf in design.building.leaves}
    return (Piece(piece, way, _broken(way.length, governing)) for piece, way, governing in ways(design, rules))


def over(leaf: Leaf, hole: Rect) -> bool:
    """Whether the leaf has masonry over a hole in it."""
    return leaf.top.highest(hole.along.common(leaf.span) or hole.along) > hole.top + TOLERANCE


def under(leaf: Leaf, hole: Rect) -> bool:
    """Whether the leaf has masonry under a hole in it."""
    return leaf.base.lowest(hole.along.common(leaf.span) or hole.along) < hole.bottom - TOLERANCE


def _broken(length: float, governing: Sequence[Allowed]) -> Limit | None:
    """The greatest spacing where the length is over that, else the usual one where it is over that."""
    normal, most = min(governing, key=lambda a: a.usual), min(governing, key=lambda a: a.greatest)
    if most.greatest > normal.usual and not at_most(length, most.greatest):
        return Limit(most.greatest, most.greatest_source, most.also)
    return None if at_most(length, normal.usual) else Limit(normal.usual, normal.usual_source, normal.also)
