"""Units by name: those the spec defines, then those every spec of the rule set may use."""

from __future__ import annotations

from typing import cast

from elevgen.building.model import Unit
from elevgen.core.errors import Fault, SpecError
from elevgen.rules.book import RuleReader
from elevgen.spec.models import Material, Spec


def units_of(spec: Spec, reader: RuleReader) -> dict[str, Unit]:
    """Every unit the spec's leaves name. A unit without a joint of its own takes the rule set's `joint.nominal`.

    Raises SpecError for a name nobody defines; RuleNotCovered where a joint is needed and the set has none.
    """
    units: dict[str, Unit] = {}
    faults = []
    for leaf_name, leaf in spec.leaves.items():
        for index, zone in enumerate(leaf.zones):
            if zone.unit in units:
                continue
            unit = _unit(zone.unit, spec, reader)
            if unit is None:
                path = ("leaves", leaf_name, "zones", index, "unit")
                faults.append(
                    Fault(path, "no such unit", given=zone.unit, allowed=", ".join(sorted({*spec.units, *reader.book.units})))
                )
            else:
                units[zone.unit] = unit
    if faults:
        raise SpecError(tuple(faults))
    return units


def _unit(name: str, spec: Spec, reader: RuleReader) -> Unit | None:
    if name in spec.units:
        own = spec.units[name]
        joint = reader.number("joint.nominal") if own.joint is None else own.joint
        return Unit(name, own.material, own.length, own.height, own.width, joint)
    if name in reader.book.units:
        known = reader.book.units[name]
        material = cast(Material, known.material)
        return Unit(name, material, known.length, known.height, known.width, reader.number("joint.nominal"))
    return None
