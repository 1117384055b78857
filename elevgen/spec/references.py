"""Names in a spec that must lead somewhere, and ids that must be there once. Works on raw JSON, however wrong the rest is."""

from __future__ import annotations

from typing import Any

from elevgen.core.errors import JsonPath
from elevgen.core.geometry import TOLERANCE
from elevgen.spec import metres, peek
from elevgen.spec.faults import FaultList, listed, mm, quoted
from elevgen.spec.vocabulary import Vocabulary

_DEFAULT_RULES = "uk"
_WASTE = "waste."
_LIKELY_ZONE = 10.0
"""A zone's top given as a number under this (mm) and not 0 is likely metres."""


def check_references(raw: Any, vocabulary: Vocabulary, faults: FaultList) -> None:
    """Note every name that leads nowhere and every id given twice."""
    _check_rules(raw, vocabulary, faults)
    _check_leaves(raw, vocabulary, faults)
    _check_wall_types(raw, faults)
    single = frozenset(name for name, made in peek.named(raw, "wall_types") if made.get("inner") is made.get("cavity") is None)
    _check_walls(raw, single, faults)
    _check_junctions(raw, single, faults)


def unit_names(raw: Any, vocabulary: Vocabulary) -> frozenset[str]:
    """The spec's own units and those of its rule set; of every set where the set named is not known."""
    rules = peek.text(raw, "rules") or _DEFAULT_RULES
    shared = vocabulary.units.get(rules)
    if shared is None:
        shared = frozenset().union(*vocabulary.units.values())
    return shared | frozenset(peek.names(raw, "units"))


def _check_rules(raw: Any, vocabulary: Vocabulary, faults: FaultList) -> None:
    rules = peek.text(raw, "rules")
    if rules is not None and rules not in vocabulary.rule_sets:
        faults.unknown(("rules",), "rule set", rules, vocabulary.rule_sets)
    see = f"`elevgen rules {rules if rules in vocabulary.rule_sets else _DEFAULT_RULES}` lists them"
    overridden: dict[str, int] = {}
    for i, override in peek.objects(raw, "overrides"):
        path = ("overrides", i, "rule")
        if (rule := peek.text(override, "rule")) is None:
            continue
        if rule not in vocabulary.rule_keys:
            faults.unknown(path, "rule", rule, vocabulary.rule_keys, see)
        _check_once(path, "rule", rule, overridden, i, "overrides", faults)
    for i, waiver in peek.objects(raw, "waivers"):
        code = peek.text(waiver, "finding")
        if code is not None and code not in vocabulary.finding_codes:
            faults.unknown(("waivers", i, "finding"), "finding", code, vocabulary.finding_codes)
    layers = peek.text(raw.get("sheet"), "layers")
    if layers is not None and not layers.endswith(".json") and layers not in vocabulary.layer_tables:
        faults.unknown(("sheet", "layers"), "layer table", layers, vocabulary.layer_tables)
    measured_by = peek.text(raw.get("measurement"), "rules")
    if measured_by is not None and measured_by not in vocabulary.measurement_rules:
        faults.unknown(("measurement", "rules"), "measurement rule set", measured_by, vocabulary.measurement_rules)
    items = tuple(key.removeprefix(_WASTE) for key in vocabulary.rule_keys if key.startswith(_WASTE))
    for item in peek.names(raw.get("measurement"), "waste"):
        if item not in items:
            faults.unknown(("measurement", "waste", item), "item with waste", item, items, at_key=True)


def _check_leaves(raw: Any, vocabulary: Vocabulary, faults: FaultList) -> None:
    units = unit_names(raw, vocabulary)
    for name, leaf in peek.named(raw, "leaves"):
        zones = tuple(peek.objects(leaf, "zones"))
        for i, zone in zones:
            unit = peek.text(zone, "unit")
            if unit is not None and unit not in units:
                faults.unknown(("leaves", name, "zones", i, "unit"), "unit", unit, units)
        _check_zone_levels(("leaves", name, "zones"), zones, len(leaf["zones"]) if zones else 0, faults)
        bond = peek.text(leaf, "bond")
        if bond is not None and bond not in vocabulary.bonds:
            faults.unknown(("leaves", name, "bond"), "bond", bond, vocabulary.bonds)


def _check_zone_levels(path: JsonPath, zones: tuple[tuple[int, dict[str, Any]], ...], count: int, faults: FaultList) -> None:
    below: float | None = None
    for i, zone in zones:
        if zone.get("to") is None:
            if i < count - 1:
                faults.add((*path, i, "to"), 'only the last zone may lack the key "to"', "the level this zone goes up to")
            continue
        if metres.likely(given := zone["to"], _LIKELY_ZONE):
            faults.add((*path, i, "to"), f"ends {mm(given)} from level 0{metres.hint(given)}", metres.insist(given))
            continue
        to = peek.length(zone, "to")
        if to is not None and below is not None and to <= below + TOLERANCE:
            faults.add((*path, i, "to"), "is not above the zone below", f"more than {below:.15g} mm")
        below = to if to is not None else below


def _check_wall_types(raw: Any, faults: FaultList) -> None:
    leaves = peek.names(raw, "leaves")
    for name, wall_type in peek.named(raw, "wall_types"):
        path = ("wall_types", name)
        for side in ("outer", "inner"):
            leaf = peek.text(wall_type, side)
            if leaf is not None and leaf not in leaves:
                faults.unknown((*path, side), "leaf", leaf, leaves)
        has_inner, has_cavity = wall_type.get("inner") is not None, wall_type.get("cavity") is not None
        if has_inner and not has_cavity:
            faults.add((*path, "cavity"), "a wall with an inner leaf needs a cavity", "the clear width between the leaves")
        if has_cavity and not has_inner:
            faults.add((*path, "cavity"), "a wall with a cavity needs an inner leaf", f"inner: {listed(leaves)}")


def _check_walls(raw: Any, single: frozenset[str], faults: FaultList) -> None:
    types = peek.names(raw, "wall_types")
    walls: dict[str, int] = {}
    openings: dict[str, str] = {}
    for i, wall in peek.objects(raw, "walls"):
        wall_type = peek.text(wall, "type")
        if wall_type is not None and wall_type not in types:
            faults.unknown(("walls", i, "type"), "wall type", wall_type, types)
        if (wall_id := peek.text(wall, "id")) is not None:
            _check_once(("walls", i, "id"), "wall", wall_id, walls, i, "walls", faults)
        for j, opening in peek.objects(wall, "openings"):
            if (opening_id := peek.text(opening, "id")) is not None:
                _check_once_anywhere(("walls", i, "openings", j, "id"), opening_id, openings, faults)
        if peek.text(wall, "type") in single:
            _check_joint_leaves(i, wall, faults)


def _check_joint_leaves(i: int, wall: dict[str, Any], faults: FaultList) -> None:
    for j, joint in peek.objects(wall, "joints"):
        if joint.get("leaf") == "inner":
            faults.add(("walls", i, "joints", j, "leaf"), "this wall has no inner leaf", "outer, or no leaf")


def _check_junctions(raw: Any, single: frozenset[str], faults: FaultList) -> None:
    walls = {wall_id: wall for _, wall in peek.objects(raw, "walls") if (wall_id := peek.text(wall, "id")) is not None}
    said: dict[tuple[frozenset[str], str | None], int] = {}
    for i, junction in peek.objects(raw, "junctions"):
        path = ("junctions", i, "walls")
        named = tuple(peek.texts(junction.get("walls")))
        for j, wall_id in named:
            if wall_id not in walls:
                faults.unknown((*path, j), "wall", wall_id, walls)
        ids = [wall_id for _, wall_id in named]
        if len(ids) != 2:
            continue
        if ids[0] == ids[1]:
            faults.add((*path, 1), "a wall cannot meet itself", "two different walls")
        elif all(wall_id in walls for wall_id in ids):
            leaf = peek.text(junction, "leaf")
            if leaf == "inner" and all(peek.text(walls[wall_id], "type") in single for wall_id in ids):
                faults.add(("junctions", i, "leaf"), "neither wall has an inner leaf", "outer, or no leaf")
            first = said.setdefault((frozenset(ids), leaf), i)
            if first != i:
                faults.add(path, f"this meeting is described already, in junctions[{first}]", "each meeting once")


def _check_once(path: JsonPath, what: str, name: str, seen: dict[str, int], i: int, holder: str, faults: FaultList) -> None:
    first = seen.setdefault(name.casefold(), i)
    if first != i:
        faults.add(
            path,
            f"{what} {quoted(name)} is there already, in {holder}[{first}]",
            "each name once; capitals do not tell names apart",
        )


def _check_once_anywhere(path: JsonPath, name: str, seen: dict[str, str], faults: FaultList) -> None:
    where = f"walls[{path[1]}].openings[{path[3]}]"
    first = seen.setdefault(name.casefold(), where)
    if first != where:
        faults.add(
            path,
            f"opening {quoted(name)} is there already, in {first}",
            "each id once in the whole building; capitals do not tell ids apart",
        )
