"""What materials are sold in, and how many of that an order takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import ceil
from typing import NamedTuple

from elevgen.core.errors import Fault, SpecError
from elevgen.core.measures import METRE
from elevgen.rules.book import RuleReader
from elevgen.rules.keys import KEYS
from elevgen.spec.faults import listed, nearest, quoted
from elevgen.spec.pack_models import PackModel
from elevgen.takeoff.model import Pack

MILLILITRES = 1000.0
"""In a litre."""
WASTE = "waste."


class _Sold(NamedTuple):
    """Items whose code is or begins with `code` are sold in what the rule `key` says, `per` of its units to one of the item's."""

    code: str
    name: str
    key: str
    per: float


SOLD = (
    _Sold("JT-SEAL-L", "cartridge", "pack.sealant.cartridge", MILLILITRES),
    _Sold("JT-SEAL-L", "foil pack", "pack.sealant.foil_pack", MILLILITRES),
    _Sold("DPC-M", "roll", "dpc.roll_length", METRE),
    _Sold("BR-M", "stock length", "bed_reinforcement.stock_length", METRE),
)
"""What the rule set says materials are sold in. Of everything else nothing is known: ask the merchant."""

Items = Mapping[str, tuple[str, str | None]]
"""By code, the unit of measurement of each material and what its waste is called in the spec."""


def packs_by_item(given: Mapping[str, PackModel | float], items: Items, reader: RuleReader) -> dict[str, tuple[Pack, ...]]:
    """What each item may be bought in, by code, the usual first: what the spec says of it, else the rule set, else nothing.

    Of two names in the spec that mean an item the longer code counts, and any code before what its waste is called.
    Raises SpecError for a name that means no item, and for a part of a thing in a pack of what is counted.
    """
    if faults := tuple(_faults(given, items)):
        raise SpecError(faults)
    packs = {}
    for code, (_, group) in items.items():
        names = sorted((name for name in given if _means(name, code, group)), key=lambda name: (name == group, -len(name)))
        packs[code] = (_as_given(given[names[0]]),) if names else tuple(packs_by_rule(code, reader))
    return packs


def packs_by_rule(code: str, reader: RuleReader) -> Iterator[Pack]:
    """What the rule set says an item is sold in, the usual first."""
    for sold in SOLD:
        if begins(code, sold.code) and (rule := reader.find(sold.key)):
            yield Pack(sold.name, rule.number / sold.per, rule.known)


def number_of(pack: Pack, amount: float) -> int:
    """How many packs hold an amount; one already full to the brim is enough, whatever float dust the amount carries."""
    return ceil(round(amount / pack.holds, 9))


def _as_given(pack: PackModel | float) -> Pack:
    known = pack if isinstance(pack, PackModel) else PackModel(holds=pack)
    return Pack(known.name, known.holds, "given in the spec")


def begins(code: str, start: str) -> bool:
    """Whether a code is this one, or goes on with a size or kind of it."""
    return code == start or code.startswith(f"{start}/")


def _means(name: str, code: str, group: str | None) -> bool:
    return begins(code, name) or name == group


def _faults(given: Mapping[str, PackModel | float], items: Items) -> Iterator[Fault]:
    groups = frozenset(key.removeprefix(WASTE) for key in KEYS if key.startswith(WASTE))
    for name, pack in given.items():
        path = ("measurement", "packs", name)
        meant = [code for code, (_, group) in items.items() if _means(name, code, group)]
        if not meant and name not in groups:
            message = f"the building has no material {quoted(name)}"
            yield Fault(path, message, allowed=listed(_beginnings(items, groups)), nearest=nearest(name, (*items, *groups)))
        holds = _as_given(pack).holds
        if any(items[code][0] == "nr" for code in meant) and not holds.is_integer():
            where = (*path, "holds") if isinstance(pack, PackModel) else path
            yield Fault(where, "holds part of a thing that is counted", allowed="a whole number")


def _beginnings(items: Iterable[str], groups: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted({*(code.split("/")[0] for code in items), *groups}))
