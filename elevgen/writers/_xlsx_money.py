"""What the bill and the order come to, with the percentages set for them. Nothing until something is priced."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.takeoff.model import Takeoff
from elevgen.takeoff.rates import Rates
from elevgen.writers._xlsx_bill import BILL, BILL_TOTAL, Line, sections
from elevgen.writers._xlsx_cells import Table
from elevgen.writers._xlsx_formula import Down, Expr, Named, There, expr
from elevgen.writers._xlsx_functions import count, halves_up, unless_blank
from elevgen.writers._xlsx_model import Block, Column, Content, Formula, Open
from elevgen.writers._xlsx_orders import MATERIALS_KG, MATERIALS_TOTAL, ORDERS

SUMS = Table("Summary", "What it comes to")
GRAND_TOTAL = "BILL_GRAND_TOTAL"


class Setting(NamedTuple):
    """A percentage the user may set: as headed, its defined name, and what it is taken of."""

    heading: str
    name: str
    of: str


SETTINGS = (
    Setting("Contingency %", "CONTINGENCY_PERCENT", "of the bill"),
    Setting("Overheads and profit %", "OVERHEADS_PERCENT", "of the bill and the contingency"),
    Setting("Tax %", "TAX_PERCENT", "of all of these"),
)


def settings(rates: Rates) -> Block:
    """Percentages to be typed in, known by name."""
    columns = (Column("Setting", 28), Column("Of what", 72, "wrap"), Column("Per cent", 12, "percent"))
    rows = tuple((s.heading, s.of, Open("percent", rates.settings.get(s.name), s.name)) for s in SETTINGS)
    return Block("Settings", columns, rows)


def what_it_comes_to(takeoff: Takeoff, lines: tuple[Line, ...]) -> Block:
    """Totals by section, then the bill with what is added to it, then the materials of the order list."""
    totals = sections(lines)
    rows: list[tuple[Content, ...]] = [(name, None, Formula(cell)) for name, cell in totals.items()]
    strong = []
    if totals:
        strong.append(len(rows))
        rows.append(("Bill", "all sections", Formula(Named(BILL_TOTAL))))
        rows += _added(len(rows) - 1)
        strong.append(len(rows) - 1)
        items = sum(1 for line in lines if line.code)
        unpriced = expr(items) - count(Down(BILL, "Rate"))
        rows.append(("Items without a rate", f"of {items} in the bill", Formula(unpriced, "nr")))
    if takeoff.orders:
        priced = expr(len(takeoff.orders)) - count(Down(ORDERS, "Price"))
        weightless = sum(1 for order in takeoff.orders if order.mass is None)
        left_out = f"{weightless} of {len(takeoff.orders)} materials left out: not known" if weightless else "all materials"
        rows.append(("Materials of the order list", "at the prices typed in there", Formula(Named(MATERIALS_TOTAL))))
        rows.append(("Materials without a price", f"of {len(takeoff.orders)} in the order list", Formula(priced, "nr")))
        rows.append((f"Weight of the order {takeoff.figures.unit('kg').name}", left_out, Formula(Named(MATERIALS_KG), "nr")))
    return Block(
        SUMS.heading,
        (Column("What", 28), Column("Of what", 72, "wrap"), Column("Amount", 12, "money")),
        tuple(rows),
        frozenset(strong),
    )


def _added(bill: int) -> list[tuple[Content, ...]]:
    """A row for each percentage, then the bill with them all; `bill` is the row of the bill."""
    cells: list[Expr] = [There(SUMS, "Amount", bill)]
    rows: list[tuple[Content, ...]] = []
    for setting in SETTINGS:
        sum_so_far = cells[0]
        for cell in cells[1:]:
            sum_so_far = sum_so_far + cell
        share = halves_up(sum_so_far * Named(setting.name) / 100, 2)
        rows.append((setting.heading.removesuffix(" %"), setting.of, Formula(unless_blank(cells[0], share))))
        cells.append(There(SUMS, "Amount", bill + len(rows)))
    whole = cells[0] + cells[1] + cells[2] + cells[3]
    rows.append(("Bill with all of these", None, Formula(unless_blank(cells[0], whole), name=GRAND_TOTAL)))
    return rows
