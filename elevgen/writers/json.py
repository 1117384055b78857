"""`design.json`: the whole result, one record a line. Lengths mm, levels from datum, positions along the wall line.

A `leaf` is named by its side and always stands beside its `wall`; together they are the leaf's id, `W1/outer`.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from elevgen.core.sourced import Sourced
from elevgen.core.units import decimal
from elevgen.core.version import VERSION
from elevgen.drawing.cautions import cautions
from elevgen.result import Design, Finding
from elevgen.rules.book import RuleBook
from elevgen.rules.measurement import Parameter
from elevgen.takeoff.model import Takeoff, Thumb
from elevgen.takeoff.standing import to_build
from elevgen.writers._json_cuts import cuts, lifts, slope_cuts, unit_masses
from elevgen.writers._json_fittings import (
    bed_reinforcement,
    corner_mesh,
    damp_courses,
    joint_parts,
    lintels,
    reinforcement_stock,
    site_tolerances,
    ties,
    trays,
)
from elevgen.writers._json_masonry import (
    courses,
    leaves,
    misfits,
    movement_joints,
    panels,
    pattern_record,
    placement,
    rakes,
    runs,
)
from elevgen.writers._json_orders import lift_weights, orders
from elevgen.writers._package import Package
from elevgen.writers._shared import basis_of, leaf_sides

FORMAT = "json"
NAME = "design.json"
PLACES = 4

Record = dict[str, Any]


def render(package: Package) -> dict[str, bytes]:
    """The result file, UTF-8."""
    return {NAME: text(document(package.design, package.takeoff)).encode("utf-8", "backslashreplace")}


def document(design: Design, takeoff: Takeoff) -> Record:
    """The result as plain data, fields in the order they are written."""
    sides = leaf_sides(design.building)
    walls = {leaf.id: leaf.wall for leaf in design.building.leaves}
    return {
        "elevgen": VERSION,
        "name": design.name,
        "spec_sha256": design.spec_sha256,
        "rules": {
            "id": design.rules.id,
            "edition": design.rules.edition,
            "values_used": [_used(design.rules, value) for value in basis_of(design, takeoff)],
        },
        **_shown_in(takeoff),
        "leaves": leaves(design),
        "runs": runs(design, sides),
        "movement_joints": movement_joints(design, sides),
        "placement": placement(design),
        "panels": panels(design, sides),
        "courses": courses(design),
        "patterns": [pattern_record(pattern) for pattern in design.coursing.patterns],
        "lintels": lintels(design, sides),
        "bed_reinforcement": bed_reinforcement(design, sides),
        "reinforcement_stock": reinforcement_stock(design),
        "ties": ties(design),
        "damp_courses": damp_courses(design, sides),
        "trays": trays(design),
        "joint_parts": joint_parts(design),
        "corner_mesh": corner_mesh(design, sides),
        "site_tolerances": site_tolerances(design),
        "rakes": rakes(design),
        "misfits": misfits(design),
        "cuts": cuts(design, walls, sides),
        "slope_cuts": slope_cuts(design, walls, sides),
        "lifts": lifts(to_build(design)),
        "unit_masses": unit_masses(design),
        "cautions": cautions(design),
        "findings": [_finding(finding) for finding in design.findings],
        "areas": _areas(takeoff),
        "quantities": _quantities(takeoff),
        "orders": orders(takeoff),
        "lift_weights": lift_weights(takeoff),
        "measured_by": [_parameter(each) for each in takeoff.measured_by.parameters()],
        "rules_of_thumb": [_thumb(thumb) for thumb in takeoff.thumbs],
        "not_measured": list(takeoff.not_measured),
    }


def _shown_in(takeoff: Takeoff) -> Record:
    """Where lengths are in feet, the units that bill and order list have in place of those here, and their size, exact."""
    if not takeoff.for_people.figures.in_feet:
        return {}
    units = dict.fromkeys(q.unit for q in takeoff.quantities)
    shown = {unit: takeoff.for_people.figures.unit(unit) for unit in units}
    return {"shown_in": {unit: {"unit": each.name, "size": decimal(each.size)} for unit, each in shown.items()}}


def text(data: Mapping[str, Any]) -> str:
    """JSON in which every record of a list has a line of its own, and ends with a newline."""
    return "{\n" + ",\n".join(f"{json.dumps(key)}: {_block(value)}" for key, value in data.items()) + "\n}\n"


def _block(value: Any) -> str:
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(_line(item) for item in value) + "\n]"
    if isinstance(value, dict):
        return "{\n" + ",\n".join(f"{json.dumps(key)}: {_block(item)}" for key, item in value.items()) + "\n}"
    return _line(value)


def _line(value: Any) -> str:
    return json.dumps(_rounded(value), ensure_ascii=False, allow_nan=False)


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        shown = round(value, PLACES)
        return int(shown) if shown.is_integer() else shown
    if isinstance(value, dict):
        return {str(key): _rounded(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(item) for item in value]
    return value


def _used(book: RuleBook, value: Sourced) -> Record:
    """A rule value with what other documents have for it, in its unit, and why it is the one."""
    others = [_sourced(other) for other in book.alternatives.get(value.key, ())]
    return {**_sourced(value), "alternatives": others, "why": book.why.get(value.key)}


def _sourced(value: Sourced) -> Record:
    return {
        "key": value.key,
        "value": value.value,
        "unit": value.unit,
        "document": value.document,
        "edition": value.edition,
        "clause": value.clause,
        "status": value.status,
        "note": value.note,
    }


def _finding(finding: Finding) -> Record:
    source = finding.source
    return finding.record() | {"rule": source.key if source else None}


def _areas(takeoff: Takeoff) -> list[Record]:
    return [
        {
            "leaf": area.leaf,
            "gross": area.gross,
            "openings": area.openings,
            "strips": area.strips,
            "movement_joints": area.movement_joints,
            "units": area.units,
            "mortar": area.mortar,
            "lintels": area.lintels,
            "net": area.net,
        }
        for area in takeoff.areas
    ]


def _quantities(takeoff: Takeoff) -> list[Record]:
    return [
        {
            "code": q.code,
            "item": q.item,
            "unit": q.unit,
            "net": q.net,
            "waste": q.waste,
            "order": q.order,
            "where": q.where,
            "laps": q.laps,
            "kind": q.kind,
            "derivation": q.derivation,
            "waste_known": q.waste_known,
            "needed": q.needed,
            "gross": q.gross,
            "deductions": [deduction._asdict() for deduction in q.deductions],
            "as_built": q.as_built,
            "parts": [part._asdict() for part in q.parts],
        }
        for q in takeoff.quantities
    ]


def _parameter(of: Parameter) -> Record:
    return {"rule": of.name, "meaning": of.words, "value": of.value, "known": of.known}


def _thumb(thumb: Thumb) -> Record:
    of = {"item": thumb.item, "for_unit": thumb.of_unit, "unit": thumb.unit, "ours": thumb.ours, "rule": thumb.rule}
    return of | {"agrees": thumb.agrees, "document": thumb.source.document, "status": thumb.source.status}
