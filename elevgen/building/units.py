"""Units by name: those the spec defines, then those every spec of the rule set may use."""

from __future__ import annotations

from typing import cast

from elevgen.building.model import Unit
from elevgen.rules.book import RuleReader
from elevgen.spec.fields import Material
from elevgen.spec.models import Spec


def units_of(spec: Spec, reader: RuleReader) -> dict[str, Unit]:
    """Every unit the spec's leaves name. A unit without a joint of its own takes the rule set's `joint.nominal`.

    Raises RuleNotCovered where a joint is needed and the set has none.
    """
    names = sorted({zone.unit for leaf in spec.leaves.values() for zone in leaf.zones})
    return {name: _unit(name, spec, reader) for name in names}


def _unit(name: str, spec: Spec, reader: RuleReader) -> Unit:
    if name not in spec.units:
        known = reader.book.units[name]
        material = cast(Material, known.material)
        joint = reader.number("joint.nominal") if known.joint is None else known.joint
        return Unit(name, material, known.length, known.height, known.width, joint, known.mass, own_bed=known.bed)
    own = spec.units[name]
    joint = reader.number("joint.nominal") if own.joint is None else own.joint
    return Unit(name, own.material, own.length, own.height, own.width, joint, own.mass, own.hollows, own.bed)
