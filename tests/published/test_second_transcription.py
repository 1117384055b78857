"""Each rule set against a second transcription of its documents: the tables of `second_transcription_*.py`.

A bare comparison of two typings, no more: what the product makes of a figure is judged in the other files here.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from math import radians, tan
from pathlib import Path
from typing import Any

import pytest
from second_transcription import AAC, CS, DENSE, LIGHT, Typed

from elevgen.core.sourced import Sourced
from elevgen.rules.book import RuleBook
from elevgen.rules.loader import country_ids

Book = Callable[[str], RuleBook]
TYPED = {
    name.stem.rsplit("_", 1)[1]: import_module(name.stem)
    for name in sorted(Path(__file__).parent.glob("second_transcription_*.py"))
}
HERE = [country for country in country_ids() if country in TYPED]


def rows(country: str, *, memory: bool) -> list[Typed]:
    """The country's own rows, and for what it has none of its own those of the others, uk before the rest. Pages of the trade
    without a name are each their own country's, and those of the us set only its own.
    """
    found: dict[tuple[str, str], Typed] = {}
    known = {(row.document, row.key) for row in (*TYPED[country].ROWS, *TYPED[country].MEMORY)}
    for other in (country, *sorted(TYPED.keys() - {country}, key=lambda name: (name != "uk", name))):
        for row in TYPED[other].MEMORY if memory else TYPED[other].ROWS:
            where = row.document, row.key
            foreign = other != country and (where in known or (other == "us" and row.document.startswith("trade web")))
            if not foreign:
                found.setdefault(where, row)
    return list(found.values())


def held(book: RuleBook, typed: Typed) -> list[Sourced]:
    """What the set has from that document under that key, as default or alternative."""
    known = (*((book.get(typed.key),) if book.has(typed.key) else ()), *book.alternatives.get(typed.key, ()))
    return [s for s in known if s.document.startswith(typed.document)]


def same(a: Any, b: Any) -> bool:
    """Numbers to a ten thousandth, tables number by number, words letter by letter."""
    if isinstance(a, tuple):
        return isinstance(b, tuple) and len(a) == len(b) and all(map(same, a, b))
    return bool(a == b if isinstance(a, str) else a == pytest.approx(b, rel=2e-4, abs=1e-9))


def wrong(book: RuleBook, every: list[Typed]) -> list[str]:
    """Each figure that is held otherwise than typed: the default where it is of that document, else the only alternative."""
    pairs = []
    for typed in every:
        of = held(book, typed)
        is_default = bool(of) and book.has(typed.key) and of[0] == book.get(typed.key)
        if is_default or len(of) == 1:
            pairs.append((typed, of[0]))
    assert pairs
    return [f"{t.document} {t.key}: held {s.value}, typed {t.value}" for t, s in pairs if not same(s.value, t.value)]


@pytest.mark.parametrize("country", HERE)
def test_figures_read_and_quoted(book: Book, country: str) -> None:
    assert wrong(book(country), rows(country, memory=False)) == []


@pytest.mark.parametrize("country", HERE)
def test_figures_from_memory_are_typed_alike_twice(book: Book, country: str) -> None:
    assert wrong(book(country), rows(country, memory=True)) == []


@pytest.mark.parametrize("country", HERE)
def test_no_figure_is_typed_that_the_set_does_not_hold(book: Book, country: str) -> None:
    own = [*TYPED[country].ROWS, *TYPED[country].MEMORY]
    assert [f"{t.document}: {t.key}" for t in own if not held(book(country), t)] == []


@pytest.mark.parametrize("country", HERE)
def test_every_value_of_a_document_is_met(book: Book, country: str) -> None:
    """The defaults: each from a document was typed again under that document."""
    rules = book(country)
    every = [*rows(country, memory=False), *rows(country, memory=True)]
    met = {(s.key, s.document) for typed in every for s in held(rules, typed)}
    documented = {(key, value.document) for key, value in rules.values.items() if value.status != "practice"}
    assert sorted(documented - met) == []


@pytest.mark.parametrize("country", HERE)
def test_common_practice_no_source_is_typed_alike_twice(book: Book, country: str) -> None:
    """No evidence of anything but that no digit slipped; and every such value is there."""
    practice = TYPED["uk"].PRACTICE | TYPED[country].PRACTICE
    values = {key: value for key, value in book(country).values.items() if value.status == "practice"}
    assert sorted(values.keys() - practice.keys()) == []
    assert {key: value.value for key, value in values.items() if not same(value.value, practice[key])} == {}


def test_every_rule_set_is_typed_twice() -> None:
    assert set(country_ids()) <= set(TYPED)


def test_tables_add_up(uk: RuleBook) -> None:
    """Sums and ratios over whole tables, by which two slips that cancel in one row would still show."""

    def total(*keys: str) -> float:
        return sum(uk.get(key).number for key in keys) / 1000

    stem = "movement_joint.spacing.reinforced_"
    thin = [f"{stem}{every}.{material}" for every in (450, 225) for material in (CS, DENSE, LIGHT, AAC)]
    thick = [f"{stem}{every}.over_140.{material}" for every in (450, 225) for material in (CS, DENSE, LIGHT, AAC)]
    assert total(*thin) == 2 * (12 + 10) + 2 * (14 + 12)
    assert total(*thick) - total(*thin) == 2 * len(thin)
    assert total("tie.spacing.horizontal", "tie.edge.distance", "tie.verge.horizontal") == 6 * 0.225
    products = sum(up_to * length for up_to, length in uk.get("tie.length").bands)
    assert products == sum(cavity * (cavity + 125) for cavity in range(75, 301, 25))
    angles = [uk.get(f"lintel.load.{name}.angle").number for name in ("triangle", "zone")]
    assert tan(radians(angles[1])) / tan(radians(angles[0])) == pytest.approx(0.953 / 0.55, abs=0.001)
