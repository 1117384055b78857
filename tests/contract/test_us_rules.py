"""What the set of the United States owes beyond every set: figures in inches, exact modules, what is barred from code."""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.core.sourced import Sourced
from elevgen.rules import loader
from elevgen.rules.book import RuleBook
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

FILES = Path(loader.__file__).parent / "countries" / "us"
DECIMAL = {"bed_reinforcement.wire.diameter"}
"""Lengths printed as decimals of an inch."""
INCHES = {"in": 1, "ft": 12}
MODULES = {
    # unit: (courses, inches they come to); TN 10B January 1971 and the committee's names of October 1993
    "modular_brick": (3, 8),
    "standard_brick": (3, 8),
    "engineer_modular_brick": (5, 16),
    "engineer_standard_brick": (5, 16),
    "closure_modular_brick": (1, 4),
    "closure_standard_brick": (1, 4),
    "roman_brick": (2, 4),
    "norman_brick": (3, 8),
    "engineer_norman_brick": (5, 16),
    "utility_brick": (1, 4),
    "double_brick": (3, 16),
    "triple_brick": (3, 16),
    "norwegian_brick_6": (5, 16),
    "jumbo_brick_6": (1, 4),
    "jumbo_brick_8": (1, 4),
    "concrete_brick": (3, 8),
    "half_high_block_4": (1, 4),
    "half_high_block_8": (1, 4),
    **{f"concrete_block_{width}": (1, 8) for width in (4, 6, 8, 10, 12)},
}
OFF_MODULE = {"king_brick", "queen_brick"}
"""Their coursing was not seen."""


def toml(name: str) -> dict[str, Any]:
    return tomllib.loads((FILES / name).read_text())


RULES = toml("rules.toml")
UNITS = toml("units.toml")
WRITTEN = [
    (key, figure["value"], figure["unit"])
    for key, entry in RULES["rules"].items()
    for figure in (entry, *entry.get("alternatives", ()))
    if figure.get("unit") in INCHES and key not in DECIMAL
]


def fraction(given: Any) -> Fraction:
    return sum((Fraction(part) for part in str(given).split()), Fraction(0))


def inches(text: str) -> Fraction:
    number, unit = text.rsplit(" ", 1)
    assert unit == "in"
    return fraction(number)


@pytest.fixture(scope="module")
def us() -> RuleBook:
    return load_book("us")


def everything(book: RuleBook) -> list[Sourced]:
    return [sourced for key, value in book.values.items() for sourced in (value, *book.alternatives[key])]


def test_it_has_the_units_the_design_promises(us: RuleBook) -> None:
    assert {"modular_brick", "standard_brick", "utility_brick", "concrete_block_8", "concrete_block_12"} <= set(us.units)
    assert us.lengths == "feet"


@pytest.mark.parametrize(("key", "value", "unit"), WRITTEN)
def test_lengths_are_whole_sixty_fourths_of_an_inch(key: str, value: Any, unit: str) -> None:
    for one in value if isinstance(value, list) else [value]:
        assert (fraction(one) * INCHES[unit] * 64).denominator == 1, key


def test_no_length_is_left_a_round_figure_in_millimetres(us: RuleBook) -> None:
    """What is inherited too: a bricklayer with a tape in inches can find every one of them on it."""
    for key, value in us.values.items():
        if value.unit != "mm" or key in DECIMAL:
            continue
        for length in (value.number,) if isinstance(value.value, float) else value.sizes:
            sixty_fourths = length / 25.4 * 64
            assert sixty_fourths == pytest.approx(round(sixty_fourths), abs=1e-6), key


@pytest.mark.parametrize("name", UNITS)
def test_sizes_of_units_are_whole_sixty_fourths(name: str) -> None:
    for size in ("length", "height", "width"):
        assert (inches(UNITS[name][size]) * 64).denominator == 1


def test_every_unit_is_among_those_with_a_module_or_said_to_have_none() -> None:
    assert set(MODULES) | OFF_MODULE == set(UNITS)
    for name in OFF_MODULE:
        assert "coursing was not seen" in UNITS[name]["note"]


@pytest.mark.parametrize("name", MODULES)
def test_coursing_is_exact_as_written_and_as_loaded(us: RuleBook, name: str) -> None:
    courses, height = MODULES[name]
    assert courses * (inches(UNITS[name]["height"]) + inches(UNITS[name]["bed"])) == height
    unit = us.units[name]
    assert unit.bed is not None
    assert courses * (unit.height + unit.bed) == pytest.approx(height * 25.4, abs=1e-9)


@pytest.mark.parametrize("name", UNITS)
def test_lengths_are_on_the_module_or_said_not_to_be(us: RuleBook, name: str) -> None:
    """Nominal lengths of 8, 10, 12 and 16 in with the joint of the set."""
    joint = fraction(RULES["rules"]["joint.nominal"]["value"])
    on_module = inches(UNITS[name]["length"]) + joint in (8, 10, 12, 16)
    assert on_module != ("is not on the module" in UNITS[name].get("note", ""))


def test_a_range_of_sizes_is_told(us: RuleBook) -> None:
    """Where the committee prints a range its ends stand in the note."""
    assert "3 1/2 to 3 5/8 in thick" in us.units["modular_brick"].source.note
    assert "2 3/4 to 2 13/16 in high" in us.units["engineer_norman_brick"].source.note


def test_memory_says_so_in_its_document_or_has_no_document_seen(us: RuleBook) -> None:
    for value in everything(us):
        if value.status == "memory":
            assert re.search("from memory|not seen", value.document), (value.key, value.document)
        else:
            assert "from memory" not in value.document, value.key


def test_the_references_list_of_what_not_to_code_is_kept(us: RuleBook) -> None:
    """Reference, section 7: uncertain memory, and figures judged wrong where printed."""
    per_100_sf = [v.number * 0.3048**2 * 100 for v in everything(us) if v.key == "thumb.units.half_brick"]
    assert not {680, 635, 590} & {round(x) for x in per_100_sf}
    cubic_feet = [v.number / 0.3048**3 for v in everything(us) if v.unit == "m3/1000"]
    assert sorted(round(x, 3) for x in cubic_feet) == [8.1, 14.0]
    documents = " ".join(value.document for value in everything(us))
    assert not re.search("CSA|Canad|NBC|Ontario|able 2", documents)


def test_what_is_not_coded_is_told_in_its_documents() -> None:
    left_out = " ".join(text for document in toml("documents.toml")["document"] for text in document.get("left_out", ()))
    said = [
        "table 2, bars equivalent",
        "veneer 6 to 7 m, block 6 to 8 m",
        "10.3 cubic feet to 100 brick",
        "680, 635 and 590",
        "TEK 4-2A",
        "worked examples: not seen",
        "its worked example: not seen",
    ]
    assert [text for text in said if text not in left_out] == []


def test_every_document_cited_has_an_entry_and_every_entry_a_citation_or_a_reason(us: RuleBook) -> None:
    cited = {
        name.strip()
        for value in (*everything(us), *(unit.source for unit in us.units.values()))
        for name in value.document.split(";")
        if name
    }
    entries = toml("documents.toml")["document"]
    names = [name for entry in entries for name in (entry["name"], *entry.get("also", ()))]
    assert len(set(names)) == len(names)
    no_document = {name for name in cited - set(names) if not re.search("not seen|publisher unknown|arithmetic|Dutch", name)}
    assert no_document == set()
    for entry in entries:
        assert entry["about"]
        assert entry["read"]
        assert entry["name"] in cited or entry.get("left_out") or entry.get("not_done")


@pytest.mark.parametrize(
    ("key", "ours", "other"),
    [
        ("movement.moisture.high.clay", 0.5, 0.3),
        ("movement.thermal.high.dense_concrete", 4.5e-6 * 1800, 4.0e-6 * 1800),
        ("bed_reinforcement.lap", 8 * 25.4, 6 * 25.4),
        ("bed_reinforcement.lap", 8 * 25.4, 12 * 25.4),
        ("lintel.angle.6x3_5.two", 3.5 * 304.8, 7 * 304.8),
        ("bond.stack.bed_spacing", 18 * 25.4, 48 * 25.4),
        ("movement_joint.spacing.normal.clay", 25 * 304.8, 20 * 304.8),
        ("movement_joint.spacing.normal.dense_concrete", 25 * 304.8, 40 * 304.8),
        ("tie.spacing.vertical", 18 * 25.4, 24 * 25.4),
    ],
)
def test_conflicts_are_carried_not_averaged(us: RuleBook, key: str, ours: float, other: float) -> None:
    """Reference, section 6: the default, and the figure of the other document beside it."""
    assert us.get(key).number == pytest.approx(ours)
    assert any(alternative.number == pytest.approx(other) for alternative in us.alternatives[key])


@pytest.mark.parametrize("storeys", ["none", "one", "two"])
def test_a_larger_angle_never_spans_less(us: RuleBook, storeys: str) -> None:
    spans = [us.get(f"lintel.angle.{angle}.{storeys}").number for angle in ("3x3", "4x3", "6x3_5", "two_6x3_5")]
    assert spans == sorted(spans)


def test_more_storeys_never_let_an_angle_span_more(us: RuleBook) -> None:
    for angle in ("3x3", "4x3", "6x3_5", "two_6x3_5"):
        none, one, two = (us.get(f"lintel.angle.{angle}.{storeys}").number for storeys in ("none", "one", "two"))
        assert none > one >= two


@pytest.mark.parametrize("name", [*MODULES])
def test_eight_feet_are_whole_courses_laid_of_wholes_and_halves(us: RuleBook, name: str) -> None:
    """Through all stages: a wall of six units, 8 ft high, without a joint."""
    unit = us.units[name]
    joint = us.get("joint.nominal").number
    wall = {"id": "W", "type": "t", "start": [0, 0], "end": [6 * (unit.length + joint) - joint, 0], "top": "8 ft"}
    spec = {"spec": 1, "rules": "us", "leaves": {"a": {"zones": [{"unit": name}]}}, "wall_types": {"t": {"outer": "a"}}}
    design = pipeline.design(Spec.model_validate(spec | {"walls": [wall]}))
    (laid,) = design.coursing.leaves
    courses, height = MODULES[name]
    assert len(laid.courses) == 96 * courses // height
    assert (laid.courses[-1].level + laid.courses[-1].height) / 25.4 == pytest.approx(96)
    assert {count.unit: count.cut for count in laid.counts} == {name: len(laid.courses) // 2 * 2}
    assert design.findings
    assert [f.code for f in design.findings if f.severity == "fail"] == []
