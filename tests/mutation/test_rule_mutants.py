"""The mutants themselves: every number, band, size and word is made wrong, and the loader then gives the wrong value."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

from elevgen.rules import loader

sys.path.insert(0, str(Path(__file__).parent))

from rule_mutants import Watched, apply, mutants, wrong


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
    watched.asked = set()
    assert watched["a"] == 1
    assert watched.get("b") == 2
    assert {**watched} == {"a": 1, "b": 2, "c": 3}
    assert watched.asked == {"a", "b"}
