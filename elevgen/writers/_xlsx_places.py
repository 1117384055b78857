"""The sheet of shares: what of every quantity lies in which panel between movement joints and in which scaffold lift."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.takeoff.model import Part, Quantity, Takeoff
from elevgen.takeoff.sections import by_item
from elevgen.writers._xlsx_model import Field, Fields, Sheet, amount, table


class Share(NamedTuple):
    """What of a quantity lies in one panel and lift."""

    of: Quantity
    part: Part


SHARES: Fields[Share] = (
    Field("Code", 30, "text", lambda s: s.of.code),
    Field("Item", 56, "wrap", lambda s: s.of.item),
    Field("Where", 14, "text", lambda s: s.of.where),
    Field("Panel", 18, "text", lambda s: s.part.panel),
    Field("Lift", 7, "nr", lambda s: s.part.lift),
    Field("Quantity", 12, "amount", lambda s: amount(s.part.net, s.of.unit)),
    Field("Unit", 7, "text", lambda s: s.of.unit),
)


def lifts_and_panels(takeoff: Takeoff) -> Sheet:
    """Every share of every quantity, item by item; what lies in one place is one row."""
    shares = (
        Share(quantity, part) for _, places in by_item(takeoff.quantities) for quantity in places for part in quantity.parts
    )
    return Sheet(
        "Lifts and panels",
        "What lies where, as really fixed: filter by lift, by panel or by leaf. Lifts count from the bottom of the building; "
        "no panel: joints, cavities and ties.",
        (table("Shares of each quantity", SHARES, shares),),
    )
