"""Each rule set against a second transcription of its documents: the tables of `second_transcription_*.py`.

A bare comparison of two typings, no more: what the product makes of a figure is judged in the other files here.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Callable
from importlib import import_module
from math import radians, tan
from pathlib import Path
from typing import Any

import pytest
from second_transcription import AAC, CS, DENSE, LIGHT, Typed
from typed_statuses import NOTED, ONLY_IN, STATUSES, which
from typed_units import UNITS, TypedUnit

from elevgen.core.sourced import Sourced
from elevgen.rules.book import RuleBook
from elevgen.rules.loader import country_ids

Book = Callable[[str], RuleBook]
TYPED = {
    name.stem.rsplit("_", 1)[1]: import_module(name.stem)
    for name in sorted(Path(__file__).parent.glob("second_transcription_*.py"))
}
HERE = [country for country in country_ids() if country in TYPED]


def rows(country: str) -> dict[str, list[tuple[Typed, bool]]]:
    """By key what is typed and whether from memory: the country's own rows, and for what it has none of its own those of the
    others, uk before the rest. Pages of the trade without a name are each their own country's, and the us pages only its own.
    """
    found: dict[str, list[tuple[Typed, bool]]] = defaultdict(list)
    known: set[tuple[str, str]] = set()
    for other in (country, *sorted(TYPED.keys() - {country}, key=lambda name: (name != "uk", name))):
        of = TYPED[other]
        every = [*((row, False) for row in of.ROWS), *((row, True) for row in of.MEMORY)]
        for row, memory in every:
            foreign = (row.document, row.key) in known or (other == "us" and row.document.startswith("trade web"))
            if other == country or not foreign:
                found[row.key].append((row, memory))
        known |= {(row.document, row.key) for row, _ in every}
    return found


def held(book: RuleBook, key: str) -> list[Sourced]:
    """What the set has under that key, as default or alternative."""
    return [*((book.get(key),) if book.has(key) else ()), *book.alternatives.get(key, ())]


def same(a: Any, b: Any) -> bool:
    """Numbers to a ten thousandth, tables number by number, words letter by letter."""
    if isinstance(a, tuple):
        return isinstance(b, tuple) and len(a) == len(b) and all(map(same, a, b))
    return bool(a == b if isinstance(a, str) else a == pytest.approx(b, rel=2e-4, abs=1e-9))


def paired(book: RuleBook, country: str) -> tuple[list[Sourced], list[Typed]]:
    """Figures held that nobody typed for that document, and figures typed that are left over; each typing serves one figure."""
    typings = rows(country)
    untyped = []
    for key in sorted({*book.values, *book.alternatives}):
        left = typings[key]
        for figure in (s for s in held(book, key) if s.status != "practice"):
            fits = [
                pair
                for pair in left
                if figure.document.startswith(pair[0].document)
                and pair[1] == (figure.status == "memory")
                and same(figure.value, pair[0].value)
            ]
            if fits:
                left.remove(max(fits, key=lambda pair: len(pair[0].document)))
            else:
                untyped.append(figure)
    own = {id(row) for row in (*TYPED[country].ROWS, *TYPED[country].MEMORY)}
    return untyped, [row for pairs in typings.values() for row, _ in pairs if id(row) in own]


@pytest.mark.parametrize("country", HERE)
def test_every_figure_of_a_document_is_typed_alike_twice(book: Book, country: str) -> None:
    """Defaults and other figures, as often as the set has them; what is from memory in the set was typed as from memory."""
    untyped, _ = paired(book(country), country)
    assert [f"{s.document} ({s.status}) {s.key}: held {s.value}" for s in untyped] == []


@pytest.mark.parametrize("country", HERE)
def test_no_figure_is_typed_that_the_set_does_not_hold(book: Book, country: str) -> None:
    _, left = paired(book(country), country)
    assert [f"{t.document} {t.key}: typed {t.value}" for t in left] == []


@pytest.mark.parametrize("country", HERE)
def test_as_many_figures_are_shown_as_are_typed_for_another_set(book: Book, country: str) -> None:
    """What a set has only other sets' typings for could be dropped from it unseen: so many there are of each document."""
    own = [*TYPED[country].ROWS, *TYPED[country].MEMORY]
    borrowed = [
        s.document
        for key, others in book(country).alternatives.items()
        for s in others
        if s.status != "practice" and not any(row.key == key and s.document.startswith(row.document) for row in own)
    ]
    named = sorted(TYPED[country].BORROWED, key=len, reverse=True)
    assert Counter(next(filter(of.startswith, named), of) for of in borrowed) == TYPED[country].BORROWED


@pytest.mark.parametrize("country", HERE)
def test_common_practice_no_source_is_typed_alike_twice(book: Book, country: str) -> None:
    """No evidence of anything but that no digit slipped; and every such value is there."""
    practice = TYPED["uk"].PRACTICE | TYPED[country].PRACTICE
    values = {key: value for key, value in book(country).values.items() if value.status == "practice"}
    assert sorted(values.keys() - practice.keys()) == []
    assert {key: value.value for key, value in values.items() if not same(value.value, practice[key])} == {}


@pytest.mark.parametrize("country", HERE)
def test_other_figures_of_common_practice_are_typed_alike_twice(book: Book, country: str) -> None:
    others = book(country).alternatives
    practice = {key: tuple(s.value for s in of if s.status == "practice") for key, of in others.items()}
    beside = getattr(TYPED[country], "PRACTICE_BESIDE", {})
    assert {key: values for key, values in practice.items() if not same(values, beside.get(key, ()))} == {}
    assert sorted(beside.keys() - practice.keys()) == []


@pytest.mark.parametrize("country", HERE)
def test_how_each_figure_is_known_is_typed_alike_twice(book: Book, country: str) -> None:
    """Read, quoted, from memory or derived: by document, and what of a document is known otherwise."""
    rules = book(country)
    every = [s for key in {*rules.values, *rules.alternatives} for s in held(rules, key) if s.status != "practice"]
    typings = {s: ONLY_IN.get((country, s.key)) or STATUSES.get(which(s.document, s.key) or ("", "")) for s in every}
    assert sorted(f"{s.document} {s.key}: {s.status}" for s, status in typings.items() if status != s.status) == []


def test_no_status_is_typed_that_no_set_has(book: Book) -> None:
    every = [s for country in HERE for key in book(country).alternatives for s in held(book(country), key)]
    assert sorted(STATUSES.keys() - {which(s.document, s.key) for s in every}) == []


def test_what_notes_say_is_read_or_quoted_is_typed_alike_twice(book: Book) -> None:
    """`NAME (read)` in a note: how that is known, whatever the figure itself is."""
    met = set()
    for rules in map(book, HERE):
        figures = [s for key in {*rules.values, *rules.alternatives} for s in held(rules, key)]
        for note in {s.note for s in (*figures, *(unit.source for unit in rules.units.values()))}:
            for words, said in re.findall(r"([^;()]+)\((read|quoted|from memory|derived)\)", note):
                named = max((name for name in NOTED if name in words), key=len, default="")
                assert NOTED.get(named) == said, note
                met.add(named)
    assert met == NOTED.keys()


@pytest.mark.parametrize("country", HERE)
def test_units_are_typed_alike_twice(book: Book, country: str) -> None:
    """Length, height, width, bed, mass, material and status of each; perpends are the set's in all."""
    units = book(country).units
    assert sorted(units) == sorted(UNITS[country])
    for name, unit in units.items():
        sides = unit.length, unit.height, unit.width, unit.bed, unit.mass
        assert unit.joint is None, name
        assert TypedUnit(unit.material, unit.source.status, *sides) == about(UNITS[country][name]), name


def about(unit: TypedUnit) -> TypedUnit:
    """The same to a thousandth."""
    sides = (None if side is None else pytest.approx(side, abs=0.001) for side in unit[2:])
    return TypedUnit(unit.material, unit.status, *sides)


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
