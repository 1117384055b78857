"""Three big tables typed a third time, in another form: running totals, middles and widths of ranges, ratios.

Typed from the reference by somebody who had seen neither the rule files nor `second_transcription_*.py`, to tell whether the two
typings there are two. What a set does not hold from a document (its default's figure, as a rule) is passed over.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import pytest

from elevgen.core.sourced import Sourced
from elevgen.rules.book import RuleBook

Book = Callable[[str], RuleBook]
CLAY, CS, DENSE, LIGHT, AAC, STONE = "clay", "calcium_silicate", "dense_concrete", "lightweight_concrete", "aircrete", "stone"


def held(book: RuleBook, document: str, key: str) -> Sourced | None:
    """The figure the set has from the document under the key, the first where it has several."""
    known = (*((book.get(key),) if book.has(key) else ()), *book.alternatives.get(key, ()))
    return next((s for s in known if s.document.startswith(document)), None)


JOINT = "movement_joint."
SPACING = "movement_joint.spacing."
RUNNING = [
    # document, keys, running totals of their figures in metres (spacings) or in millimetres (widths and all else)
    ("NHBC Standards", SPACING + "normal.", (CLAY, CS, DENSE, LIGHT, AAC), (12, 19.5, 25.5, 31.5, 37.5)),
    ("NHBC Standards", SPACING + "limit.", (CLAY, CS), (15, 24)),
    ("NHBC Standards", JOINT + "width.nominal.", (CLAY, CS, DENSE, LIGHT, AAC), (16, 26, 36, 46, 56)),
    ("Structural Engineer's Pocket Book", SPACING + "normal.", (CLAY, CS, DENSE, STONE), (12, 19.5, 25.5, 31.5)),
    ("Structural Engineer's Pocket Book", SPACING + "reinforced_450.", (CLAY, DENSE), (15, 30)),
    ("Structural Engineer's Pocket Book", SPACING + "reinforced_225.", (CLAY, DENSE), (18, 36)),
    ("Civil & Structural Designers Data Pack", SPACING + "normal.", (CLAY, CS, DENSE, LIGHT, AAC), (15, 23, 31, 37, 43)),
    ("Civil & Structural Designers Data Pack", SPACING + "reinforced_450.", (CLAY, CS, DENSE, LIGHT, AAC), (20, 32, 44, 54, 64)),
    ("Civil & Structural Designers Data Pack", SPACING + "reinforced_225.", (CLAY, CS, DENSE, LIGHT, AAC), (24, 38, 52, 64, 76)),
    ("Civil & Structural Designers Data Pack", SPACING + "reinforced_450.over_140.", (CS, DENSE, LIGHT, AAC), (14, 28, 40, 52)),
    ("Civil & Structural Designers Data Pack", SPACING + "reinforced_225.over_140.", (CS, DENSE, LIGHT, AAC), (16, 32, 46, 60)),
    ("Eden District Council", SPACING + "normal.", (CLAY, CS, LIGHT, AAC), (12, 19.5, 25.5, 31.5)),
    ("Eden District Council", JOINT + "width.nominal.", (CLAY, CS), (16, 29)),
    ("Building Construction Handbook", SPACING + "normal.", (CLAY, CS, LIGHT), (12, 19.5, 25.5)),
    ("EN 1996-2", SPACING + "normal.", (CLAY, CS, DENSE, AAC, STONE), (12, 20, 26, 32, 44)),
    ("UK NA to EN 1996-2", SPACING + "normal.", (CLAY, CS, DENSE, AAC, STONE), (15, 24, 33, 42, 62)),
    ("Structural Engineer's Pocket Book", JOINT + "panel_ratio.", (CLAY, CS, STONE, DENSE), (3, 6, 9, 11)),
    ("NHBC Standards", "tie.", ("spacing.horizontal", "spacing.vertical", "edge.distance", "edge.vertical", "verge.horizontal",
                                "verge.vertical", "embedment", "partition.vertical"),
     (900, 1350, 1575, 1875, 2100, 2400, 2450, 2750)),
    ("NHBC Standards", "lintel.bearing.", ("short_span", "short.simple", "short.tray", "long"), (1200, 1300, 1450, 1600)),
    ("BS 5977-1", "lintel.load.", ("triangle.base", "triangle.angle", "zone.angle", "triangle.share",
                                   "zone.share", "zone.masonry", "side.min", "side.fraction",
                                   "span.one_storey", "span.more_storeys"),
     (1.1, 46.1, 106.1, 107.1, 107.6, 107.6, 707.6, 707.8, 5207.8, 8807.8)),
    ("EN 1991-1-5", "movement.temperature.sun.", ("light", "medium", "dark"), (18, 48, 90)),
]  # fmt: skip


def test_running_totals(book: Book) -> None:
    met = 0
    for document, stem, ends, totals in RUNNING:
        of = 1000 if stem.startswith(SPACING) else 1
        for end, (before, after) in zip(ends, pairwise((0, *totals)), strict=True):
            if figure := held(book("uk"), document, stem + end):
                assert figure.number / of == pytest.approx(after - before), (document, stem + end)
                met += 1
    assert met >= 81


def test_tie_lengths_are_their_cavities_and_125(book: Book) -> None:
    """Ten bands, the first to 75, each 25 more; length less cavity is the same in all."""
    bands = book("uk").get("tie.length").bands
    assert len(bands) == 10
    assert bands[0][0] == 75
    assert {length - cavity for cavity, length in bands} == {125}
    assert {after[0] - before[0] for before, after in pairwise(bands)} == {25}


EN, DIGEST, DIN = "EN 1996-1-1", "Construction Materials", "DIN 1053-1"
FRENCH, LYONS, AUSTRIAN = "clay masonry handbook", "Materials for Architects", "Austrian clay association"
RANGES = [
    # document, what, material, middle and width of the range; moisture in mm/m, thermal in 1e-6/K
    (EN, "moisture", CLAY, 0.4, 1.2),
    (EN, "moisture", CS, -0.25, 0.3),
    (EN, "moisture", DENSE, -0.35, 0.5),
    (EN, "moisture", LIGHT, -0.6, 0.8),
    (EN, "moisture", AAC, -0.1, 0.6),
    (EN, "moisture", STONE, 0.15, 1.1),
    (EN, "thermal", CLAY, 6, 4),
    (EN, "thermal", CS, 9, 4),
    (EN, "thermal", DENSE, 9, 6),
    (EN, "thermal", LIGHT, 9, 6),
    (EN, "thermal", AAC, 8, 2),
    (EN, "thermal", STONE, 9.5, 17),
    (DIGEST, "moisture", CLAY, 0.4, 1.2),
    (DIGEST, "moisture", CS, -0.25, 0.3),
    (DIGEST, "moisture", DENSE, -0.4, 0.4),
    (DIGEST, "moisture", LIGHT, -0.4, 0.4),
    (DIGEST, "moisture", AAC, -0.7, 0.4),
    (DIGEST, "thermal", CLAY, 6.5, 3),
    (DIGEST, "thermal", CS, 11, 6),
    (DIGEST, "thermal", DENSE, 9, 6),
    (DIGEST, "thermal", LIGHT, 10, 4),
    (DIGEST, "thermal", AAC, 8, 0),
    (DIGEST, "thermal", STONE, 7.5, 9),
    (DIGEST, "reversible", CLAY, 0.2, 0),
    (DIGEST, "reversible", CS, 0.3, 0.4),
    (DIGEST, "reversible", DENSE, 0.3, 0.2),
    (DIGEST, "reversible", LIGHT, 0.45, 0.3),
    (DIGEST, "reversible", AAC, 0.25, 0.1),
    (DIN, "thermal", CLAY, 6, 0),
    (DIN, "thermal", CS, 8, 0),
    (DIN, "thermal", DENSE, 10, 0),
    (DIN, "thermal", LIGHT, 10, 0),
    (DIN, "thermal", AAC, 8, 0),
    (FRENCH, "thermal", CLAY, 5, 0),
    (FRENCH, "thermal", CS, 8, 0),
    (FRENCH, "thermal", DENSE, 10, 0),
    (FRENCH, "thermal", AAC, 8, 0),
    (LYONS, "thermal", CLAY, 6.5, 3),
    (AUSTRIAN, "thermal", CLAY, 5, 0),
    (AUSTRIAN, "thermal", AAC, 8, 0),
    (AUSTRIAN, "thermal", DENSE, 10, 0),
]


def test_middles_and_widths_of_ranges_some_from_memory(book: Book) -> None:
    met = 0
    for country in ("uk", "eu"):
        for document, what, material, middle, width in RANGES:
            of = 0.001 if what == "thermal" else 1
            for end, side in (("low", -0.5), ("high", 0.5)):
                if figure := held(book(country), document, f"movement.{what}.{end}.{material}"):
                    typed = (middle + side * width) * of
                    assert figure.number == pytest.approx(typed, abs=1e-9), (country, document, what, end, material)
                    met += 1
    assert met >= 139


def test_tms_602_tolerances_are_slopes(book: Book) -> None:
    """A quarter of an inch in 10 ft is 1 in 480, whatever the unit; the most is reached at twice 10 ft."""
    us = book("us")
    level = us.get("tolerance.level.per_metre").number
    assert 1000 / level == pytest.approx(480)
    assert us.get("tolerance.level.beyond").number / level * 1000 == pytest.approx(us.get("tolerance.level.length").number)
    assert us.get("tolerance.level.beyond").number / us.get("tolerance.level.length").number * 480 == pytest.approx(1)
    plumb = us.get("tolerance.plumb.per_metre").number
    assert 1000 / plumb == pytest.approx(480)
    assert us.get("bed.tolerance").number * 8 == pytest.approx(25.4)
    assert us.get("joint.nominal").number / us.get("bed.tolerance").number == pytest.approx(3)


COURSING = {
    # name: courses and the inches they come to, length with a joint of 3/8 in, width + height + length in mm as printed
    "modular_brick": (3, 8, 8, 337),
    "standard_brick": (3, 8, 8.375, 347),
    "engineer_modular_brick": (5, 16, 8, 350),
    "engineer_standard_brick": (5, 16, 8.375, None),
    "closure_modular_brick": (1, 4, 8, 370),
    "closure_standard_brick": (1, 4, 8.375, None),
    "roman_brick": (2, 4, 12, 420),
    "norman_brick": (3, 8, 12, None),
    "engineer_norman_brick": (5, 16, 12, None),
    "utility_brick": (1, 4, 12, 470),
    "king_brick": (None, None, 10, 385),
    "queen_brick": (None, None, 8, 335),
    "double_brick": (3, 16, 8, None),
    "triple_brick": (3, 16, 12, None),
    "norwegian_brick_6": (5, 16, 12, None),
    "jumbo_brick_6": (1, 4, 12, None),
    "jumbo_brick_8": (1, 4, 12, None),
}


def test_american_bricks_course_to_the_inches_printed_and_their_sides_add_up(book: Book) -> None:
    """Technical Note 10B, nominal table, and Masonry magazine, October 1993: read; millimetres there are rounded to fives."""
    units = book("us").units
    for name, (courses, inches, long, sides) in COURSING.items():
        unit = units[name]
        if courses:
            assert courses * (unit.height + unit.bed) == pytest.approx(inches * 25.4), name
        assert unit.length == pytest.approx((long - 0.375) * 25.4), name
        if sides:
            assert unit.width + unit.height + unit.length == pytest.approx(sides, abs=10), name
