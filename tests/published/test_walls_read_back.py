"""One wall of each set, designed and judged: the limit each check went by is the figure its document prints.

The walls are of a length no figure here is a multiple of. Bibliography: as named in each row; each set's own values only. What is
from memory and what is common practice without a source says so in its test's name.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.result import Design
from elevgen.spec.models import Spec

DATA = Path(__file__).parents[1] / "data"
IN, FT, SF = 25.4, 304.8, 1 / 0.3048**2
NHBC, LABC, TMS, NCC = "NHBC Standards", "LABC Warranty", "TMS 602", "NCC Housing Provisions"
UK = {
    "spec": 1,
    "leaves": {
        "out": {"zones": [{"unit": "brick_65"}], "lintel": {"kind": "pressed_steel"}},
        "in": {"zones": [{"unit": "dense_block_100"}], "lintel": {"kind": "concrete", "depth": 215}, "reinforced_every": 450},
        "part": {"zones": [{"unit": "dense_block_100"}]},
    },
    "wall_types": {"c": {"outer": "out", "inner": "in", "cavity": 100}, "p": {"outer": "part"}},
    "walls": [
        {
            "id": "A",
            "type": "c",
            "start": [0, 0],
            "end": [7315, 0],
            "base": -225,
            "ground": -150,
            "top": [[0, 2400], [4000, 3900], [7315, 3000]],
            "openings": [
                {"id": "D1", "kind": "door", "at": 1340, "width": 910, "sill": 0, "height": 2110},
                {"id": "V1", "kind": "window", "at": 4000, "width": 1810, "sill": 900, "height": 1210},
            ],
            "joints": [{"at": 3150, "width": 16}],
        }
    ],
}
"""A gable of brick and block with a door, a window and a joint."""


def _design(country: str) -> Design:
    if country == "uk":
        return pipeline.design(Spec.model_validate(UK), "read back")
    name = {"us": "us-workshop", "au": "au-house"}[country]
    spec = json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))
    first = spec["walls"][:1]
    return pipeline.design(Spec.model_validate({**spec, "walls": first, "junctions": []}), "read back")


@pytest.fixture(scope="module")
def judged(request: pytest.FixtureRequest) -> Design:
    """The wall of the set named, each designed once."""
    return _design(request.param)


def limits(design: Design, code: str, key: str) -> list[float]:
    """What the check held the wall to by that rule."""
    findings = [f for f in design.findings if f.code == code and f.source is not None and f.source.key == key]
    assert findings, f"{code} says nothing by {key}"
    return sorted({round(f.limit, 4) for f in findings if f.limit is not None})


ROWS = [
    # check value, set, check, key, printed, what one of the printed unit is in mm or so, its name, document, status
    ("", "uk", "bed-thickness", "bed.tolerance", 5, 1, "mm", "LABC Warranty technical manual", "read"),
    ("NHBC-14", "uk", "cavity-below-dpc", "cavity.below_dpc", 225, 1, "mm", NHBC, "read"),
    ("", "uk", "dpc-above-ground", "dpc.above_ground", 150, 1, "mm", "NHBC craftsmanship guide", "quoted"),
    ("", "uk", "lintel-bearing", "lintel.bearing.long", 150, 1, "mm", NHBC, "read"),
    ("", "uk", "lintel-bearing", "lintel.bearing.short.simple", 100, 1, "mm", NHBC, "read"),
    ("", "uk", "lintel-bearing", "lintel.bearing.short.tray", 150, 1, "mm", NHBC, "read"),
    ("", "uk", "lintel-handling", "lintel.prop.spacing", 1.2, 1000, "m", LABC, "read"),
    ("", "uk", "opening-reinforced", "bed_reinforcement.courses_above", 2, 1, "courses", NHBC, "read"),
    ("", "uk", "opening-reinforced", "bed_reinforcement.courses_below", 2, 1, "courses", NHBC, "read"),
    ("", "uk", "reinforcement-lap", "bed_reinforcement.lap", 225, 1, "mm", NHBC, "read"),
    ("", "uk", "tie-density", "tie.density", 2.5, 1, "to the m2", LABC, "read"),
    ("", "uk", "tie-length", "tie.length", 225, 1, "mm", "PD 6697", "quoted"),
    ("", "uk", "tie-near-joint-and-reveal", "tie.edge.vertical", 300, 1, "mm", NHBC, "read"),
    ("", "uk", "tie-spacing", "tie.spacing.vertical", 450, 1, "mm", NHBC, "read"),
    ("", "uk", "tie-top", "tie.verge.horizontal", 225, 1, "mm", NHBC, "read"),
    ("", "uk", "tray-rise", "tray.rise", 150, 1, "mm", LABC, "read"),
    ("", "uk", "weep-spacing", "weep.spacing", 900, 1, "mm", LABC, "read"),
    ("", "us", "bed-thickness", "bed.tolerance", 1 / 8, IN, "in", TMS, "quoted"),
    ("", "us", "joint-width", "movement_joint.width.nominal.clay", 1 / 2, IN, "in", "Beall, Masonry and Concrete", "read"),
    ("", "us", "lintel-bearing", "lintel.bearing.kind.concrete", 8, IN, "in", "CABO code", "quoted"),
    ("", "us", "lintel-bearing", "lintel.bearing.long", 4, IN, "in", "IRC in Modern Masonry", "quoted"),
    ("", "us", "lintel-bearing", "lintel.bearing.short.tray", 4, IN, "in", "IRC in Modern Masonry", "quoted"),
    ("", "us", "reinforcement-lap", "bed_reinforcement.lap", 8, IN, "in", TMS, "quoted"),
    ("", "us", "reinforcement-area", "bed_reinforcement.area.per_height", 0.025, IN**2 / 0.3048, "in2/ft", "TEK 10-2B", "read"),
    ("", "us", "tie-density", "tie.density", 1 / 2.67, SF, "to the sq ft", "IRC R703.8.4.1", "quoted"),
    ("", "us", "tie-near-joint-and-reveal", "tie.edge.vertical", 3, FT, "ft", "model code text, City of Lake Forest", "read"),
    ("", "us", "tie-spacing", "tie.spacing.vertical", 18, IN, "in", "TMS 402, on an inspectors' forum", "quoted"),
    ("", "us", "tie-top", "tie.spacing.horizontal", 32, IN, "in", "TMS 402, on an inspectors' forum", "quoted"),
    ("", "us", "weep-spacing", "weep.spacing", 24, IN, "in", "BIA Technical Note 28, in Masonry magazine", "read"),
    ("AU-10", "au", "lintel-bearing", "lintel.bearing.long", 150, 1, "mm", NCC, "quoted"),
    ("AU-10", "au", "lintel-bearing", "lintel.bearing.short.simple", 100, 1, "mm", NCC, "quoted"),
]


@pytest.mark.parametrize(
    ("check", "judged", "code", "key", "printed", "each", "unit", "document", "status"), ROWS, indirect=["judged"]
)
def test_the_check_goes_by_the_printed_figure(
    published: Any,
    check: str,
    judged: Design,
    code: str,
    key: str,
    printed: float,
    each: float,
    unit: str,
    document: str,
    status: str,
) -> None:
    held = limits(judged, code, key)
    assert held == [pytest.approx(printed * each, abs=1e-3)]
    title = code.replace("-", " ")
    given = f"what the check of {title} holds a wall to ({key.rpartition('.')[2].replace('_', ' ')}, {judged.rules.id})"
    published(check, given, printed, min(held) / each, within=1e-4, unit=unit, status=status, document=document)


@pytest.mark.parametrize(
    ("judged", "code", "key", "figure"),
    [
        ("uk", "reinforcement-in-bed", "bed_reinforcement.bed_over_wire", 4 + 5),
        ("uk", "dpc-continuous", "dpc.lap", 100),
        ("uk", "unit-mass", "lifting.mass", 20),
        ("us", "opening-reinforced", "bed_reinforcement.courses_above", 2),
        ("us", "opening-reinforced", "bed_reinforcement.courses_below", 2),
        ("au", "tie-near-joint-and-reveal", "tie.edge.vertical", 600),
        ("au", "tie-spacing", "tie.spacing.vertical", 600),
        ("au", "tie-top", "tie.spacing.horizontal", 600),
        ("au", "joint-near-opening", "movement_joint.at_opening.within", 1200),
    ],
    indirect=["judged"],
)
def test_the_check_goes_by_the_figure_from_memory(judged: Design, code: str, key: str, figure: float) -> None:
    assert limits(judged, code, key) == [figure]


@pytest.mark.parametrize(
    ("judged", "code", "key", "figure"),
    [
        ("uk", "perpend-at-opening", "bond.lintel_end.clear", 25),
        ("us", "dpc-above-ground", "dpc.above_ground", 6 * IN),
        ("us", "dpc-continuous", "dpc.lap", 6 * IN),
        ("us", "joint-width", "movement_joint.width.nominal.dense_concrete", 3 / 8 * IN),
        ("us", "lintel-handling", "lintel.prop.spacing", 48 * IN),
        ("us", "tray-rise", "tray.rise", 8 * IN),
        ("us", "unit-mass", "lifting.mass", 50 * 0.45359237),
        ("us", "beds-meet", "tie.beds.tolerance", 3 / 8 * IN),
        ("au", "bed-thickness", "bed.tolerance", 3),
        ("au", "beds-meet", "tie.beds.tolerance", 10),
        ("au", "lap", "bond.lap.fraction", 230 / 4),
    ],
    indirect=["judged"],
)
def test_the_check_goes_by_the_figure_common_practice_no_source(judged: Design, code: str, key: str, figure: float) -> None:
    assert limits(judged, code, key) == [pytest.approx(figure, abs=1e-3)]


@pytest.mark.parametrize(
    ("judged", "lengths", "document", "status"),
    [
        ("uk", (215, 440), "Concrete Society", "read"),
        ("us", (7.625, 15.625), "ACI 530-99, in Masonry Construction magazine", "quoted"),
    ],
    indirect=["judged"],
)
def test_a_quarter_of_the_unit_laps(
    published: Any, judged: Design, lengths: tuple[float, ...], document: str, status: str
) -> None:
    """Running bond: each unit lies a quarter of its length over the next."""
    held, american = limits(judged, "lap", "bond.lap.fraction"), lengths[0] < 10
    each = IN if american else 1
    for length, lap in zip(lengths, held, strict=True):
        unit = "in" if american else "mm"
        given = f"least lap of units {length} {unit} long"
        published("", given, length / 4, lap / each, within=1e-4, unit=unit, status=status, document=document)
