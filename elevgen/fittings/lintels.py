"""Lintels: the ones every leaf has, with the bearing each really gets."""

from __future__ import annotations

from collections.abc import Sequence

from elevgen.building.demand import LintelDemand
from elevgen.building.model import Leaf, Wall
from elevgen.coursing.lintel_spans import Shared, bearings, share
from elevgen.fittings.edges import behind
from elevgen.fittings.model import Lintel
from elevgen.joints.model import MovementJoint
from elevgen.rules.book import RuleReader


def lintels(
    wall: Wall, leaf: Leaf, demands: Sequence[LintelDemand], joints: Sequence[MovementJoint], reader: RuleReader
) -> tuple[Lintel, ...]:
    """The lintels of a leaf from its start, lower ones first where they stand over one another. Lengths in mm.

    A bearing that the end of the leaf, a void or a movement joint cuts short is given at its true length.
    """
    shared = sorted(share(leaf, demands, joints, reader), key=lambda s: (s.clear.start, s.level))
    seen: dict[str, int] = {}
    made: list[Lintel] = []
    for group in shared:
        openings = behind(wall, {name for demand in group.demands for name in demand.openings}, group.clear)
        seen[openings[0]] = seen.get(openings[0], 0) + 1
        again = f"-{seen[openings[0]]}" if seen[openings[0]] > 1 else ""
        start, end = bearings(leaf, group, joints, reader)
        made.append(
            Lintel(
                id=f"{leaf.id}/L-{openings[0]}{again}",
                wall=leaf.wall,
                leaf=leaf.id,
                openings=openings,
                level=group.level,
                clear=group.clear,
                bearing_start=start,
                bearing_end=end,
                depth=None,
                basis=_basis(group, reader),
            )
        )
    return tuple(made)


def _basis(group: Shared, reader: RuleReader) -> tuple[str, ...]:
    keys = [key for demand in group.demands for key in demand.basis]
    if len(group.demands) > 1:
        keys.extend(("opening.pier.min", "lintel.bearing.long"))
    keys.append("lintel.length_step")
    return tuple(key for key in sorted(set(keys)) if reader.find(key) is not None)
