"""The mutants themselves: every number, band, size and word is made wrong, and the loader then gives the wrong value."""

from __future__ import annotations

import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from elevgen.rules import loader

sys.path.insert(0, str(Path(__file__).parent))

from mutant_report import ONLY_TYPED, caught_before, told
from rule_mutants import apply, mutants, remember, wrong
from rule_reads import OTHERWISE, Asked, Watched, note_of, watch

from elevgen.checks._rules import rule as limit
from elevgen.rules.book import RuleBook


@pytest.mark.parametrize(
    ("key", "value", "expected"),
    [
        ("tie.spacing.horizontal", 900.0, [990.0, 810.0]),
        ("lintel.load.storeys.max", 3.0, [4.0, 2.0]),
        ("lintel.load.zone.masonry", 0.0, [1.0]),
        ("movement_joint.corner.kind", "half_spacing_each_side", ["sum_round_corner"]),
        ("dpc.coping.barred", ("polyethylene",), [("polyethylene", "bitumen")]),
        ("tie.length", ((75.0, 200.0),), [((82.5, 200.0),), ((67.5, 200.0),), ((75.0, 220.0),), ((75.0, 180.0),)]),
        ("backer_rod.sizes", (6.0, 10.0), [(6.6, 10.0), (5.4, 10.0), (6.0, 11.0), (6.0, 9.0)]),
    ],
)
def test_each_value_is_made_wrong(key: str, value: object, expected: list[object]) -> None:
    assert [rounded(one) for one in wrong(key, value)] == expected  # type: ignore[arg-type]


def rounded(value: Any) -> Any:
    """Numbers to a hundredth, however deep."""
    if isinstance(value, tuple):
        return tuple(map(rounded, value))
    return value if isinstance(value, str) else round(value, 2)


def test_every_value_of_every_set_has_a_mutant_unlike_it() -> None:
    made = mutants(loader.country_ids())
    assert all(mutant.value != mutant.was for mutant in made)
    for country in loader.country_ids():
        wanted = {key for key, value in loader.load_book(country).values.items() if list(wrong(key, value.value))}
        assert {mutant.key for mutant in made if country in mutant.countries and mutant.alternative < 0} == wanted


def test_the_loader_gives_the_wrong_value(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(loader, "_read_country", loader._read_country)
    mutant = next(m for m in mutants(["uk"]) if m.key == "tie.spacing.horizontal" and m.alternative < 0)
    whole = loader.load_book("uk").get(mutant.key).value
    apply(mutant)
    assert whole == mutant.was
    assert loader.load_book("uk").get(mutant.key).value == mutant.value


def test_what_is_read_is_noted_and_what_is_only_copied_is_not() -> None:
    watched = Watched({"a": 1, "b": 2, "c": 3})
    watched.asked, watched.named = Asked(), note_of("uk", "{}", False)
    assert watched["a"] == 1
    assert watched.get("b") == 2
    assert {**watched} == {"a": 1, "b": 2, "c": 3}
    assert watched.asked.keys == {"uk a", "uk b"}
    assert watched.asked.worked == set()
    assert len(watched.items()) == 3
    assert watched.asked.keys == {"uk a", "uk b", "uk c"}


def test_a_check_that_asks_is_told_from_a_test_that_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same key of the same set: here by this file, there by a check of the product; and each set's by itself."""
    monkeypatch.setattr(RuleBook, "__init__", RuleBook.__init__)
    asked = Asked()
    watch(asked)
    uk, us = loader.load_book("uk"), loader.load_book("us")
    assert uk.get("tie.density").number
    assert (asked.keys, asked.worked) == ({"uk tie.density"}, set())
    assert us.alternatives["tie.density"]
    assert asked.keys == {"uk tie.density", "us tie.density" + OTHERWISE}
    limit(SimpleNamespace(rules=uk), "tie.density")  # type: ignore[arg-type]
    assert asked.worked == {"uk tie.density"}


def test_the_report_counts_by_set_and_says_what_was_only_typed_twice(tmp_path: Path) -> None:
    every = [m for m in mutants(["uk", "us"]) if m.key == "tie.density" and m.alternative < 0]
    assert [m.countries for m in every] == [("uk",), ("uk",), ("us",), ("us",)]
    results = [
        "tests/published/test_a.py::test_one",
        f"{ONLY_TYPED}tests/published/test_b.py::test_two",
        "tests/unit/c.py::three",
        "",
    ]
    text = told(list(zip(every, results, strict=True)), 5, 2.0)
    assert "4 of 5 mutants tried" in text
    assert "| uk | used | 2 | 2 | 100.0 | 1 | 1 | 1 | 0 |" in text
    assert "| us | used | 2 | 1 | 50.0 | 1 | 0 | 0 | 1 |" in text
    assert "| all | used | 4 | 3 | 75.0 | 2 | 1 | 1 | 1 |" in text
    assert f"- {every[3].name} [{every[3].known}]: alive" in text
    (tmp_path / "report.md").write_text(text, encoding="utf-8")
    assert caught_before(tmp_path / "report.md") == {every[0].name: results[0], every[2].name: results[2]}
    assert caught_before(None) == {}


def test_files_are_read_once_and_each_book_is_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(loader, "_read_country", loader._read_country)
    plain = loader.load_book("au")
    remember()
    again = loader.load_book("au")
    assert (dict(again.values), dict(again.alternatives), again.lineage) == (
        dict(plain.values),
        dict(plain.alternatives),
        plain.lineage,
    )
    apply(next(m for m in mutants(["au"]) if m.key == "tie.embedment" and m.alternative < 0))
    assert loader.load_book("au").values["tie.embedment"] != again.values["tie.embedment"]
    assert again.values["tie.embedment"] == plain.values["tie.embedment"]
