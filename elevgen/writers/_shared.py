"""What the written files have in common: the rule values behind a result, the names of leaves."""

from __future__ import annotations

from elevgen.building.model import Building
from elevgen.core.sourced import Sourced
from elevgen.result import Design
from elevgen.takeoff.model import Takeoff


def basis_of(design: Design, takeoff: Takeoff) -> tuple[Sourced, ...]:
    """Every rule value the result rests on, those of the take-off included, by key."""
    used = {value.key: value for value in (*design.rules_behind, *takeoff.rules_used)}
    return tuple(used[key] for key in sorted(used))


def leaf_sides(building: Building) -> dict[str, str]:
    """`outer` or `inner` for each leaf id."""
    return {leaf.id: leaf.side for leaf in building.leaves}
