"""What is wrong with a building designed and measured: looked at from outside, with none of the tool's own checks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import isclose
from typing import Any

from elevgen.core.geometry import Span
from elevgen.result import Design
from elevgen.takeoff.calloff import call_off
from elevgen.takeoff.model import Takeoff
from elevgen.takeoff.packs import number_of

NEAR = 0.01
"""mm."""
BILLED = 1e-3
"""m, or a number: quantities are rounded to the tenth of a millimetre."""


def faults(design: Design, takeoff: Takeoff) -> Iterator[str]:
    """Every fault, in words with its place; none where all is well."""
    yield from _ids(design)
    yield from _places_in_findings(design)
    yield from _inside(design)
    yield from _across_joints(design)
    yield from _pieces(design)
    yield from _bill(design, takeoff)


def _ids(design: Design) -> Iterator[str]:
    fittings = design.fittings
    kinds: dict[str, list[str]] = {
        "lintel": [x.id for x in fittings.lintels],
        "reinforcement": [x.id for x in fittings.bed_reinforcement],
        "damp-proof course": [x.id for x in fittings.damp_courses],
        "tray": [x.id for x in fittings.trays],
        "joint parts": [x.joint for x in fittings.joint_parts],
        "load": [f"{x.lintel} {x.part}" for x in fittings.lintel_loads],
        "mesh": [f"{x.leaf} {x.opening} {x.at} {x.level}" for x in fittings.mesh],
        "tie": [f"{w.wall} {t}" for w in fittings.ties for t in w.ties],
        "joint": [x.id for x in design.plan.joints],
        "finding": [x.id for x in design.findings],
    }
    for kind, ids in kinds.items():
        yield from (f"{kind} {name} is there {times} times" for name, times in Counter(ids).items() if times > 1)


def _places_in_findings(design: Design) -> Iterator[str]:
    there = {
        "walls": {wall.id for wall in design.building.walls},
        "leaves": {leaf.id for leaf in design.building.leaves},
        "openings": {opening.id for wall in design.building.walls for opening in wall.openings},
        "joints": {joint.id for joint in design.plan.joints},
    }
    for finding in design.findings:
        for kind, known in there.items():
            yield from (f"{finding.id} is about {kind} {n}: there is none" for n in getattr(finding, kind) if n not in known)
        if finding.severity == "fail" and not finding.text.strip():
            yield f"{finding.id} says nothing"


def _inside(design: Design) -> Iterator[str]:
    """Every fitting in its leaf, ties in their wall; what the spec lists may reach past the face, but not past the wall line."""
    fittings = design.fittings
    for one in (*fittings.lintels, *fittings.bed_reinforcement, *fittings.damp_courses, *fittings.trays):
        leaf, wall = design.building.leaf(one.leaf), design.building.wall(one.wall)
        within = Span(min(0.0, leaf.span.start), max(wall.length, leaf.span.end)) if one.given else leaf.span
        if not (within.grown(NEAR).contains(one.span.start) and within.grown(NEAR).contains(one.span.end)):
            yield f"{one.id} from {one.span.start} to {one.span.end} is not in {leaf.id}, {within}"
        if one.span.length <= 0:
            yield f"{one.id} is {one.span.length} mm long"
        high = leaf.top.highest(leaf.span) + NEAR
        if not one.given and not leaf.base.lowest(leaf.span) - NEAR <= one.level <= high:
            yield f"{one.id} at {one.level} is not in {leaf.id}"
    for of_wall in fittings.ties:
        wall = design.building.wall(of_wall.wall)
        for tie in of_wall.ties:
            leaves = [design.building.leaf(tie.leaf)] if tie.leaf else design.building.leaves_of(wall.id)
            for leaf in leaves if not tie.given else ():
                if not leaf.span.grown(NEAR).contains(tie.at):
                    yield f"tie {tie} of {wall.id} is not in {leaf.id}"
                if any(v.left < tie.at < v.right and v.bottom < tie.level < v.top for v in leaf.voids):
                    yield f"tie {tie} of {wall.id} is in an opening"
    for strip in fittings.mesh:
        opening = next(o for w in design.building.walls for o in w.openings if o.id == strip.opening)
        rect = opening.rect
        if strip.at not in (rect.left, rect.right) or strip.level not in (rect.bottom, rect.top):
            yield f"mesh at {strip.at}, {strip.level} is at no corner of {opening.id}"


def _across_joints(design: Design) -> Iterator[str]:
    """Reinforcement and trays that are placed stop at joints, ties stand beside them; sheets and slip ties may go on."""
    for joint in design.plan.joints:
        gap = joint.gap.grown(-NEAR)
        for one in (*design.fittings.bed_reinforcement, *design.fittings.trays):
            if one.leaf == joint.leaf and not one.given and joint.levels.contains(one.level) and one.span.overlaps(gap):
                yield f"{one.id} goes through {joint.id}"
        for of_wall in design.fittings.ties:
            for tie in of_wall.ties if of_wall.wall == joint.wall else ():
                mine = tie.leaf in (None, joint.leaf) and tie.kind != "slip" and not tie.given
                if mine and joint.levels.contains(tie.level) and gap.start < tie.at < gap.end:
                    yield f"tie {tie} of {of_wall.wall} is in {joint.id}"


def _pieces(design: Design) -> Iterator[str]:
    """Pieces of reinforcement cover their length and lap; stock lengths hold the pieces cut from them."""
    for bed in design.fittings.bed_reinforcement:
        cuts = bed.cuts
        if not cuts or abs(cuts[0].start - bed.span.start) > NEAR or abs(cuts[-1].end - bed.span.end) > NEAR:
            yield f"the pieces of {bed.id} do not cover {bed.span}: {cuts}"
        if any(b.start > a.end + NEAR for a, b in pairwise(cuts)):
            yield f"{bed.id} has a gap between pieces"
        if len(bed.pieces) != len(cuts) or bed.laps != len(cuts) - 1:
            yield f"{bed.id}: {len(bed.pieces)} pieces, {len(cuts)} cuts, {bed.laps} laps"
    for stock in design.fittings.stock:
        for cut in stock.cuts:
            if not isclose(sum(cut.pieces) + cut.left, stock.stock, abs_tol=0.1) or cut.left < -NEAR:
                yield f"stock of {stock.wall}: {cut} is not {stock.stock} mm"
        if stock.number < stock.least:
            yield f"stock of {stock.wall}: {stock.number} lengths, fewer than {stock.least}"


def _bill(design: Design, takeoff: Takeoff) -> Iterator[str]:
    """The bill's quantities by the beginning of their code against what is placed."""
    fittings = design.fittings
    kinds = Counter(tie.kind for w in fittings.ties for tie in w.ties)
    parts = fittings.joint_parts
    placed: dict[str, float] = {
        "LINTEL-NR/": len(fittings.lintels),
        "BR-M/": _metres(x.span.length for x in fittings.bed_reinforcement),
        "BR-STOCK-NR/": sum(x.number for x in fittings.stock),
        "TIE-NR/": kinds.total(),
        "TIE-NR/SLIP": kinds["slip"],
        "TRAY-M": _metres(x.span.length for x in fittings.trays if x.kind != "step"),
        "TRAY-NR/": sum(1 for x in fittings.trays if x.kind == "step"),
        "TRAY-END-NR": sum(x.stop_ends for x in fittings.trays),
        "WEEP-NR": sum(len(x.weeps) for x in fittings.trays),
        "DPC-M/": _metres(x.length for x in fittings.damp_courses),
        "MESH-NR/": sum(x.faces for x in fittings.mesh),
        "JT-MOVE-M/": _metres(x.levels.length for x in design.plan.joints),
        "JT-BEAD-M/": _metres(x.stop_beads for x in parts),
        "JT-SEAL-M/": _metres(x.length * x.sealant_faces for x in parts),
        "JT-SEAL-L": sum(x.sealant_litres for x in parts),
    }
    for code, amount in placed.items():
        billed = sum(q.net for q in takeoff.quantities if q.code.startswith(code))
        if not isclose(billed, amount, rel_tol=1e-6, abs_tol=BILLED):
            yield f"{code}: {billed} in the bill, {amount} placed"
    laps = _metres(x.laps * (x.lap or 0.0) for x in fittings.damp_courses)
    steel = _metres(sum(x.pieces) - x.span.length for x in fittings.bed_reinforcement)
    for code, amount in (("DPC-M/", laps), ("BR-M/", steel)):
        billed = sum(q.laps or 0.0 for q in takeoff.quantities if q.code.startswith(code))
        if not isclose(billed, amount, rel_tol=1e-6, abs_tol=BILLED):
            yield f"{code}: laps {billed} in the bill, {amount} placed"
    for order in takeoff.orders:
        if order.order < order.needed - BILLED:
            yield f"{order.code}: {order.order} ordered, {order.needed} needed"
        if order.needed < order.net + (order.laps or 0.0) - BILLED and not order.code.startswith("UNIT-NR"):
            yield f"{order.code}: {order.needed} needed for {order.net} fixed and {order.laps} in laps"
        if abs(sum(need.needed for need in order.lifts) - order.needed) > BILLED:
            yield f"{order.code}: the lifts do not add up to {order.needed}"
        if abs(sum(call.amount for call in call_off(order)) - order.order) > BILLED:
            yield f"{order.code}: the calls do not add up to {order.order}"
        for pack in order.packs:
            if number_of(pack, order.with_waste) * pack.holds < order.with_waste - BILLED:
                yield f"{order.code}: {order.with_waste} does not go into the {pack.name}s"


def _metres(lengths: Iterable[Any]) -> float:
    return float(sum(lengths)) / 1000.0
