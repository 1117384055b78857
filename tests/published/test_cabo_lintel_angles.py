"""CABO One- and Two-Family Dwelling Code: loose steel angles over openings, read off the findings on drawn walls.

Bibliography: the table as Beall, Masonry and Concrete, fig. 7-14, prints it (quoted): check-values CABO-01 to -04. Each row at
its limit and a sixteenth of an inch past it. The IRC table is from memory (IRC-01) and is no more than an alternative.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.result import Finding
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

CABO = "CABO One- and Two-Family Dwelling Code in Beall, Masonry and Concrete"
FOOT, SIXTEENTH = 304.8, 25.4 / 16
ROWS = {
    # angle as it is called: longest clear span with less than one storey, one and two over it, feet
    "3 x 3 in": (6, 3.5, 3),
    "4 x 3 in": (8, 5, 3),
    "6 x 3 1/2 in": (14, 8, 3.5),
    "two 6 x 3 1/2 in": (20, 11, 5),
}
STOREYS = ("less than a storey over it", "one storey over it", "two storeys over it")
FROM_MEMORY = {"3x3": (6, 4.5, 3), "4x3": (8, 6, 4.5), "6x3_5": (14, 9.5, 7), "two_6x3_5": (20, 12, 9.5)}


def angle_over(span: float, storeys: int) -> Finding:
    """What is said of a loose angle over an opening so wide, 3 ft of brickwork over it and 7 ft more for each storey."""
    opening = {"id": "D1", "kind": "opening", "at": 3000, "width": span, "sill": 0, "height": "7'"}
    wall: dict[str, Any] = {"id": "W", "type": "veneer", "start": [0, 0], "end": [6000 + span, 0], "openings": [opening]}
    spec = {
        "spec": 1,
        "rules": "us",
        "leaves": {"veneer": {"zones": [{"unit": "modular_brick"}], "lintel": {"kind": "steel_angle"}}},
        "wall_types": {"veneer": {"outer": "veneer"}},
        "walls": [wall | {"top": (10 + 7 * storeys) * FOOT}],
    }
    (finding,) = (f for f in pipeline.design(Spec.model_validate(spec)).findings if f.code == "lintel-angle")
    return finding


LIMITS = [
    pytest.param(angle, storeys, spans[storeys], id=f"{angle}, {STOREYS[storeys]}")
    for angle, spans in ROWS.items()
    for storeys in range(3)
]


@pytest.mark.parametrize(("angle", "storeys", "feet"), LIMITS)
def test_the_angle_named_reaches_the_printed_span(published: Any, angle: str, storeys: int, feet: float) -> None:
    """At the printed span the row serves, or a smaller one that goes as far."""
    finding = angle_over(feet * FOOT, storeys)
    serves = next(name for name, spans in ROWS.items() if spans[storeys] >= feet)
    assert finding.severity == "note"
    assert f"{STOREYS[storeys]}, the smallest angle the table allows is {serves}," in finding.text
    assert finding.limit == pytest.approx(ROWS[serves][storeys] * FOOT)
    assert angle == serves or ROWS[serves][storeys] == feet
    given = f"steel angle {angle}, {STOREYS[storeys]}: longest clear span"
    published("", given, feet, finding.limit / FOOT, unit="ft", status="quoted", document=CABO, clause="fig. 7-14")


@pytest.mark.parametrize(("angle", "storeys", "feet"), LIMITS)
def test_a_sixteenth_more_takes_the_next_or_ends_the_table(angle: str, storeys: int, feet: float) -> None:
    finding = angle_over(feet * FOOT + SIXTEENTH, storeys)
    larger = [name for name, spans in ROWS.items() if spans[storeys] > feet]
    assert finding.severity == ("note" if larger else "warn")
    if larger:
        assert f"is {larger[0]}," in finding.text
    else:
        assert "the largest angle of the table, two 6 x 3 1/2 in, goes to" in finding.text
    assert "an engineer must confirm it" in finding.text


@pytest.mark.parametrize("angle", FROM_MEMORY)
def test_the_irc_stands_beside_it_from_memory(carried: Callable[..., None], angle: str) -> None:
    """IRC-01; 12-0 of the one-storey column is quoted on a forum."""
    us = load_book("us")
    for storeys, feet in zip(("none", "one", "two"), FROM_MEMORY[angle], strict=True):
        (other,) = us.alternatives[f"lintel.angle.{angle}.{storeys}"]
        status = "quoted" if (angle, storeys) == ("two_6x3_5", "one") else "memory"
        carried(other.document, other.key, feet, status, country="us", each=FOOT, unit="ft")
