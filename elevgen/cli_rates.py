"""What the terminal says of a user's own figures: what landed, what did not, where to read on."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from elevgen.core.errors import RateFault

if TYPE_CHECKING:
    from elevgen.takeoff.model import Takeoff
    from elevgen.takeoff.rates import Rates, RateTold, Told

MOST_NAMED = 3
"""Lines named of each kind; all of them are on the sheet Rates."""
LONGEST = 60
"""Characters of a name shown."""

SAID: tuple[tuple[Told, str], ...] = (
    ("not in the bill", "{n} of the price book not in the bill"),
    ("unit differs", "{n} in another unit, not used"),
    ("differs", "{n} kept though the price book has another figure"),
    ("gone", "{n} of the earlier workbook no longer there"),
    ("without a rate", "{n} of the bill without a rate"),
)
"""What became of lines that ask for the user's eye, in words; `{n}` is their number and `line` or `lines`."""


def say_rates(takeoff: Takeoff, rates: Rates, written: Sequence[Path]) -> None:
    """How many rates landed, what did not match, the total, and where all of it is listed."""
    from elevgen.takeoff.pricing import bill_total

    takeoff = takeoff.for_people
    codes = {quantity.code for quantity in takeoff.quantities}
    priced = sum(rates.of(code).rate is not None for code in codes)
    bought = sum(rates.of(order.code).price is not None for order in takeoff.orders)
    click.echo(
        f"  {priced} of {len(codes)} lines of the bill have a rate, {bought} of {len(takeoff.orders)} of the order list a price"
    )
    for kind, words in SAID:
        lines = [told for told in rates.told if told.told == kind]
        if lines:
            click.echo(f"    {words.format(n=_lines(len(lines)))}: {_named(lines)}")
    total = bill_total(takeoff, rates)
    if total is not None:
        click.echo(f"  total of the bill: {total:,.2f}, of the lines with a rate, before contingency, overheads and tax")
    books = [path for path in written if path.suffix == ".xlsx"]
    if books:
        click.echo(f"  read on: sheet Rates of {books[0]}")


def say_changed(written: Sequence[Path]) -> None:
    """Files that somebody changed since an earlier draw, and what they are called now."""
    from elevgen.writers import CHANGED

    for path in written:
        name, mark, _ = path.stem.rpartition(CHANGED)
        if mark:
            click.echo(f"  {name}{path.suffix} had been changed since it was drawn: kept as {path}")
            if path.suffix == ".xlsx":
                click.echo(f"    its rates and notes go across with: --keep-rates {path}")


def say_left_csv(folder: Path, written: Sequence[Path]) -> None:
    """A bill of an earlier draw that this one did not write and did not remove."""
    for path in sorted(folder.glob("*-bill.csv")):
        if path not in written:
            click.echo(f"  {path} is of an earlier draw; --csv writes it anew")


def rate_fault_text(source: str, fault: RateFault) -> str:
    """One thing wrong in a file of figures, in the form faults of a spec have."""
    told = [f"{source}: {fault.where}: {fault.message}"]
    for what, text in (("given", fault.given), ("allowed", fault.allowed), ("nearest", fault.nearest)):
        if text:
            told.append(f"    {what + ':':<8} {text}")
    return _plain("\n".join(told))


def _named(lines: Sequence[RateTold]) -> str:
    names = [_short(told.code or told.item or "a line with no name") for told in lines[:MOST_NAMED]]
    return ", ".join(names) + (", ..." if len(lines) > MOST_NAMED else "")


def _lines(number: int) -> str:
    return f"{number} line{'s' if number != 1 else ''}"


def _short(text: str) -> str:
    shown = _plain(text).replace("\n", " ")
    return shown if len(shown) <= LONGEST else f"{shown[: LONGEST - 3]}..."


def _plain(text: str) -> str:
    """Text with nothing in it that a terminal would obey."""
    return "".join(c if c.isprintable() or c == "\n" else "\ufffd" for c in text)
