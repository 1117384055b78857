"""The bill: one line an item, priced by the rates typed beside it, section by section."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from elevgen.result import Design
from elevgen.takeoff.model import Quantity, Takeoff
from elevgen.takeoff.rates import Rates
from elevgen.takeoff.reveals import in_sight
from elevgen.takeoff.sections import by_item, section
from elevgen.takeoff.standing import standing
from elevgen.writers._xlsx_cells import Table
from elevgen.writers._xlsx_formula import Down, Expr, Own, There
from elevgen.writers._xlsx_functions import SumIf, both, count, halves_up, rounded, total, unless_blank, when
from elevgen.writers._xlsx_measurement import MEASUREMENT, places
from elevgen.writers._xlsx_model import Block, Column, Content, Formula, Open, Sheet, shown_as

BILL = Table("Bill", "The whole building")
BILL_TOTAL = "BILL_TOTAL"
WALLING = "WALL-"
COUNTED_TWICE = (
    (
        WALLING,
        ("UNIT-", "MORTAR-"),
        "Counted twice? Walling and the units, mortar or cutting in it both have a rate. "
        "Price the walling as a whole, or its materials and labour.",
    ),
    (
        "BR-M/",
        ("BR-STOCK-",),
        "Counted twice? Bed-joint reinforcement has a rate by length and by stock length: price one of them.",
    ),
)
"""A whole, what it is made of or also measured as, and what to say when both have a rate."""


class Line(NamedTuple):
    """A line of the bill: an item with the quantities it sums up, or, without a code, the total of its section."""

    section: str
    code: str
    of: tuple[Quantity, ...]
    first: int
    """Row of the section's first item, from 0."""


def bill(design: Design, takeoff: Takeoff, rates: Rates) -> Sheet:
    """Quantities of the whole building with room for rates, in the order of the trade."""
    lines = tuple(bill_lines(takeoff))
    columns = _columns(takeoff.measured_by.unit_first)
    heads = [column.heading for column in columns]
    rows = tuple(tuple(map(_cells(number, line, takeoff, rates).get, heads)) for number, line in enumerate(lines))
    strong = frozenset(number for number, line in enumerate(lines) if not line.code)
    purpose = " ".join((f"{takeoff.measured_by.words()} No laps, no waste.", *unsaid(design)))
    blocks = (Block(BILL.heading, columns, rows, strong), _total(columns, lines))
    return Sheet(BILL.sheet, purpose, blocks, notice=counted_twice(lines))


def unsaid(design: Design) -> Iterator[str]:
    """What to agree before pricing: mortar of what is to be built, and pointing of what of it stays in sight, where not said."""
    old = standing(design)
    leaves = [leaf for leaf in design.building.leaves if leaf.wall not in old]
    pointing = [leaf.pointing for leaf in leaves if in_sight(leaf)]
    asked = {"mortar class": [leaf.mortar for leaf in leaves], "pointing": pointing}
    missing = [of for of, words in asked.items() if None in words]
    if missing:
        said = any(words is not None for of in missing for words in asked[of])
        are, of_all = "is" if len(missing) == 1 else "are", " for every leaf" if said else ""
        yield f"{' and '.join(missing).capitalize()} {are} not in the spec{of_all}: agree before pricing."


def bill_lines(takeoff: Takeoff) -> Iterator[Line]:
    """Every line of the bill in its order: the items of a section, then its total."""
    row, first, last = 0, 0, ""
    for code, of in by_item(takeoff.quantities):
        trade = section(code)
        if last and trade != last:
            yield Line(last, "", (), first)
            row += 1
            first = row
        yield Line(trade, code, of, first)
        row, last = row + 1, trade
    if last:
        yield Line(last, "", (), first)


def sections(lines: Iterable[Line]) -> dict[str, There]:
    """The cell with the total of each section."""
    return {line.section: There(BILL, "Amount", row) for row, line in enumerate(lines) if not line.code}


def counted_twice(lines: Iterable[Line]) -> Formula | None:
    """The warning that a whole and what it is made of are both priced, the first there is; None where no two are there."""
    rows = tuple(enumerate(lines))
    said: Expr | None = None
    for whole, inside, words in reversed(COUNTED_TWICE):
        wholes, parts = _rates(rows, (whole,)), _rates(rows, inside)
        if wholes and parts:
            priced = both(count(*_ranges(wholes)).above(0), count(*_ranges(parts)).above(0))
            said = when(priced, words, said or "")
    return None if said is None else Formula(said)


def _rates(rows: Iterable[tuple[int, Line]], begun: tuple[str, ...]) -> list[There]:
    """The cells with the rates of the items whose codes begin so."""
    return [There(BILL, "Rate", row) for row, line in rows if line.code.startswith(begun)]


def sum_or_blank(*of: Down | There) -> Expr:
    """Their sum, and nothing while none of them is a number."""
    return when(count(*of).equals(0), "", total(*of))


def _ranges(cells: list[There]) -> Iterator[Down]:
    """Cells of one column as few ranges, rows in their order."""
    first = last = cells[0]
    for cell in (*cells[1:], None):
        if cell is None or cell.row != last.row + 1:
            yield Down(first.table, first.column, first.row, last.row)
            first = cell or first
        last = cell or last


def _columns(unit_first: bool) -> tuple[Column, ...]:
    quantity = (Column("Quantity", 12, "amount"), Column("Unit", 7))
    return (
        Column("Section", 17),
        Column("Code", 34),
        Column("Item", 54, "wrap"),
        *(quantity[::-1] if unit_first else quantity),
        Column("Rate", 11, "money"),
        Column("Amount", 13, "money"),
        Column("Note", 22),
        Column("Places", 8, "nr"),
    )


def _cells(row: int, line: Line, takeoff: Takeoff, rates: Rates) -> dict[str, Content]:
    if not line.code:
        amounts = sum_or_blank(Down(BILL, "Amount", line.first, row - 1))
        return {"Section": line.section, "Item": f"{line.section}: total", "Amount": Formula(amounts)}
    own, unit = rates.of(line.code), line.of[0].unit
    return {
        "Section": line.section,
        "Code": line.code,
        "Item": line.of[0].item,
        "Quantity": Formula(_billed(takeoff, line.code, unit), shown_as(unit)),
        "Unit": unit,
        "Rate": Open("rate", own.rate),
        "Amount": Formula(unless_blank(Own("Rate"), halves_up(Own("Quantity") * Own("Rate"), 2))),
        "Note": Open("note", own.note),
        "Places": len(line.of),
    }


def _billed(takeoff: Takeoff, code: str, unit: str) -> Expr:
    """The places of an item summed, and rounded as the measurement rules say; what would vanish kept as one where they do."""
    measured = SumIf(Down(MEASUREMENT, "Code"), Own("Code"), Down(MEASUREMENT, "Quantity"))
    step = takeoff.bill_step(code)
    if step is None:
        return rounded(measured, places(unit))
    steps = rounded(rounded(measured if step == 1 else measured / step, 6), 0)
    billed = steps if step == 1 else steps * step
    return when(both(measured.above(0), steps.equals(0)), 1, billed) if takeoff.measured_by.keeps_one else billed


def _total(columns: tuple[Column, ...], lines: tuple[Line, ...]) -> Block:
    """The total of the bill, under its amounts."""
    bare = tuple(column._replace(heading="") for column in columns)
    totals = tuple(sections(lines).values())
    row = {"Section": "Total of the bill", "Amount": Formula(sum_or_blank(*totals), name=BILL_TOTAL) if totals else None}
    return Block("Total", bare, (tuple(row.get(column.heading) for column in columns),), frozenset((0,)))
