"""The masonry on both sides of every joint: the longest way through it, and the leaves it is of."""

from __future__ import annotations

from collections.abc import Collection

from elevgen.joints.audit import remnants
from elevgen.joints.problem import Placed
from elevgen.joints.survey import Surveyed
from elevgen.joints.width import Beside

Sides = tuple[Beside, Beside]
"""Before a joint and after it, along its leaf."""


def sides(surveyed: Surveyed, joints: Collection[Placed]) -> dict[Placed, Sides]:
    """What is on either side of each joint once the run is cut at all of them; in a ring cut once, the same on both."""
    before: dict[Placed, Beside] = {}
    after: dict[Placed, Beside] = {}
    for remnant in remnants(surveyed.problem, joints):
        leaves = dict.fromkeys(surveyed.leaves[edge] for edge, _ in remnant.stretches)
        beside = Beside(remnant.longest, tuple(surveyed.limits[leaf].leaf for leaf in leaves))
        bounds = set(remnant.joints)
        for edge, span in remnant.stretches:
            if (edge, span.end) in bounds:
                before[edge, span.end] = beside
            if (edge, span.start) in bounds:
                after[edge, span.start] = beside
    return {joint: (before[joint], after[joint]) for joint in joints}
