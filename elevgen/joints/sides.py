"""The masonry on both sides of every joint: the longest way through it, and the leaves it is of."""

from __future__ import annotations

from collections.abc import Sequence

from elevgen.joints.audit import Remnant
from elevgen.joints.problem import Placed
from elevgen.joints.survey import Surveyed
from elevgen.joints.width import Beside

Sides = tuple[Beside, Beside]
"""Before a joint and after it, along its leaf."""


def sides(surveyed: Surveyed, pieces: Sequence[Remnant]) -> dict[Placed, Sides]:
    """What is on either side of each joint of a run cut into those pieces; in a ring cut once, the same on both."""
    before: dict[Placed, Beside] = {}
    after: dict[Placed, Beside] = {}
    for piece in pieces:
        here = beside(surveyed, piece)
        bounds = set(piece.joints)
        for edge, span in piece.stretches:
            if (edge, span.end) in bounds:
                before[edge, span.end] = here
            if (edge, span.start) in bounds:
                after[edge, span.start] = here
    return {joint: (here, after[joint]) for joint, here in before.items()}


def beside(surveyed: Surveyed, piece: Remnant) -> Beside:
    """A piece as what stands beside a joint."""
    leaves = dict.fromkeys(surveyed.leaves[edge] for edge, _ in piece.stretches)
    return Beside(piece.longest, tuple(surveyed.limits[leaf].leaf for leaf in leaves))
