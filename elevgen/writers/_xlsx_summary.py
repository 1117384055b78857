"""The first sheet: what building this is, the cautions, what it all comes to, and how the faces divide."""

from __future__ import annotations

from collections import Counter

from elevgen.core.measures import SQUARE_METRE
from elevgen.core.version import VERSION
from elevgen.drawing.cautions import cautions
from elevgen.result import SEVERITIES, Design
from elevgen.takeoff.model import Takeoff
from elevgen.takeoff.rates import Rates
from elevgen.writers._xlsx_bill import WALLING, bill_lines, counted_twice
from elevgen.writers._xlsx_cells import Table
from elevgen.writers._xlsx_formula import Across, Own, There
from elevgen.writers._xlsx_functions import rounded, total, when
from elevgen.writers._xlsx_measurement import MEASUREMENT
from elevgen.writers._xlsx_model import Block, Chart, Column, Content, Formula, Sheet
from elevgen.writers._xlsx_money import settings, what_it_comes_to
from elevgen.writers._xlsx_words import SEVERITY_WORDS

NAME, SAID = Column("", 28), Column("", 72, "wrap")
WALLS = Table("Summary", "Walling as billed, wall by wall")


def summary(design: Design, takeoff: Takeoff, rates: Rates) -> Sheet:
    """What building this is, the cautions, money and weight, and how the faces divide."""
    lines = tuple(bill_lines(takeoff))
    walls, area = _walls(design, takeoff), takeoff.figures.unit("m2").name
    blocks = (
        _project(design),
        _cautions(design),
        _finding_counts(design),
        settings(rates),
        what_it_comes_to(takeoff, lines),
        walls,
        _not_measured(takeoff),
        _areas(takeoff),
    )
    chart = Chart(f"Walling as billed, {area}", WALLS.heading, "Wall", f"Net {area}") if walls.rows else None
    purpose = "What these walls take, in short. The other sheets say where each figure comes from. Type in the tinted cells only."
    return Sheet("Summary", purpose, blocks, frozen=False, notice=counted_twice(lines), chart=chart)


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
    return Block("Project", (NAME, SAID), tuple((name, text or None) for name, text in rows))


def _cautions(design: Design) -> Block:
    rows = tuple((f"{number}", text) for number, text in enumerate(cautions(design), 1))
    return Block("Cautions", (NAME, SAID), rows)


def _finding_counts(design: Design) -> Block:
    counts = Counter(finding.severity for finding in design.findings)
    waived = Counter(finding.severity for finding in design.findings if finding.waiver)
    columns = (Column("Kind", 28), Column("Of these accepted by somebody, with a reason", 72, "nr"), Column("Number", 12, "nr"))
    rows = tuple((SEVERITY_WORDS[severity], waived[severity], counts[severity]) for severity in SEVERITIES)
    return Block("Findings", columns, rows)


def _walls(design: Design, takeoff: Takeoff) -> Block:
    """Walling measured in m2, by the wall its leaves are of."""
    leaves = {leaf.id: leaf.wall for leaf in design.building.leaves}
    area = takeoff.figures.unit("m2").name
    cells: dict[str, list[There]] = {}
    for row, quantity in enumerate(takeoff.quantities):
        if quantity.code.startswith(WALLING) and quantity.unit == area:
            wall = leaves.get(quantity.where, quantity.where)
            cells.setdefault(wall, []).append(There(MEASUREMENT, "Quantity", row))
    names = {wall.id: wall.name for wall in design.building.walls}
    columns = (Column("Wall", 28), Column("Known as; all leaves together", 72, "wrap"), Column(f"Net {area}", 12, "area"))
    rows = tuple((wall, names.get(wall) or None, Formula(total(*there))) for wall, there in cells.items())
    return Block(WALLS.heading, columns, rows)


def _not_measured(takeoff: Takeoff) -> Block:
    rows = tuple((f"{number}", text) for number, text in enumerate(takeoff.not_measured, 1))
    return Block("In the walls, but not in the bill", (NAME, SAID), rows)


def _areas(takeoff: Takeoff) -> Block:
    unit = takeoff.figures.unit("m2")
    parts = tuple(f"{what} {unit.name}" for what in ("Openings", "Strips", "Joints", "Units", "Mortar", "Lintels"))
    columns = (
        Column("Leaf", 28),
        Column("Units + mortar + lintels + movement joints + openings + strips = gross face", 72, "wrap"),
        Column(f"Gross {unit.name}", 12, "area"),
        *(Column(part, 10, "area") for part in parts),
        Column(f"Masonry net {unit.name}", 10, "area"),
    )
    over = rounded(Own(f"Gross {unit.name}") - total(Across(parts[0], parts[-1])), 4)
    balance = Formula(when(over.equals(0), "balances", "DOES NOT BALANCE"))
    rows: list[tuple[Content, ...]] = []
    for area in takeoff.areas:
        shown = (area.gross, area.openings, area.strips, area.movement_joints, area.units, area.mortar, area.lintels, area.net)
        rows.append((area.leaf, balance, *(unit.of(part / SQUARE_METRE) for part in shown)))
    return Block("How the face of each leaf divides", columns, tuple(rows))
