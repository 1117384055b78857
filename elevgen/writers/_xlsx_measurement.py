"""The sheet behind the bill: every quantity leaf by leaf, and what openings take of it."""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum
from typing import NamedTuple

from elevgen.takeoff.model import Deduction, Quantity, Takeoff
from elevgen.writers._xlsx_cells import Table
from elevgen.writers._xlsx_formula import Down, Own
from elevgen.writers._xlsx_functions import half_up, halves_up, total
from elevgen.writers._xlsx_model import Content, Field, Fields, Formula, Sheet, amount, shown_as, table

MEASUREMENT = Table("Measurement", "By leaf and wall")
DEDUCTIONS = Table("Measurement", "What openings take, and what the rules leave in")
PLACES = 4
"""Decimals of a quantity that is not counted."""
NEAR = 1e-9


class Line(NamedTuple):
    """A quantity, and the rows of the deductions that are its own: the first, and one past the last."""

    of: Quantity
    first: int
    past: int


class Taken(NamedTuple):
    """What one opening takes of a quantity."""

    of: Quantity
    by: Deduction


def places(unit: str) -> int:
    """Decimals a quantity is written to."""
    return 0 if unit == "nr" else PLACES


def measurement(takeoff: Takeoff) -> Sheet:
    """The quantities of the bill by leaf or wall, each with what was measured; then every deduction."""
    lines = tuple(_lines(takeoff))
    blocks = [table(MEASUREMENT.heading, _fields(takeoff), lines)]
    taken = tuple(Taken(q, by) for q in takeoff.quantities for by in q.deductions)
    blocks.append(table(DEDUCTIONS.heading, TAKEN, taken))
    purpose = "Where each quantity of the bill is. Rows of one code add up to its line in the bill."
    return Sheet("Measurement", purpose, tuple(blocks), repeated=True)


def _lines(takeoff: Takeoff) -> Iterator[Line]:
    at = 0
    for quantity in takeoff.quantities:
        yield Line(quantity, at, at + len(quantity.deductions))
        at += len(quantity.deductions)


def _fields(takeoff: Takeoff) -> Fields[Line]:
    """The last column only where something is billed otherwise than it is built."""
    as_built: Field[Line] = Field("As really fixed", 10, "amount", lambda x: _amount(x.of.as_built, x.of.unit))
    return (
        Field("Where", 13, "text", lambda x: x.of.where),
        Field("Code", 28, "text", lambda x: x.of.code),
        Field("Item", 42, "wrap", lambda x: x.of.item),
        Field("Gross", 11, "amount", lambda x: x.of.gross),
        Field("Deducted", 11, "amount", _deducted),
        Field("Quantity", 12, "amount", _quantity),
        Field("Unit", 6, "text", lambda x: x.of.unit),
        Field("How it was measured", 42, "wrap", lambda x: x.of.derivation),
        Field("Laps, apart", 10, "amount", lambda x: x.of.laps),
        *((as_built,) if any(q.as_built is not None for q in takeoff.quantities) else ()),
    )


def _amount(value: float | None, unit: str) -> Content:
    return None if value is None else amount(value, unit)


def _deducted(line: Line) -> Content:
    if line.first == line.past:
        return None
    return Formula(total(Down(DEDUCTIONS, "Deducted", line.first, line.past - 1)), shown_as(line.of.unit))


def _quantity(line: Line) -> Content:
    """Gross less deductions where that comes to what is billed; else the figure itself, which the rules round otherwise."""
    quantity = line.of
    if quantity.gross is None:
        return amount(quantity.net, quantity.unit)
    left = quantity.gross - fsum(d.amount for d in quantity.deductions if d.allowed)
    if abs(half_up(left, places(quantity.unit)) - quantity.net) > NEAR:
        return amount(quantity.net, quantity.unit)
    return Formula(halves_up(Own("Gross") - Own("Deducted"), places(quantity.unit)), shown_as(quantity.unit))


TAKEN: Fields[Taken] = (
    Field("Where", 13, "text", lambda t: t.of.where),
    Field("Code", 28, "text", lambda t: t.of.code),
    Field("What takes it", 42, "wrap", lambda t: t.by.of),
    Field("Amount", 11, "amount", lambda t: t.by.amount),
    Field("Deducted", 11, "amount", lambda t: t.by.amount if t.by.allowed else 0),
    Field("By the rules", 12, "text", lambda t: "deducted" if t.by.allowed else "left in"),
    Field("Unit", 6, "text", lambda t: t.of.unit),
    Field("Which rule", 42, "wrap", lambda t: t.by.rule),
)
