"""Rule values made wrong one at a time, and the loader made to give them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, NamedTuple

from elevgen.core.sourced import Sourced, Value
from elevgen.rules import loader
from elevgen.rules.keys import KEYS


class Mutant(NamedTuple):
    """One value made wrong in every rule set that has it from the same source. `alternative`: which, or -1 for the default."""

    countries: tuple[str, ...]
    key: str
    alternative: int
    was: Value
    value: Value
    known: str

    @property
    def name(self) -> str:
        which = f" (alternative {self.alternative + 1})" if self.alternative >= 0 else ""
        return f"{'/'.join(self.countries)} {self.key}{which}: {self.change}"

    @property
    def change(self) -> str:
        """What it was and is; of a list or a table only where they differ."""
        if isinstance(self.was, tuple) and isinstance(self.value, tuple) and len(self.was) == len(self.value):
            (n,) = [n for n, pair in enumerate(zip(self.was, self.value, strict=True)) if pair[0] != pair[1]]
            return f"{n + 1}th {_plain(self.was[n])} -> {_plain(self.value[n])}"
        return f"{_plain(self.was)} -> {_plain(self.value)}"


def _plain(value: Any) -> str:
    if isinstance(value, tuple):
        return "(" + ", ".join(map(_plain, value)) + ")"
    return f"{value:.6g}" if isinstance(value, float) else str(value)


def wrong(key: str, value: Value) -> Iterator[Value]:
    """The value a tenth more and less; a count by one; a word by another; of a list or a table each in turn."""
    choices = KEYS[key].choices
    if isinstance(value, str):
        yield from [word for word in choices if word != value][:1]
    elif isinstance(value, tuple) and value and isinstance(value[0], str):
        words = tuple(map(str, value))
        more = next((word for word in choices if word not in words), None)
        yield from [words[:-1]] * (len(words) > 1) + [(*words, more)] * (more is not None)
    elif isinstance(value, tuple):
        for n, item in enumerate(value):
            if isinstance(item, tuple):
                for at in (0, 1):
                    for number in _off(item[at], "mm"):
                        yield (*value[:n], (number, item[1]) if at == 0 else (item[0], number), *value[n + 1 :])  # type: ignore[misc]
            else:
                for number in _off(float(item), "mm"):
                    yield (*value[:n], number, *value[n + 1 :])  # type: ignore[misc]
    else:
        yield from _off(float(value), KEYS[key].unit)


def _off(value: float, unit: str) -> tuple[float, ...]:
    if value == 0:
        return (1.0,)
    if unit == "nr":
        return value + 1, value - 1
    return value * 1.1, value * 0.9


def mutants(countries: Iterable[str]) -> list[Mutant]:
    """Every one, of each country; what several have from one source is one."""
    holders: dict[tuple[str, int, Sourced], list[str]] = defaultdict(list)
    for country in countries:
        book = loader.load_book(country)
        for key, value in book.values.items():
            for n, sourced in enumerate((value, *book.alternatives.get(key, ())), start=-1):
                holders[key, n, sourced].append(country)
    return [
        Mutant(tuple(of), key, n, sourced.value, value, sourced.status)
        for (key, n, sourced), of in sorted(holders.items(), key=lambda item: (item[1], item[0][0], item[0][1]))
        for value in wrong(key, sourced.value)
    ]


def remember() -> None:
    """From here on the loader reads the files of each rule set once and gives out copies."""
    read, kept = loader._read_country, {}

    def copied(root: Any, country: str, below: tuple[str, ...]) -> Any:
        if below:
            return read(root, country, below)
        if (str(root), country) not in kept:
            kept[str(root), country] = read(root, country, ())
        draft = kept[str(root), country]
        return replace(
            draft, **{name: dict(getattr(draft, name)) for name in ("values", "alternatives", "not_covered", "why", "units")}
        )

    loader._read_country = copied
    for country in loader.country_ids():
        loader.load_book(country)


def apply(mutant: Mutant) -> None:
    """From here on the loader gives the wrong value, in this process."""
    read = loader._read_country

    def wrongly(root: Any, country: str, below: tuple[str, ...]) -> Any:
        draft = read(root, country, below)
        if below == () and country in mutant.countries:
            if mutant.alternative < 0:
                draft.values[mutant.key] = replace(draft.values[mutant.key], value=mutant.value)
            else:
                others = list(draft.alternatives[mutant.key])
                others[mutant.alternative] = replace(others[mutant.alternative], value=mutant.value)
                draft.alternatives[mutant.key] = tuple(others)
        return draft

    loader._read_country = wrongly
