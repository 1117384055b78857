"""Sheets about quantities: summary, bill, measurement by place, order list."""

from __future__ import annotations

from collections import Counter

from elevgen.core.version import VERSION
from elevgen.drawing.cautions import cutting_cautions, lifting_cautions, lintel_cautions
from elevgen.result import SEVERITIES, Design
from elevgen.takeoff.model import Takeoff
from elevgen.takeoff.sections import by_item, section
from elevgen.writers._shared import CAUTIONS
from elevgen.writers._xlsx_model import Block, Column, Sheet, Value, amount
from elevgen.writers._xlsx_words import SEVERITY_WORDS

MM2 = 1e6


def summary(design: Design, takeoff: Takeoff) -> Sheet:
    """What building this is, the cautions, and how the faces divide."""
    blocks = (
        _project(design),
        _cautions(design),
        _finding_counts(design),
        _orders_in_short(takeoff),
        _not_measured(takeoff),
        _areas(takeoff),
    )
    return Sheet(
        "Summary", "What these walls take, in short. The other sheets say where each figure comes from.", blocks, frozen=False
    )


def bill(design: Design, takeoff: Takeoff) -> Sheet:
    """Net quantities of the whole building, one row an item, in the order of the trade."""
    columns = (
        Column("Section", 18),
        Column("Code", 34),
        Column("Item", 62, "wrap"),
        Column("Quantity", 12, "amount"),
        Column("Unit", 7),
        Column("Places", 8, "nr"),
    )
    rows = tuple(
        (section(code), code, places[0].item, amount(sum(q.net for q in places), places[0].unit), places[0].unit, len(places))
        for code, places in by_item(takeoff.quantities)
    )
    purpose = f"{takeoff.measured_by.words()} No laps, no waste."
    return Sheet("Bill", purpose, (Block("The whole building", columns, rows),))


def measurement(takeoff: Takeoff) -> Sheet:
    """The same quantities by leaf or wall, each with what was measured."""
    columns = (
        Column("Where", 14),
        Column("Code", 30),
        Column("Item", 50, "wrap"),
        Column("Quantity", 12, "amount"),
        Column("Unit", 7),
        Column("Laps, apart", 11, "amount"),
        Column("How it was measured", 50, "wrap"),
    )
    rows = tuple((q.where, q.code, q.item, amount(q.net, q.unit), q.unit, q.laps, q.derivation) for q in takeoff.quantities)
    return Sheet(
        "Measurement",
        "Where each quantity of the bill is. Rows of one code add up to its line in the bill.",
        (Block("By leaf and wall", columns, rows),),
    )


def order_list(takeoff: Takeoff) -> Sheet:
    """What to buy: laps and waste added once for the whole building, then rounded up."""
    columns = (
        Column("Code", 30),
        Column("Material", 52, "wrap"),
        Column("Net", 11, "amount"),
        Column("Laps", 9, "amount"),
        Column("Needed", 11, "amount"),
        Column("Waste %", 8, "percent"),
        Column("How the waste is known", 22, "wrap"),
        Column("With waste", 12, "amount"),
        Column("Order", 11, "amount"),
        Column("Unit", 7),
        Column("Left over if none is wasted", 13, "amount"),
    )
    rows = tuple(
        (
            *(o.code, o.item, amount(o.net, o.unit), o.laps, amount(o.needed, o.unit), o.waste, o.waste_known, o.with_waste),
            *(amount(o.order, o.unit), o.unit, amount(o.left_over, o.unit)),
        )
        for o in takeoff.orders
    )
    purpose = (
        "What is needed, waste added, rounded up once for the whole building. Pack sizes are the merchant's: ask. "
        "Needed is net and laps; of units, those laid whole and those the cut pieces come out of (sheet Units and cuts)."
    )
    return Sheet("Order list", purpose, (Block("Materials", columns, rows),))


def _project(design: Design) -> Block:
    project = design.spec.project
    rows = (
        ("Title", project.title),
        ("Number", project.number),
        ("Revision", project.revision),
        ("Date", project.date),
        ("Drawn by", project.drawn_by),
        ("Client", project.client),
        ("Levels from", project.datum),
        ("Rule set", f"{design.rules.id}: {design.rules.title}, edition {design.rules.edition}"),
        ("Made with", f"elevgen {VERSION}, from spec {design.spec_sha256}"),
    )
    return Block("Project", (Column("", 34), Column("", 62, "wrap")), tuple((name, text or None) for name, text in rows))


def _cautions(design: Design) -> Block:
    coursing = design.coursing
    heavy = (*lifting_cautions(coursing.masses), *lintel_cautions(design.fittings.lintels, coursing.masses))
    texts = (*CAUTIONS, *cutting_cautions(coursing.leaves), *heavy)
    return Block("Cautions", (Column("", 34), Column("", 62, "wrap")), tuple((f"{i}", text) for i, text in enumerate(texts, 1)))


def _orders_in_short(takeoff: Takeoff) -> Block:
    columns = (
        Column("Code", 34),
        Column("Item", 62, "wrap"),
        Column("Measured net", 12, "amount"),
        Column("Unit", 9),
        Column("Order", 12, "amount"),
    )
    orders = {order.code: amount(order.order, order.unit) for order in takeoff.orders}
    rows = tuple(
        (code, places[0].item, amount(sum(q.net for q in places), places[0].unit), places[0].unit, orders.get(code))
        for code, places in by_item(takeoff.quantities)
    )
    return Block("Quantities (work is measured but not ordered)", columns, rows)


def _not_measured(takeoff: Takeoff) -> Block:
    rows = tuple((f"{number}", text) for number, text in enumerate(takeoff.not_measured, 1))
    return Block("In the walls, but not in the bill", (Column("", 34), Column("", 62, "wrap")), rows)


def _areas(takeoff: Takeoff) -> Block:
    columns = (
        Column("Leaf", 34),
        Column("Units + mortar + lintels + movement joints + openings + strips = gross face", 62, "wrap"),
        Column("Gross m2", 12, "area"),
        Column("Openings m2", 9, "area"),
        Column("Strips m2", 12, "area"),
        Column("Joints m2", 10, "area"),
        Column("Units m2", 10, "area"),
        Column("Mortar m2", 10, "area"),
        Column("Lintels m2", 10, "area"),
        Column("Masonry net m2", 10, "area"),
    )
    rows: list[tuple[Value, ...]] = []
    for area in takeoff.areas:
        parts = (area.units, area.mortar, area.lintels, area.movement_joints, area.openings, area.strips)
        shown = (area.gross, area.openings, area.strips, area.movement_joints, area.units, area.mortar, area.lintels, area.net)
        rows.append((area.leaf, _balance(sum(parts) - area.gross, area.gross), *(part / MM2 for part in shown)))
    return Block("How the face of each leaf divides", columns, tuple(rows))


def _balance(difference: float, gross: float) -> str:
    if abs(difference) <= 1e-6 * gross:
        return "balances"
    return f"DOES NOT BALANCE: {difference / MM2:+.4f} m2"


def _finding_counts(design: Design) -> Block:
    counts = Counter(finding.severity for finding in design.findings)
    waived = Counter(finding.severity for finding in design.findings if finding.waiver)
    columns = (Column("Kind", 34), Column("Of these accepted by somebody, with a reason", 62, "nr"), Column("Number", 12, "nr"))
    rows = tuple((SEVERITY_WORDS[severity], waived[severity], counts[severity]) for severity in SEVERITIES)
    return Block("Findings", columns, rows)
