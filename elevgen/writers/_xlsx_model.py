"""A workbook as plain data: sheets of blocks, a block one heading and one table of cells. No file format here."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Generic, Literal, NamedTuple, TypeVar

from elevgen.core.figures import METRIC, Figures
from elevgen.core.measures import METRE
from elevgen.writers._xlsx_formula import Expr

T = TypeVar("T")
Value = str | float | int | bool | None
"""What a cell may hold. None leaves it empty."""
LEAST_WIDTH = 10
"""Of a column of lengths in feet and inches, in characters."""
_DECIMALS = 4

CellKind = Literal["text", "wrap", "note", "figure", "nr", "mm", "tenth", "level", "area", "amount", "money", "percent", "value"]
"""How a column is shown: a name, running text, unframed text on one line that may run on to the right, a length in words,
whole numbers, mm, any other number to a tenth, a level in m, m2, a quantity, money in no currency, per cent, or as it is."""

OpenKind = Literal["rate", "price", "waste", "pack", "percent", "note"]
"""What a user may type into an open cell."""


class Formula(NamedTuple):
    """A cell worked out from others; `kind` where it is shown otherwise than its column, `name` to be known in the workbook."""

    expr: Expr
    kind: CellKind | None = None
    name: str = ""


class Open(NamedTuple):
    """A cell the user may fill; the only ones that are not locked. `name` to be known in the workbook."""

    of: OpenKind
    value: str | float | None = None
    name: str = ""


Content = Value | Formula | Open


class Column(NamedTuple):
    """A column of a table: heading, width in characters, and how its cells are shown."""

    heading: str
    width: float
    kind: CellKind = "text"


class Block(NamedTuple):
    """A table with a line of text over it; without column headings when all are empty. An empty table says so in one row.

    Formulas find the columns of headed tables only. `strong` are the rows to stand out, by number.
    """

    heading: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Content, ...], ...]
    strong: frozenset[int] = frozenset()

    @property
    def headed(self) -> bool:
        return any(column.heading for column in self.columns)


class Words(NamedTuple):
    """Text with lengths or amounts in it, said in the figures of the building."""

    say: Callable[[Figures], str | None]


class Field(NamedTuple, Generic[T]):
    """A column of a table of things: how it is headed and shown, and what it says of each.

    `unit` is the metric unit of its numbers, and of its heading unless the heading calls it `called`: both are shown in
    another where lengths are in feet. Kinds `mm` and `level` need none.
    """

    heading: str
    width: float
    kind: CellKind
    of: Callable[[T], Content | Words]
    unit: str = ""
    called: str = ""


Fields = tuple[Field[T], ...]


class Chart(NamedTuple):
    """Bars of a table's column against another, beside the table."""

    title: str
    heading: str
    names: str
    bars: str


class Sheet(NamedTuple):
    """One sheet: its name on the tab, what it is for, and its tables one under another.

    `frozen` keeps the first table's headings in sight; `repeated` prints them on every page, where the tables after it are
    headed otherwise but hold like things in like columns. `notice` is a line that speaks up when it has to.
    """

    name: str
    purpose: str
    blocks: tuple[Block, ...]
    frozen: bool = True
    notice: Formula | None = None
    chart: Chart | None = None
    repeated: bool = False


def table(heading: str, fields: Fields[T], things: Iterable[T], figures: Figures = METRIC) -> Block:
    """A row for every thing, a column for every field. Lengths in feet and inches are text: no cell adds them up."""
    columns = tuple(_column(field, figures) for field in fields)
    return Block(heading, columns, tuple(tuple(_cell(field, field.of(thing), figures) for field in fields) for thing in things))


def joined(separator: str, lengths: Iterable[float], places: int = 1) -> Words:
    """Lengths (mm) one after another."""
    there = tuple(lengths)
    return Words(lambda figures: separator.join(figures.length(x, places) for x in there))


def _column(field: Field[T], figures: Figures) -> Column:
    if not figures.in_feet:
        return Column(field.heading, field.width, field.kind)
    if field.kind in ("mm", "level"):
        return Column(field.heading.removesuffix(" mm").removesuffix(" m"), max(field.width, LEAST_WIDTH), "figure")
    if not field.unit:
        return Column(field.heading, field.width, field.kind)
    called = rf"(?<!\S){re.escape(field.called or field.unit)}(?![\w/])"
    return Column(re.sub(called, figures.unit(field.unit).name, field.heading), field.width, field.kind)


def _cell(field: Field[T], content: Content | Words, figures: Figures) -> Content:
    if isinstance(content, Words):
        return content.say(figures)
    if isinstance(content, str | bool) or not isinstance(content, int | float):
        return content
    if figures.in_feet and field.kind == "mm":
        return figures.length(content)
    if figures.in_feet and field.kind == "level":
        return figures.level(content * METRE)
    if not field.unit:
        return content
    shown = figures.unit(field.unit).of(content)
    if field.kind == "nr":
        return round(shown)
    return round(shown, _DECIMALS) if figures.in_feet else shown


def notes(heading: str, lines: Iterable[str], width: float) -> Block:
    """Lines under a heading, with no frame round them."""
    return Block(heading, (Column("", width, "note"),), tuple((line,) for line in lines))


def amount(value: float, unit: str) -> float | int:
    """A quantity for a cell: a whole number where things are counted."""
    return round(value) if unit == "nr" else round(value, 4)


def shown_as(unit: str) -> CellKind:
    """How a quantity worked out by a formula is shown."""
    return "nr" if unit == "nr" else "amount"


def yes(flag: bool) -> str:
    """A flag in words."""
    return "yes" if flag else "no"
