"""A user's own figures brought to a take-off: price book and earlier workbook matched to its items. Nothing is guessed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from math import fsum
from typing import NamedTuple

from elevgen.core.errors import RateFault, RatesError
from elevgen.takeoff.items import grouped
from elevgen.takeoff.model import Takeoff
from elevgen.takeoff.rates import Own, Rates, RateTold, Told
from elevgen.takeoff.sections import by_item, in_trade_order

SPELLINGS = {"m²": "m2", "m³": "m3", "LF": "ft", "SF": "sq ft", "CF": "cu ft", "EA": "nr"}
"""Units spelt otherwise than the take-off does and still taken: with a raised figure, and as American bills write them. No
other spelling is."""
UNITS_TAKEN = "nr, m, m2, m3, l, as the bill writes them; m² and m³ are taken as m2 and m3"
FEET_TAKEN = "nr, ft, sq ft, cu ft, fl oz, as the bill writes them; EA, LF, SF and CF are taken as nr, ft, sq ft and cu ft"

PLACES = 4
"""Decimals of a quantity in the bill."""
CENT = Decimal("0.01")


class PriceLine(NamedTuple):
    """A line of a price book; `rate` and `price` for one `unit` of measurement, `source` where it stands ("row 4")."""

    code: str
    description: str
    unit: str
    rate: float | None
    price: float | None
    source: str


class KeptLine(NamedTuple):
    """What a user had for one item in an earlier workbook; waste and pack only where they were changed there."""

    code: str
    item: str
    unit: str
    own: Own
    source: str


@dataclass(frozen=True, slots=True)
class PriceBook:
    """The lines of a price book in the order of its file, called `name`."""

    name: str
    lines: tuple[PriceLine, ...]


@dataclass(frozen=True, slots=True)
class KeptBook:
    """What stood in the open cells of an earlier workbook, called `name`: lines of the bill and of the order list, settings."""

    name: str
    bill: tuple[KeptLine, ...] = ()
    orders: tuple[KeptLine, ...] = ()
    settings: Mapping[str, float] = field(default_factory=dict)


class Item(NamedTuple):
    """A line that figures can be brought to: of the bill, of the order list or of both."""

    code: str
    description: str
    unit: str
    billed: bool
    ordered: bool
    taken: str = UNITS_TAKEN


def items_of(takeoff: Takeoff) -> dict[str, Item]:
    """Every line of the bill and of the order list by its code, in the order of the trade."""
    billed = {code: places[0] for code, places in by_item(takeoff.quantities)}
    ordered = {order.code: order for order in takeoff.orders}
    items, taken = {}, FEET_TAKEN if takeoff.figures.in_feet else UNITS_TAKEN
    for code in sorted({*billed, *ordered}, key=in_trade_order):
        line = billed[code] if code in billed else ordered[code]
        items[code] = Item(code, line.item, line.unit, code in billed, code in ordered, taken)
    return items


def rates_for(takeoff: Takeoff, book: PriceBook | None = None, kept: KeptBook | None = None) -> Rates:
    """A user's figures by item, and what became of every line of theirs. Where both files have a figure, the kept one wins.

    Raises RatesError where a description of the price book fits several items, or two lines of it bring one item different
    figures.
    """
    if book is None and kept is None:
        return Rates()
    items = items_of(takeoff)
    had, told_kept = _kept(items, kept) if kept else ({}, [])
    given, told_book = _booked(items, book) if book else ({}, [])
    told = [*told_book, *told_kept]
    if book and kept:
        told += _differing(items, had, given, kept.name, book.name)
    own = {code: _over(given.get(code, Own()), had.get(code, Own())) for code in items if code in given or code in had}
    told += [
        RateTold("without a rate", item.code, item.description, item.unit, None, "", "")
        for item in items.values()
        if item.billed and own.get(item.code, Own()).rate is None
    ]
    return Rates(own, dict(kept.settings) if kept else {}, tuple(told))


def line_amount(quantity: float, rate: float) -> float:
    """Quantity x rate to two decimals, halves away from zero, as a spreadsheet's ROUND has it."""
    return float((Decimal(repr(quantity)) * Decimal(repr(rate))).quantize(CENT, ROUND_HALF_UP))


def billed_quantity(takeoff: Takeoff, code: str, unit: str) -> float:
    """What a line of the bill shows and is priced by: whole numbers where things are counted, else to four decimals."""
    return round(takeoff.billed(code), 0 if unit == "nr" else PLACES)


def bill_total(takeoff: Takeoff, rates: Rates) -> float | None:
    """The sum of all lines that have a rate, before contingency, overheads and tax; None where none has one."""
    amounts = [
        line_amount(billed_quantity(takeoff, code, places[0].unit), rate)
        for code, places in by_item(takeoff.quantities)
        if (rate := rates.of(code).rate) is not None
    ]
    return round(fsum(amounts), 2) if amounts else None


def unit_as_taken(unit: str) -> str:
    """A unit of a user's in the spelling of the take-off."""
    return SPELLINGS.get(unit, unit)


# --- price book -----------------------------------------------------------------------------------------------------


def _booked(items: Mapping[str, Item], book: PriceBook) -> tuple[dict[str, Own], list[RateTold]]:
    """Figures by code, and what became of each line."""
    described = grouped(items.values(), lambda item: item.description.strip())
    found: dict[str, list[PriceLine]] = {}
    told: list[RateTold] = []
    faults: list[RateFault] = []
    for line in book.lines:
        fitting = (items[line.code],) if line.code in items else described.get(line.description, ()) if line.description else ()
        if len(fitting) > 1:
            faults.append(_several(line, fitting))
        elif not fitting:
            told.append(_told("not in the bill", line, book, "no item has this code, and none exactly this description"))
        elif unit_as_taken(line.unit) != fitting[0].unit:
            told.append(_told("unit differs", line, book, _unit_words(line.unit, fitting[0]), fitting[0]))
        else:
            told.append(_landed(line, fitting[0], book))
            if told[-1].told == "matched":
                found.setdefault(fitting[0].code, []).append(line)
    faults += [fault for code, lines in found.items() for fault in _contradictions(code, lines)]
    if faults:
        raise RatesError(tuple(faults), book.name)
    own = {code: _of_lines(items[code], lines) for code, lines in found.items()}
    return own, told


def _landed(line: PriceLine, item: Item, book: PriceBook) -> RateTold:
    """What a line that found its item brings; a figure the item has no cell for is said too."""
    by = "by its code" if line.code == item.code else "by its description"
    brought = []
    if line.rate is not None:
        brought.append("rate into the bill" if item.billed else "rate not used: the item is ordered, not billed")
    if line.price is not None:
        brought.append("price into the order list" if item.ordered else "price not used: the item is work and not ordered")
    if not brought:
        return _told("without a rate", line, book, f"found {by}, but the line has no figure", item)
    used = (line.rate is not None and item.billed) or (line.price is not None and item.ordered)
    return _told("matched" if used else "not in the bill", line, book, f"{by}: {', '.join(brought)}", item)


def _of_lines(item: Item, lines: Iterable[PriceLine]) -> Own:
    rate = next((line.rate for line in lines if line.rate is not None), None) if item.billed else None
    price = next((line.price for line in lines if line.price is not None), None) if item.ordered else None
    return Own(rate=rate, price=price)


def _contradictions(code: str, lines: list[PriceLine]) -> Iterator[RateFault]:
    """Two lines for one item with different figures."""
    for what, figures in (
        ("rate", [(line, line.rate) for line in lines if line.rate is not None]),
        ("price", [(line, line.price) for line in lines if line.price is not None]),
    ):
        for later, figure in figures[1:]:
            first, had = figures[0]
            if figure != had:
                allowed = f"one {what} for an item: it has {had:.12g} in {first.source}"
                yield RateFault(later.source, f"a second {what} for the item {code}", f"{figure:.12g}", allowed)


def _several(line: PriceLine, fitting: tuple[Item, ...]) -> RateFault:
    codes = ", ".join(item.code for item in fitting)
    return RateFault(line.source, "the description fits several items", line.description, f"the code of one of them: {codes}")


def _unit_words(given: str, item: Item) -> str:
    return f"the item is measured in {item.unit}, the line has {given or 'no unit'}; units taken: {item.taken}"


def _told(told: Told, line: PriceLine, book: PriceBook, words: str, item: Item | None = None) -> RateTold:
    given = line.price if line.rate is None else line.rate
    code, description = (item.code, item.description) if item else (line.code, line.description)
    return RateTold(told, code, description, line.unit, given, f"{book.name}, {line.source}", words)


# --- earlier workbook -----------------------------------------------------------------------------------------------


def _kept(items: Mapping[str, Item], kept: KeptBook) -> tuple[dict[str, Own], list[RateTold]]:
    own: dict[str, Own] = {}
    told: list[RateTold] = []
    for lines, ordering in ((kept.bill, False), (kept.orders, True)):
        for line in lines:
            item = items.get(line.code)
            if item is None or not (item.ordered if ordering else item.billed):
                told.append(_told_kept("gone", line, kept, f"no longer there; it had {_figures(line.own)}"))
                continue
            staying = line.own
            if unit_as_taken(line.unit) != item.unit:
                staying = Own(note=line.own.note, order_note=line.own.order_note, waste=line.own.waste)
                if staying != line.own:
                    words = f"{_unit_words(line.unit, item)}; not carried across: {_figures(line.own)}"
                    told.append(_told_kept("unit differs", line, kept, words))
            if staying != Own():
                told.append(_told_kept("kept", line, kept, f"kept: {_figures(staying)}"))
                own[line.code] = _over(own.get(line.code, Own()), staying)
    return own, told


def _differing(
    items: Mapping[str, Item], had: Mapping[str, Own], given: Mapping[str, Own], kept: str, book: str
) -> Iterator[RateTold]:
    """Items that both files have a figure for, and not the same one."""
    for code in (code for code in items if code in had and code in given):
        for what, stays, other in (
            ("rate", had[code].rate, given[code].rate),
            ("price", had[code].price, given[code].price),
        ):
            if stays is not None and other is not None and stays != other:
                words = f"{what} {stays:.12g} kept from {kept}; {book} has {other:.12g}"
                yield RateTold("differs", code, items[code].description, items[code].unit, other, book, words)


def _told_kept(told: Told, line: KeptLine, kept: KeptBook, words: str) -> RateTold:
    given = line.own.price if line.own.rate is None else line.own.rate
    return RateTold(told, line.code, line.item, line.unit, given, f"{kept.name}, {line.source}", words)


def _figures(own: Own) -> str:
    """What a line had, in words: `rate 12.5, note 'ask again'`."""
    numbers = (("rate", own.rate), ("price", own.price), ("waste %", own.waste), ("pack", own.pack))
    texts = (("note", own.note), ("note", own.order_note))
    said = [f"{what} {number:.12g}" for what, number in numbers if number is not None]
    return ", ".join([*said, *(f"{what} '{_short(text)}'" for what, text in texts if text)])


def _short(text: str, longest: int = 80) -> str:
    return text if len(text) <= longest else f"{text[: longest - 3]}..."


def _over(below: Own, above: Own) -> Own:
    """Figures of one over those of another; what the one does not have is the other's."""
    return below._replace(**{name: value for name, value in above._asdict().items() if value is not None})
