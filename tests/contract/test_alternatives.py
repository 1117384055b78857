"""Every figure a rule set shows beside its own can be taken in its place by an override, and then nothing else changes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from elevgen.rules.book import RuleBook
from elevgen.rules.keys import KEYS
from elevgen.rules.loader import country_ids, load_book
from elevgen.rules.overrides import overridden
from elevgen.spec.models import Override

EVERY_SET = country_ids()
BOOKS = {country: load_book(country) for country in EVERY_SET}
TAKEN = [
    pytest.param(country, key, n, id=f"{country} {key} {n + 1}")
    for country in EVERY_SET
    for key, others in BOOKS[country].alternatives.items()
    for n, other in enumerate(others)
    if KEYS[key].kind not in ("bands", "sizes") and other.value != BOOKS[country].values[key].value
]


@pytest.mark.parametrize("country", EVERY_SET)
def test_there_are_figures_to_choose_from(country: str) -> None:
    assert sum(param.values[0] == country for param in TAKEN) >= 10


@pytest.mark.parametrize(("country", "key", "n"), TAKEN)
def test_an_override_takes_an_alternative(country: str, key: str, n: int) -> None:
    before = BOOKS[country]
    other = before.alternatives[key][n]
    given: Any = ", ".join(map(str, other.value)) if isinstance(other.value, tuple) else other.value
    unit = "" if KEYS[key].unit == "word" else other.unit
    override = Override(rule=key, value=given, unit=unit, reason="as the local authority asks", by="the engineer")
    after = overridden(before, (override,))
    assert after.values[key].value == other.value
    assert (after.values[key].status, after.values[key].document) == ("practice", "override by the engineer")
    assert "as the local authority asks" in after.values[key].note
    assert before.values[key].document.split(";")[0] in after.values[key].note
    assert after.alternatives[key] == (before.values[key], *before.alternatives[key])
    for name, was in fields(before).items():
        now = fields(after)[name]
        if isinstance(was, dict):
            was, now = ({k: v for k, v in of.items() if k != key} for of in (was, now))
        assert now == was, name


def fields(book: RuleBook) -> dict[str, Any]:
    """All a book holds, tables as dicts."""
    every = {name: getattr(book, name) for name in book.__slots__}
    return {name: dict(value) if isinstance(value, Mapping) else value for name, value in every.items()}
