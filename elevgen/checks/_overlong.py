"""Pieces of masonry without a movement joint, the longest way through each, and the spacing that way breaks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._finding import Place
from elevgen.checks._masonry import through_joints
from elevgen.checks._paths import Stretch, Way, longest, pieces
from elevgen.checks._spacing import Allowed, allowed
from elevgen.core.geometry import TOLERANCE, Rect, Span, at_most, merge
from elevgen.core.measures import millimetres
from elevgen.core.sourced import Sourced
from elevgen.result import Design


class Limit(NamedTuple):
    """A spacing (mm), and the rule it is from."""

    number: float
    source: Sourced | None


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

    def place(self, leaves: Mapping[str, Leaf]) -> Place:
        """From where to where the way goes, as joint-spacing has it."""
        return place_of(self.way, leaves)


def place_of(way: Way, leaves: Mapping[str, Leaf]) -> Place:
    """From where to where a way goes: walls in the order of the spec, along a wall from its start."""
    order = {leaf: n for n, leaf in enumerate(leaves)}
    (a, start), (b, end) = sorted((way.start, way.end), key=lambda at: (order[at[0]], at[1]))
    label = f"{a} all round" if way.closed else f"{a} {millimetres(start)} to {b} {millimetres(end)}"
    return Place(label, tuple(dict.fromkeys(leaves[leaf].wall for leaf in way.leaves)), way.leaves)


def every_piece(design: Design) -> Iterator[Piece]:
    """Every piece of every run for which a spacing is known. An opening from base to top, such as a gate, parts it."""
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    joints = through_joints(design)
    gates = {leaf.id: [void.along for void in leaf.voids if is_gate(leaf, void)] for leaf in leaves.values()}
    cuts = {name: [*(j.at for j in joints[name]), *(at for g in gates[name] for at in (g.start, g.end))] for name in leaves}
    rules = {name: known for name, leaf in leaves.items() if (known := allowed(design, leaf)).usual_source is not None}
    usual = {name: known.usual for name, known in rules.items()}
    for run in design.runs:
        for piece in pieces(run, cuts):
            way = longest(piece, usual)
            governing = [rules[leaf] for leaf in way.leaves if leaf in rules]
            solid = any(not any(gate.contains(s.span.middle) for gate in gates[s.leaf]) for s in piece)
            if governing and solid:
                yield Piece(piece, way, _broken(way.length, governing))


def is_gate(leaf: Leaf, void: Rect) -> bool:
    """Whether a hole in a leaf leaves no masonry over it nor under it. Another wall running through is no hole."""
    return void not in leaf.crossings and not (over(leaf, void) or under(leaf, void))


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
        return Limit(most.greatest, most.greatest_source)
    return None if at_most(length, normal.usual) else Limit(normal.usual, normal.usual_source)
