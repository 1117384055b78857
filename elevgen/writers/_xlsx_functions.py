"""Functions for formulas: those every spreadsheet has had for decades, with what a spreadsheet makes of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, ROUND_UP, Decimal
from math import fsum

from elevgen.writers._xlsx_cells import Grid, Here, Scalar
from elevgen.writers._xlsx_formula import Cells, Down, Expr, One, Part, expr, number, same


def half_up(value: float, places: int) -> float:
    """What `halves_up` comes to."""
    return _decimals(value, places, ROUND_HALF_UP)


def _decimals(value: float, places: int, how: str) -> float:
    """Rounded as a spreadsheet does, of the number as it shows it: to 15 figures, a half away from nothing."""
    shown = Decimal(f"{value:.15g}")
    return float(shown.quantize(Decimal(1).scaleb(-places), how))


@dataclass(frozen=True, slots=True)
class _Call(Expr):
    """A function of parts of a formula."""

    name: str
    parts: tuple[Expr, ...]

    def text(self, grid: Grid, here: Here) -> str:
        return f"{self.name}({','.join(part.text(grid, here) for part in self.parts)})"

    def value(self, grid: Grid, here: Here) -> Scalar:
        if self.name == "IF":
            test, then, other = self.parts
            return (then if test.value(grid, here) else other).value(grid, here)
        values = [part.value(grid, here) for part in self.parts]
        if self.name == "AND":
            return all(values)
        places = int(number(values[1]))
        return _decimals(number(values[0]), places, ROUND_HALF_UP if self.name == "ROUND" else ROUND_UP)


@dataclass(frozen=True, slots=True)
class _Over(Expr):
    """SUM or COUNT of cells: those that hold numbers."""

    name: str
    of: tuple[Cells | One, ...]

    def text(self, grid: Grid, here: Here) -> str:
        return f"{self.name}({','.join(cells.text(grid, here) for cells in self.of)})"

    def value(self, grid: Grid, here: Here) -> Scalar:
        numbers = list(self._numbers(grid, here))
        return float(len(numbers)) if self.name == "COUNT" else fsum(numbers)

    def _numbers(self, grid: Grid, here: Here) -> Iterator[float]:
        for cells in self.of:
            held = cells.values(grid, here) if isinstance(cells, Cells) else [cells.value(grid, here)]
            yield from (float(v) for v in held if isinstance(v, float | int) and not isinstance(v, bool))


@dataclass(frozen=True, slots=True)
class SumIf(Expr):
    """The sum of those cells beside a key. Keys are codes: none of the signs a spreadsheet would read as a pattern."""

    keys: Down
    key: One
    sums: Down

    def text(self, grid: Grid, here: Here) -> str:
        return f"SUMIF({self.keys.text(grid, here)},{self.key.text(grid, here)},{self.sums.text(grid, here)})"

    def value(self, grid: Grid, here: Here) -> Scalar:
        key = self.key.value(grid, here)
        if not isinstance(key, str) or not key or set(key) & set('*?~<>="'):
            raise ValueError(f"not a key to sum by: {key!r}")
        pairs = zip(self.keys.values(grid, here), self.sums.values(grid, here), strict=True)
        return fsum(v for k, v in pairs if same(k, key) and isinstance(v, float | int))


def rounded(value: Expr, places: int) -> Expr:
    """To so many decimals, a half away from nothing."""
    return _Call("ROUND", (value, expr(places)))


def halves_up(value: Expr, places: int) -> Expr:
    """A product, a share or a difference of measures, rounded alike in every program.

    As a whole number of its last place, freed of the dust arithmetic leaves: only there is a half exactly a half.
    """
    scale = float(f"1e{places}")
    return rounded(rounded(value * scale, 4), 0) / scale


def whole_steps(value: Expr, step: Part = 1) -> Expr:
    """The next whole number of steps; what is a step already stays, whatever dust arithmetic left on it."""
    return _Call("ROUNDUP", (rounded(value if step == 1 else value / step, 6), expr(0)))


def total(*of: Cells | One) -> Expr:
    """The sum of the numbers in these cells."""
    return _Over("SUM", of)


def count(*of: Cells | One) -> Expr:
    """How many of these cells hold a number."""
    return _Over("COUNT", of)


def when(test: Expr, then: Part, otherwise: Part) -> Expr:
    """One or the other."""
    return _Call("IF", (test, expr(then), expr(otherwise)))


def both(*tests: Expr) -> Expr:
    """True when all of them are."""
    return _Call("AND", tests)


def unless_blank(cell: Expr, then: Part) -> Expr:
    """Nothing where the cell is empty or shows nothing."""
    return when(cell.equals(""), "", then)
