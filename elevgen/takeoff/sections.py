"""The order of a bill: its sections, and the items in each."""

from __future__ import annotations

import re
from collections.abc import Iterable

from elevgen.takeoff.items import grouped
from elevgen.takeoff.model import Quantity

SECTIONS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Walling", ("WALL-", "CAVITY-")),
    ("Units", ("UNIT-NR",)),
    ("Mortar", ("MORTAR-",)),
    ("Movement joints", ("JT-MOVE-", "JT-FILL-", "JT-ROD-", "JT-TAPE-", "JT-SEAL-M", "JT-SEAL-L", "JT-BEAD-", "TIE-NR/SLIP")),
    ("Reinforcement", ("BR-",)),
    ("Lintels", ("LINTEL-",)),
    ("Openings", ("CLOSE-M/", "FAIR-RETURN-M/REVEAL", "HEAD-M", "SILL-M")),
    ("Ties", ("TIE-",)),
    ("Damp-proofing", ("DPC-", "TRAY-M", "TRAY-NR", "TRAY-", "WEEP-")),
    ("Finishes", ("MESH-",)),
    ("Cutting units", ("UNIT-CUT-NR",)),
    ("Labours", ("FAIR-RETURN-M", "CUT-M/FAIR", "CUT-M/ROUGH", "BOND-END-M", "SET-OUT-NR", "")),
)
"""Every section, and the beginnings of its items' codes in order; what begins like no other is labour."""


def section(code: str) -> str:
    """The section of the bill an item belongs to."""
    return SECTIONS[_place(code)[0]][0]


def in_trade_order(code: str) -> tuple[int, int, tuple[str | int, ...]]:
    """What items are sorted by: section, kind, then size, the smaller first."""
    return (*_place(code), tuple(int(part) if part.isdigit() else part for part in re.split(r"(\d+)", code)))


def _place(code: str) -> tuple[int, int]:
    starts = ((trade, n, start) for trade, (_, begun) in enumerate(SECTIONS) for n, start in enumerate(begun))
    return next((trade, n) for trade, n, start in starts if code.startswith(start))


def by_item(quantities: Iterable[Quantity]) -> list[tuple[str, tuple[Quantity, ...]]]:
    """Every item's code with the quantities of it, in the order of the trade."""
    return sorted(grouped(quantities, lambda q: q.code).items(), key=lambda item: in_trade_order(item[0]))
