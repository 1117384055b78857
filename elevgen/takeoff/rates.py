"""Rates, buying prices and other figures of the user's own, by item code; matched to a take-off elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

Told = Literal["matched", "kept", "not in the bill", "without a rate", "unit differs", "gone", "differs"]
"""What became of a line: a rate found its item, was kept from an earlier workbook, has no item; an item has no rate; the
units differ; an item of the earlier workbook is no longer there; the earlier workbook and the price book differ."""


class Own(NamedTuple):
    """What a user has for one item: `rate` in the bill, `price` in the order list (both for one unit of measurement), waste
    in per cent, what a pack holds, and notes. None: nothing of their own."""

    rate: float | None = None
    price: float | None = None
    waste: float | None = None
    pack: float | None = None
    note: str | None = None
    order_note: str | None = None


class RateTold(NamedTuple):
    """One line of what became of the user's figures: where it stood in their file, and in words what was done."""

    told: Told
    code: str
    item: str
    unit: str
    given: float | None
    source: str
    words: str


@dataclass(frozen=True, slots=True)
class Rates:
    """Everything a user brought: by item code, percentages of the settings by name, and what became of each line."""

    items: Mapping[str, Own] = field(default_factory=dict)
    settings: Mapping[str, float] = field(default_factory=dict)
    told: tuple[RateTold, ...] = ()

    def of(self, code: str) -> Own:
        return self.items.get(code, Own())
