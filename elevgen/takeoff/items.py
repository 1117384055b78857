"""One thing measured at one place, before waste; and the codes and words items are known by."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterable
from typing import NamedTuple, TypeVar

from elevgen.building.model import Unit
from elevgen.core.figures import Figures
from elevgen.core.measures import millimetres
from elevgen.takeoff.model import Deduction, Part

T = TypeVar("T")
K = TypeVar("K", bound=Hashable)


class Measured(NamedTuple):
    """An item at a place, net as fixed.

    `waste` names the waste group it is ordered with; "" is ordered as counted, None is work and not ordered.
    `needed` is what is bought before waste, where that is not net and laps. `parts` is the net by panel and scaffold lift; they
    need not add up to the last digit, and where they do not say what they need it is shared out as the net is.
    `gross` and `deductions`: over all openings, and what each takes. `as_built`: the net as really fixed, where `net` is another.
    """

    code: str
    item: str
    unit: str
    net: float
    where: str
    derivation: str
    waste: str | None
    laps: float | None = None
    needed: float | None = None
    gross: float | None = None
    deductions: tuple[Deduction, ...] = ()
    as_built: float | None = None
    parts: tuple[Part, ...] = ()


def size(*lengths: float) -> str:
    """Millimetres for a code or a description: `102.5x65`."""
    return "x".join(millimetres(length) for length in lengths)


def spoken(name: str) -> str:
    """A name of the spec as it is said: `dense block 100`."""
    return name.replace("_", " ")


def unit_words(unit: Unit, figures: Figures) -> str:
    """A unit in trade terms: name, material, work size."""
    sizes = f"{figures.length(unit.length)} x {figures.length(unit.width)} x {figures.measure(unit.height)}"
    return f"{spoken(unit.name)}, {spoken(unit.material)} {sizes}"


def codes_of(names: Iterable[str]) -> dict[str, str]:
    """The part of a code that stands for each name: capitals, digits, `_` and `-` only, no two alike."""
    codes: dict[str, str] = {}
    for name in sorted(set(names)):
        stem = re.sub(r"[^A-Z0-9_]+", "-", name.upper()).strip("-") or "X"
        code, count = stem, 1
        while code in codes.values():
            count += 1
            code = f"{stem}-{count}"
        codes[name] = code
    return codes


def grouped(things: Iterable[T], key: Callable[[T], K]) -> dict[K, tuple[T, ...]]:
    """Things by key, keys in the order first met."""
    groups: dict[K, list[T]] = {}
    for thing in things:
        groups.setdefault(key(thing), []).append(thing)
    return {k: tuple(v) for k, v in groups.items()}


def counted(number: int, one: str, many: str = "") -> str:
    """`1 length`, `3 lengths`."""
    return f"{number} {one if number == 1 else many or one + 's'}"
