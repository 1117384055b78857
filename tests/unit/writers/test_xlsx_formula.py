"""What formulas come to, against what spreadsheets are known to make of the same (tests/whole asks two of them)."""

import pytest

from elevgen.writers._xlsx_cells import At, Here, Scalar, Table, column_letters
from elevgen.writers._xlsx_formula import Down, Expr, Own, expr
from elevgen.writers._xlsx_functions import SumIf, both, count, rounded, total, unless_blank, when, whole_steps

TABLE = Table("S", "T")
HERE = Here(TABLE, 0)


class Cells:
    """One table with a row of cells by column, and one column `many`."""

    def __init__(self, *many: Scalar, **row: Scalar) -> None:
        self._many, self._row = many, list(row.items())

    def at(self, table: Table, column: str, row: int) -> At:
        if column == "many":
            return At("S", row % len(self._many), 0)
        return At("S", row, 1 + [name for name, _ in self._row].index(column))

    def named(self, name: str) -> At:
        raise KeyError(name)

    def holds(self, cell: At) -> Scalar:
        return self._many[cell.row] if cell.column == 0 else self._row[cell.column - 1][1]


def made(of: Expr, *many: Scalar, **row: Scalar) -> Scalar:
    return of.value(Cells(*many, **row), HERE)


@pytest.mark.parametrize(
    ("value", "places", "expected"),
    [(1.005, 2, 1.01), (2.5, 0, 3), (-2.5, 0, -3), (1.025, 2, 1.03), (2.675, 2, 2.68), (0.5, 0, 1), (1234.5678, -2, 1200)],
)
def test_halves_are_rounded_away_from_nothing(value: float, places: int, expected: float) -> None:
    assert made(rounded(Own("x"), places), x=value) == expected


@pytest.mark.parametrize(
    ("value", "step", "expected"),
    [(0.3, 0.1, 3), (0.1 + 0.2, 0.1, 3), (0.301, 0.1, 4), (58.2, 0.1, 582), (7, 1, 7), (7.01, 1, 8)],
)
def test_what_is_a_step_already_is_not_rounded_up_to_the_next(value: float, step: float, expected: float) -> None:
    assert made(whole_steps(Own("x"), step), x=value) == expected


def test_sums_and_counts_pass_over_text_and_empty_cells() -> None:
    many = Down(TABLE, "many")
    assert made(total(many), 1, "", None, 2.5, "7") == 3.5
    assert made(count(many), 1, "", None, 2.5, "7") == 2
    assert made(total(many), "", None) == 0


def test_blank_cells_are_nothing_in_arithmetic_and_text_is_refused() -> None:
    assert made(Own("x") * 2 + 1, x=None) == 1
    with pytest.raises(ValueError, match="text in arithmetic"):
        made(Own("x") * 2, x="")


def test_if_works_out_only_the_side_it_takes() -> None:
    assert made(unless_blank(Own("x"), expr(1) / Own("x")), x=None) == ""
    assert made(unless_blank(Own("x"), expr(1) / Own("x")), x=4) == 0.25
    assert made(when(both(Own("x").above(0), Own("y").above(0)), "both", "not both"), x=1, y=None) == "not both"


def test_sums_by_key_take_what_is_alike_and_refuse_patterns() -> None:
    class Two(Cells):
        def at(self, table: Table, column: str, row: int) -> At:
            return At("S", row % 3, {"keys": 0, "sums": 1, "key": 2}[column])

        def holds(self, cell: At) -> Scalar:
            return [("A/1", 1.5, self.key), ("A/10", 2.0, None), ("a/1", 4.0, None)][cell.row][cell.column]

        key = "A/1"

    sums = SumIf(Down(TABLE, "keys"), Own("key"), Down(TABLE, "sums"))
    grid = Two()
    assert sums.value(grid, HERE) == 5.5
    assert sums.text(grid, HERE) == "SUMIF($A$1:$A$3,C1,$B$1:$B$3)"
    grid.key = "A/*"
    with pytest.raises(ValueError, match="not a key"):
        sums.value(grid, HERE)


@pytest.mark.parametrize(
    ("of", "text"),
    [
        ((Own("a") + Own("b")) * Own("a"), "(B1+C1)*B1"),
        (Own("a") - (Own("b") - Own("a")), "B1-(C1-B1)"),
        (Own("a") * Own("b") / 100, "B1*C1/100"),
        (Own("a") / (Own("b") * 2), "B1/(C1*2)"),
        (when(Own("a").equals(""), 'say "x"', Own("b").above(0)), 'IF(B1="","say ""x""",C1>0)'),
    ],
)
def test_brackets_stand_where_they_are_needed(of: Expr, text: str) -> None:
    assert of.text(Cells(a=1, b=2), HERE) == text


def test_columns_beyond_z() -> None:
    assert [column_letters(n) for n in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]
