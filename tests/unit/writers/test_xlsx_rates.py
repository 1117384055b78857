"""The sheet Rates: every line told of stands in one table, where what asks for the user's eye comes first."""

from typing import get_args

from elevgen.takeoff.rates import Rates, RateTold, Told
from elevgen.writers._xlsx_rates import LONGEST, rates_sheet


def told(kind: Told, code: str, item: str = "Ties") -> RateTold:
    return RateTold(kind, code, item, "nr", 1.5, "book.csv, row 7", "by its code")


def test_every_line_stands_in_the_table_of_what_became_of_it():
    kinds = get_args(Told)
    sheet = rates_sheet(Rates(told=tuple(told(kind, f"{kind}/{n}") for n in range(2) for kind in kinds)))
    assert len(sheet.blocks) == len(kinds)
    for block in sheet.blocks:
        (kind,) = {str(row[0]).split("/")[0] for row in block.rows}
        assert [row[0] for row in block.rows] == [f"{kind}/0", f"{kind}/1"]
        assert block.rows[0][1:] == ("Ties", "nr", 1.5, "book.csv, row 7", "by its code")


def test_an_empty_table_is_there_and_says_so():
    assert all(not block.rows for block in rates_sheet(Rates()).blocks)
    assert len(rates_sheet(Rates()).blocks) == len(get_args(Told))


def test_a_text_too_long_for_a_cell_is_shortened_here_and_named_by_its_row():
    (row,) = next(block.rows for block in rates_sheet(Rates(told=(told("gone", "A", "x" * 40_000),))).blocks if block.rows)
    assert len(str(row[1])) == LONGEST
    assert str(row[1]).endswith("...")
