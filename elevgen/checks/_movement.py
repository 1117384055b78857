"""How wide a joint must be for the movement of the masonry beside it, summed up anew from the rule values.

W = (100/X) D + t, D the closing or the opening of both sides at the unfavourable end of every range, half of each side's length
moving towards the joint; D more where X is said of the closed width; or D + what must be left open + t. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._rules import known, materials, rule
from elevgen.core.sourced import Sourced
from elevgen.result import Design

Case = Literal["closes", "opens"]


class Beside(NamedTuple):
    """What stands on one side of a joint: the longest way through it, and its leaves."""

    length: float
    leaves: tuple[Leaf, ...]


class Need(NamedTuple):
    """The width a joint needs, the movement it is for, the value that turns the one into the other, and all values behind it."""

    width: float
    case: Case
    movement: float
    source: Sourced
    also: tuple[Sourced, ...] = ()


class NoNeed(NamedTuple):
    """The rules without a value that keep the need from being known."""

    missing: tuple[str, ...]


def need(design: Design, sides: Sequence[Beside]) -> Need | NoNeed:
    """The greater of what closing and opening need, or the keys that are missing."""
    needed = (*_movement_keys(design, sides), *_width_keys(design))
    missing = tuple(dict.fromkeys(key for key in needed if rule(design, key) is None))
    if missing:
        return NoNeed(missing)
    moving: dict[Case, float] = {
        "closes": sum(_of_side(design, side, +1) for side in sides) + _figure(design, "movement.other", 0.0),
        "opens": sum(_of_side(design, side, -1) for side in sides) + _figure(design, "movement.other", 0.0),
    }
    needs = [found for case, by in moving.items() for found in _widths(design, case, by)]
    needed = (*needed, *_more_keys(design, sides))
    behind = known(design, *dict.fromkeys(needed))
    return max(needs, key=lambda found: found.width)._replace(also=behind)


def _of_side(design: Design, side: Beside, way: Literal[1, -1]) -> float:
    """How far a side grows (+1) or shrinks (-1) at the joint: half its length, by the material that does so most."""
    strains = [_strain(design, leaf, material, way) for leaf in side.leaves for material in materials(leaf)]
    return max(strains) / 1000 * side.length / 2


def _strain(design: Design, leaf: Leaf, material: str, way: Literal[1, -1]) -> float:
    """Growth or shrinkage in mm to the m."""
    thermal = max(_ends(design, "movement.thermal", material))
    moisture = max(way * end for end in _ends(design, "movement.moisture", material))
    reversible = max(_ends(design, "movement.reversible", material))
    return thermal * _warming(design, leaf, way) + max(moisture, 0.0) + reversible


def _ends(design: Design, stem: str, material: str) -> tuple[float, ...]:
    """The product's figure, else the two ends of the range."""
    product = rule(design, f"{stem}.{material}")
    if product is not None:
        return (product.number,)
    return _figure(design, f"{stem}.low.{material}"), _figure(design, f"{stem}.high.{material}")


def _warming(design: Design, leaf: Leaf, way: Literal[1, -1]) -> float:
    """How much hotter (+1) or colder (-1) than it was laid a leaf gets at worst."""
    if not _by_the_air(design):
        return _figure(design, _range_key(design, leaf))
    laid = (_figure(design, "movement.temperature.laying.low"), _figure(design, "movement.temperature.laying.high"))
    if way == -1:
        return max(max(laid) - _figure(design, "movement.temperature.air.coldest"), 0.0)
    sun = _figure(design, f"movement.temperature.sun.{_colour(design, leaf)}") if leaf.exposed else 0.0
    return max(_figure(design, "movement.temperature.air.hottest") + sun - min(laid), 0.0)


def _widths(design: Design, case: Case, movement: float) -> Iterator[Need]:
    tolerance = _figure(design, "movement_joint.tolerance")
    capability, left = rule(design, "sealant.movement_capability"), rule(design, "movement_joint.left_open")
    of = rule(design, "sealant.capability_of")
    if capability is not None and of is not None:
        shrunk = movement if of.value == "closed_width" else 0.0
        yield Need(movement / (capability.number / 100) + shrunk + tolerance, case, movement, capability)
    if left is not None and case == "closes":
        yield Need(movement + left.number + tolerance, case, movement, left)


def _movement_keys(design: Design, sides: Sequence[Beside]) -> Iterator[str]:
    """Every key the movement of these sides cannot be summed up without."""
    for leaf in {leaf.id: leaf for side in sides for leaf in side.leaves}.values():
        if not _by_the_air(design):
            yield _range_key(design, leaf)
        else:
            yield from (f"movement.temperature.laying.{end}" for end in ("low", "high"))
            if leaf.exposed:
                colour = _colour(design, leaf)
                yield f"movement.temperature.sun.{colour}" if colour else "movement.colour"
        for material in materials(leaf):
            for stem in ("movement.thermal", "movement.moisture", "movement.reversible"):
                if rule(design, f"{stem}.{material}") is None:
                    yield from (f"{stem}.low.{material}", f"{stem}.high.{material}")


def _more_keys(design: Design, sides: Sequence[Beside]) -> Iterator[str]:
    """What is not needed, but counts where it is there: the product's own figures, the air's temperatures."""
    yield "movement.other"
    if _by_the_air(design):
        yield from (f"movement.temperature.air.{end}" for end in ("hottest", "coldest"))
    for leaf in {leaf.id: leaf for side in sides for leaf in side.leaves}.values():
        for stem in ("movement.thermal", "movement.moisture", "movement.reversible"):
            yield from (f"{stem}.{material}" for material in materials(leaf))


def _width_keys(design: Design) -> Iterator[str]:
    """Every key a width cannot be worked out without; what must be left open stands in for a sealant's capability."""
    if rule(design, "movement_joint.left_open") is None:
        yield "sealant.movement_capability"
    yield "sealant.capability_of"
    yield "movement_joint.tolerance"


def _by_the_air(design: Design) -> bool:
    return all(rule(design, f"movement.temperature.air.{end}") is not None for end in ("hottest", "coldest"))


def _range_key(design: Design, leaf: Leaf) -> str:
    inside = "movement.temperature_range.inside"
    return inside if not leaf.exposed and rule(design, inside) is not None else "movement.temperature_range"


def _colour(design: Design, leaf: Leaf) -> str | None:
    unless_told = rule(design, "movement.colour")
    return leaf.colour or (None if unless_told is None else str(unless_told.value))


def _figure(design: Design, key: str, otherwise: float | None = None) -> float:
    """The number of a key that is known to be there, or that need not."""
    found = rule(design, key)
    if found is None and otherwise is not None:
        return otherwise
    assert found is not None, key
    return found.number
