"""What every rule set owes, run on each of them unasked."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any

import pytest

from elevgen.core.sourced import STATUSES, Sourced
from elevgen.rules.coverage import coverage
from elevgen.rules.documents import load_documents, untold
from elevgen.rules.keys import KEYS, MATERIALS
from elevgen.rules.listing import rule_rows
from elevgen.rules.loader import country_ids, load_book

EVERY_SET = country_ids()
COUNTRIES = files("elevgen.rules") / "countries"
WITH_DOCUMENTS = [country for country in EVERY_SET if (COUNTRIES / country / "documents.toml").is_file()]

BRITISH = (
    "NHBC",
    "LABC",
    "UK NA",
    "PD 6697",
    "BS 5",
    "BS 8",
    "BS 6",
    "Brick Development",
    "Pocket Book",
    "Data Pack",
    "Eden District",
)
BRITISH += ("Lyons", "Concrete Block Association", "Concrete Society", "Approved Document", "Chudley", "Premier Guarantee")
AMERICAN = (
    "BIA ",
    "TEK",
    "TMS",
    "ACI",
    "IRC",
    "UBC",
    "TM 5-",
    "Cornell",
    "Taly",
    "United States",
    "CABO",
    "Canada",
    "MSJC",
    "ASTM",
)
AMERICAN += ("Beall", "Masonry magazine", "Masonry Construction magazine", "City of Lake Forest", "City of Paris, Texas")
SOUTHERN = ("AS 3", "AS 4", "NCC", "CMAA", "Australian", "Bricks & Pavers", "BRANZ", "NZS", "New Zealand")
EUROPEAN = ("EN 1", "DIN", "NF DTU", "German", "Polish", "Poland", "Austrian", "HomeBond", "Lithuania")
"""Words in the names of documents that are one country's, by where it lies."""
NEUTRAL = ("ISO ", "textbook", "Handbook of Adhesives", "sealant guideline", "standard mechanics", "arithmetic", "makers' tables")
NEUTRAL += ("practice, document not seen", "document not seen", "trade web page", "tutorial")
"""Words in the names of documents that are no country's: what a material does, sealant, what the trade reckons with."""


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


@pytest.mark.parametrize("country", EVERY_SET)
def test_what_depends_on_another_value_finds_it(country: str) -> None:
    """A corner rule has its measure, a joint at openings says how near, a wider joint says in which wall."""
    book = load_book(country)
    needed = {"half_spacing_each_side": "movement_joint.corner.fraction", "one_side_within": "movement_joint.corner.within"}
    kinds = {book.get(key).value for key in book.values if key.startswith("movement_joint.corner.kind")}
    for kind in kinds:
        assert kind not in needed or book.has(needed[str(kind)]), kind
    if any(key.startswith("movement_joint.at_opening.") for key in book.values):
        assert book.has("movement_joint.at_opening.within")
    if any(key.startswith("movement_joint.spacing.with_openings.") for key in book.values):
        assert book.has("movement_joint.with_openings.number")
    if any(key.startswith("movement_joint.spacing.low_units.") for key in book.values):
        assert book.has("movement_joint.low_units.height")
    assert book.has("movement_joint.high_wall.height") == book.has("movement_joint.high_wall.width")
    for what, far in (("level", "length"), ("plumb", "height")):
        keys = [f"tolerance.{what}.{part}" for part in ("per_metre", far)]
        assert len({book.has(key) for key in keys}) == 1, keys


@pytest.mark.parametrize("country", EVERY_SET)
def test_special_cases_are_on_their_own_side_of_the_usual(country: str) -> None:
    """Openings and low units bring joints together, reinforcement takes them apart, high walls widen them."""
    book = load_book(country)

    def no_more(lesser: str, greater: str) -> None:
        if book.has(lesser) and book.has(greater):
            assert book.get(lesser).number <= book.get(greater).number, (lesser, greater)

    spacing = "movement_joint.spacing"
    for material in MATERIALS:
        no_more(f"{spacing}.with_openings.{material}", f"{spacing}.normal.{material}")
        no_more(f"{spacing}.low_units.{material}", f"{spacing}.normal.{material}")
        no_more(f"{spacing}.normal.{material}", f"{spacing}.reinforced_450.{material}")
        no_more(f"{spacing}.reinforced_450.{material}", f"{spacing}.reinforced_225.{material}")
        no_more(f"movement_joint.parapet.spacing.{material}", f"{spacing}.normal.{material}")
        no_more(f"movement_joint.width.nominal.{material}", "movement_joint.high_wall.width")
        no_more(f"movement_joint.at_opening.one_side.{material}", f"movement_joint.at_opening.both_sides.{material}")
    no_more("lintel.bearing.short.simple", "lintel.bearing.long")
    if country != "us":  # model code text read there: 3 ft round openings, rows of ties 18 in apart in another
        no_more("tie.edge.vertical", "tie.spacing.vertical")
    no_more("bond.lap.shallow.min", "bond.lap.tall.min")
    no_more("sealant.width.min", "sealant.width.max")
    no_more("tolerance.level.per_metre", "tolerance.level.beyond")


@pytest.mark.parametrize("country", EVERY_SET)
def test_no_alternative_repeats_the_value_from_its_own_source(country: str) -> None:
    book = load_book(country)
    for key, others in book.alternatives.items():
        of = [(s.value, s.document, s.edition, s.clause, s.note) for s in (book.get(key), *others)]
        assert len(set(of)) == len(of), key


def _documents(country: str) -> list[dict[str, Any]]:
    return list(tomllib.loads((COUNTRIES / country / "documents.toml").read_text(encoding="utf-8"))["document"])


def _cited(country: str) -> list[Sourced]:
    book = load_book(country)
    return [s for key in book.values for s in (book.get(key), *book.alternatives[key])] + [u.source for u in book.units.values()]


@pytest.mark.parametrize("country", [*WITH_DOCUMENTS, "_common"])
def test_documents_say_what_was_seen_or_why_nothing_is_taken(country: str) -> None:
    documents = _documents(country)
    assert len({document["name"] for document in documents}) == len(documents)
    for document in documents:
        assert set(document) <= {"name", "also", "about", "read", "not_done", "left_out"}
        assert document["about"].strip()
        assert document.get("read", "").strip() or document.get("left_out"), document["name"]
        for told in (*document.get("not_done", ()), *document.get("left_out", ())):
            assert told.strip(), document["name"]


@pytest.mark.parametrize("country", ["eu", "au", "_common"])
def test_what_is_not_done_or_left_out_has_a_reason(country: str) -> None:
    told = [text for d in _documents(country) for text in (*d.get("not_done", ()), *d.get("left_out", ()))]
    assert not [text for text in told if not any(mark in text for mark in (":", ";", " not seen"))]


@pytest.mark.parametrize("country", ["uk", "eu"])
def test_the_units_the_design_promises_in_europe(country: str) -> None:
    bricks = {"brick_65", "calcium_silicate_brick_65", "concrete_brick_65", "stone_100"}
    blocks = {f"{kind}_block_{width}" for kind in ("dense", "lightweight", "aircrete") for width in (100, 140)}
    assert set(load_book(country).units) == bricks | blocks


def test_the_units_the_design_promises_in_australia() -> None:
    units = load_book("au").units
    assert {(u.material, u.length, u.width, u.height) for u in (units["brick_76"], units["concrete_block_190"])} == {
        ("clay", 230, 110, 76),
        ("dense_concrete", 390, 190, 190),
    }


@pytest.mark.parametrize(("country", "own"), [("eu", EUROPEAN), ("us", AMERICAN), ("au", SOUTHERN)])
def test_no_value_is_another_countrys(country: str, own: tuple[str, ...]) -> None:
    """A value is from a document of the set's own country's or of none. Alternatives may be: evidence, no default."""
    found = {key: value.document for key, value in load_book(country).values.items() if value.document}
    theirs = {*BRITISH, *AMERICAN, *SOUTHERN, *EUROPEAN} - {*own}
    assert not {key: name for key, name in found.items() if any(word in f"{name} " for word in theirs)}
    assert not {key: name for key, name in found.items() if not any(word in f"{name} " for word in (*own, *NEUTRAL))}


def test_what_no_country_owns_rests_on_no_countrys_document() -> None:
    data = tomllib.loads((COUNTRIES / "_common" / "rules.toml").read_text())["rules"]
    cited = {value["document"] for value in data.values() if "document" in value}
    assert cited
    assert not [name for name in cited if not any(word in name for word in NEUTRAL)]
    assert not [name for name in cited if any(word in f"{name} " for word in (*BRITISH, *AMERICAN, *SOUTHERN, *EUROPEAN))]


def test_nothing_of_new_zealand_is_coded() -> None:
    assert not [s.key for s in _cited("au") if any(word in s.document + s.note for word in (" NZS", "BRANZ", "New Zealand"))]


@pytest.mark.parametrize(
    ("country", "key", "words"),
    [
        ("eu", "bed_reinforcement.lap", "8.2.5"),
        ("eu", "bed_reinforcement.joint_clearance", "50 mm"),
        ("eu", "bed_reinforcement.wire.min", "EN 845-3"),
        ("eu", "lintel.bearing.short.simple", "EN 845-2"),
        ("eu", "lintel.bearing.long", "8.1.6"),
        ("eu", "movement_joint.free_standing.fraction", "memory"),
        ("eu", "movement.temperature.air.hottest", "national annex"),
        ("au", "tie.slip.vertical", "AS 4773.2"),
        ("au", "bed_reinforcement.reach", "600 to 900"),
    ],
)
def test_what_is_not_to_be_coded_without_another_source_has_its_reason(country: str, key: str, words: str) -> None:
    book = load_book(country)
    assert not book.has(key)
    assert words in book.not_covered[key]


@pytest.mark.parametrize(
    ("country", "document", "words"),
    [
        ("eu", "EN 1996-1-1", "8.2.5"),
        ("eu", "EN 1996-1-1", "8.1.6"),
        ("eu", "EN 845-2", "100 mm"),
        ("eu", "EN 845-3", "3 mm"),
        ("eu", "all guidance on bed-joint reinforcement", "50 mm"),
        ("eu", "Construction Materials (textbook, data mainly of BRE Digest 228, 1979)", "per cent"),
        ("au", "AS 4773.1", "7.0 down to 4.5"),
        ("au", "AS 4773.2", "7.5.3"),
        ("au", "AS 3700", "tables by class of site"),
        ("au", "all guidance on bed-joint reinforcement", "600 to 900"),
        ("au", "New Zealand trade web page", "41.6"),
        ("au", "New Zealand trade web page", "control joints"),
        ("au", "NZS 4210", "clauses not seen"),
    ],
)
def test_what_is_not_to_be_coded_is_left_out_by_name(country: str, document: str, words: str) -> None:
    (told,) = [d for d in _documents(country) if d["name"] == document]
    assert any(words in item for item in told["left_out"])


def test_figures_left_out_are_no_values_and_no_alternatives() -> None:
    """Sections 9 of the European reference and 7 of the other: figures that only uncertain memory or a weak page has."""
    coded = {(s.key, s.value) for country in ("eu", "au") for s in _cited(country)}
    left_out: set[tuple[str, float]] = {
        ("movement_joint.spacing.normal.aircrete", 9000.0),
        ("lintel.bearing.short.simple", 90.0),
        ("bed_reinforcement.wire.min", 3.0),
        ("bed_reinforcement.joint_clearance", 50.0),
        ("movement.moisture.high.clay", 0.1),
        ("perpend.max", 12.0),
        *((f"movement_joint.spacing.normal.{material}", far) for material in MATERIALS for far in (4500.0, 7500.0)),
        ("bed_reinforcement.reach", 600.0),
        ("bed_reinforcement.reach", 900.0),
        ("tie.slip.vertical", 600.0),
        ("thumb.units.half_brick", 41.6),
    }
    assert not coded & left_out
    assert not [s for s in _cited("au") if s.document.startswith("AS 4773.2")]


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
    assert not untold(book, documents), "cited, and nothing is written down of what was seen of it"
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
