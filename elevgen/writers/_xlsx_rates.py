"""The sheet that says what became of every figure a user brought: of a price book, of an earlier workbook."""

from __future__ import annotations

from elevgen.takeoff.rates import Rates, RateTold, Told
from elevgen.writers._xlsx_model import Field, Fields, Sheet, table

HEADINGS: tuple[tuple[Told, str], ...] = (
    ("not in the bill", "In the price book, but not in the bill"),
    ("unit differs", "The unit differs: not used"),
    ("differs", "The earlier workbook and the price book differ: the earlier one counts"),
    ("gone", "In the earlier workbook, but no longer there"),
    ("matched", "Matched with the price book"),
    ("kept", "Kept from the earlier workbook"),
    ("without a rate", "In the bill, without a rate"),
)
"""What became of a line, and the heading of its table; what asks for the user's eye comes first."""

LONGEST = 500
"""Characters of a user's text shown here; the whole of it is in the file named beside it."""

FIELDS: Fields[RateTold] = (
    Field("Code", 30, "text", lambda told: _short(told.code)),
    Field("Item", 46, "wrap", lambda told: _short(told.item)),
    Field("Unit", 7, "text", lambda told: _short(told.unit)),
    Field("Given", 11, "amount", lambda told: told.given),
    Field("Where it stands", 26, "wrap", lambda told: _short(told.source) or None),
    Field("What was done", 46, "wrap", lambda told: _short(told.words) or None),
)


def rates_sheet(rates: Rates) -> Sheet:
    """A table for each thing that may become of a line; all of them, so that an empty one says `none`."""
    blocks = tuple(table(heading, FIELDS, (told for told in rates.told if told.told == kind)) for kind, heading in HEADINGS)
    return Sheet(
        "Rates",
        "Your own figures: where each stood and what became of it. Matched by code, then by exact description, never guessed.",
        blocks,
        frozen=False,
    )


def _short(text: str) -> str:
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 3]}..."
