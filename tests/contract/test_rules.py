"""What every rule set owes, run on each of them unasked."""

from __future__ import annotations

import pytest

from elevgen.core.sourced import STATUSES
from elevgen.rules.coverage import coverage
from elevgen.rules.documents import cited_names, load_documents
from elevgen.rules.keys import KEYS, MATERIALS
from elevgen.rules.listing import rule_rows
from elevgen.rules.loader import country_ids, load_book

EVERY_SET = country_ids()


def test_there_is_a_set() -> None:
    assert "uk" in EVERY_SET


@pytest.mark.parametrize("country", EVERY_SET)
def test_no_key_is_passed_over_in_silence(country: str) -> None:
    book = load_book(country)
    assert set(book.values) | set(book.not_covered) == set(KEYS)
    assert not set(book.values) & set(book.not_covered)


@pytest.mark.parametrize("country", EVERY_SET)
def test_every_value_is_cited_and_in_the_unit_of_its_key(country: str) -> None:
    book = load_book(country)
    for key, value in book.values.items():
        for sourced in (value, *book.alternatives[key]):
            assert sourced.key == key
            assert sourced.unit == KEYS[key].unit
            assert sourced.status in STATUSES
            assert sourced.document or sourced.status == "practice"


@pytest.mark.parametrize("country", EVERY_SET)
def test_limits_are_no_tighter_than_normal_values(country: str) -> None:
    book = load_book(country)
    for material in MATERIALS:
        if book.has(f"movement_joint.spacing.limit.{material}"):
            normal = book.get(f"movement_joint.spacing.normal.{material}").number
            assert book.get(f"movement_joint.spacing.limit.{material}").number >= normal
        if book.has(f"movement_joint.panel_ratio.warn.{material}"):
            warn = book.get(f"movement_joint.panel_ratio.warn.{material}").number
            assert warn < book.get(f"movement_joint.panel_ratio.{material}").number
    assert book.get("perpend.min").number < book.get("joint.nominal").number < book.get("perpend.max").number


@pytest.mark.parametrize("country", EVERY_SET)
def test_the_least_is_no_more_than_the_greatest(country: str) -> None:
    book = load_book(country)
    ends = [key for key in book.values if key.startswith("movement.") and ".low" in key]
    assert country != "uk" or len(ends) == 3 * len(MATERIALS) + 1
    for low in ends:
        assert book.get(low).number <= book.get(low.replace(".low", ".high")).number, low


@pytest.mark.parametrize("country", EVERY_SET)
def test_no_filler_is_both_allowed_and_barred(country: str) -> None:
    book = load_book(country)
    for material in MATERIALS:
        allowed, barred = f"filler.allowed.{material}", f"filler.barred.{material}"
        if book.has(allowed) and book.has(barred):
            assert not set(book.get(allowed).words) & set(book.get(barred).words)


@pytest.mark.parametrize("country", EVERY_SET)
def test_units_are_of_a_material_keys_are_made_for(country: str) -> None:
    for unit in load_book(country).units.values():
        assert unit.material in MATERIALS
        assert unit.source.document or unit.source.status == "practice"


def test_uk_has_the_units_the_design_promises() -> None:
    bricks = {"brick_65", "calcium_silicate_brick_65", "concrete_brick_65", "stone_100"}
    blocks = {f"{kind}_block_{width}" for kind in ("dense", "lightweight", "aircrete") for width in (100, 140)}
    assert set(load_book("uk").units) == bricks | blocks


def test_uncertain_memory_is_not_coded_in_uk() -> None:
    """The reference's list of what not to code: each of those keys is named as not covered."""
    left_out = {
        "movement_joint.spacing.limit.aircrete",
        "movement_joint.free_standing.fraction",
        "movement.temperature.air.hottest",
        "movement.temperature.air.coldest",
        "bed_reinforcement.joint_clearance",
        "bed_reinforcement.wire.min",
        "lintel.length_step",
        *(f"movement.{kind}.{material}" for kind in ("thermal", "moisture") for material in MATERIALS),
    }
    assert left_out <= set(load_book("uk").not_covered)


@pytest.mark.parametrize("country", EVERY_SET)
def test_every_document_has_its_page_and_no_value_is_lost_from_them(country: str) -> None:
    book = load_book(country)
    documents = load_documents(book)
    named = [name for document in documents for name in document.names]
    assert not cited_names(book) - set(named), "cited, and nothing is written down of what was seen of it"
    assert all(document.about for document in documents)
    found = coverage(book, documents)
    done = {key for each in found.documents for key in each.done}
    assert done | set(found.practice) == set(book.values)
    assert all(sum(n for _, n in each.by_status) == len(each.done) for each in found.documents)


@pytest.mark.parametrize("country", EVERY_SET)
def test_a_value_documents_differ_on_says_why_it_is_the_one(country: str) -> None:
    silent = [row.key for row in rule_rows(load_book(country)) if row.differing and not row.why]
    assert not silent


def test_uk_names_every_figure_the_reference_bars() -> None:
    """Section 9 of the reference for the United Kingdom and Europe, line by line: each is left out, with its reason."""
    left_out = {document.name: " ".join(document.left_out) for document in load_documents(load_book("uk"))}
    barred = {
        "UK NA to EN 1996-2": ("aircrete 9 m",),
        "UK NA to EN 1996-1-1": ("creep, moisture and temperature",),
        "BRE Digest 228": ("-20 to 50 C",),
        "UK NA to EN 1991-1-5": ("-17 to 34 C",),
        "EN 845-1, -2, -3": ("at least 3 mm", "lintel bearing 100 mm"),
        "figures with no document named": ("50 mm short", "half the spacing", "6, 9, 11, 13 m"),
        "EN 1996-1-1": ("8.2.5", "90 mm"),
        "BS 8000-3": ("11 mm (brick) and 13 mm (block)",),
        "PD 6697": ("8 to 12 mm",),
        "estimating practice, document not seen": ("0.02 to 0.03 m3/m2",),
        "trade web page": ("longer than 10 m", "300 mm for spans of 3 to 6 m", "stock lengths", "window and door frames"),
        "LABC Warranty": ("note 2",),
        "Concrete Block Association, Data Sheet 12": ("ratio of length to height",),
        "council Guidance Note 24, Garden Walls": ("brickwork in garden walls",),
        "Construction Materials (textbook, data mainly of BRE Digest 228, 1979)": ("growth of clay brick",),
    }
    for document, figures in barred.items():
        for figure in figures:
            assert figure in left_out[document], (document, figure)
