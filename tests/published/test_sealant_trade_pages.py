"""Trade pages on sealants: movement, shape, millilitres to the metre, metres to the container (SEAL-01 to SEAL-06).

Bibliography: trade web pages (quoted) for SEAL-01 to SEAL-03; a sealant guideline, publisher unknown (quoted), for the depth; the
sizes backer rod is sold in are from memory; the rest is geometry worked out by us (derived). A public table of yields is twice
too good against geometry and is not used.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.fittings.joint_parts import backer_rod, sealant_depth
from elevgen.fittings.model import JointParts
from elevgen.joints.sealing import worked_widths
from elevgen.rules.book import RuleBook, RuleReader
from elevgen.takeoff.joints import length_filled
from elevgen.takeoff.packs import number_of, packs_by_rule

DOCUMENT = "Trade web pages on sealants"

Carried = Callable[..., None]

CUBIC_INCH = 25.4**3


def bead(width: float, depth: float) -> JointParts:
    """A joint of one metre sealed on one face."""
    return JointParts("J", 1000.0, width, 0.0, width, depth, 1, None, None, ())


def test_class_25_in_a_10_mm_joint_quoted(published: Any) -> None:
    worked = worked_widths(10, 25)
    for which, printed, ours in (("widest", 12.5, worked.high), ("narrowest", 7.5, worked.low)):
        published("SEAL-01", f"10 mm joint, class 25, {which}", printed, ours, unit="mm", status="quoted")
    in_inches = worked_widths(10 / 25.4, 25)
    assert in_inches.high * 25.4 == pytest.approx(12.5)


def test_millilitres_to_the_metre_quoted(published: Any) -> None:
    published("SEAL-02", "bead of 10 x 5", 50, bead(10, 5).sealant_per_metre, unit="ml/m", status="quoted")
    assert bead(10, 5).sealant_litres == pytest.approx(0.050)


@pytest.mark.parametrize(("cubic_inches", "millilitres"), [(18.3, 300), (36.6, 600)])
def test_tubes_of_10_1_and_20_ounces_quoted(cubic_inches: float, millilitres: float) -> None:
    """18.3 and 36.6 cubic inches are 300 and 600 ml: a bead is as long by either."""
    assert cubic_inches * CUBIC_INCH / 1000 == pytest.approx(millilitres, abs=0.5)
    by_inches = length_filled(cubic_inches, 0.5, 0.25) * 25.4
    assert by_inches == pytest.approx(length_filled(millilitres * 1000, 12.7, 6.35), rel=0.002)


@pytest.mark.parametrize(("millilitres", "metres"), [(310, 3.1), (600, 6.0)])
def test_metres_at_10_by_10_derived(published: Any, millilitres: float, metres: float) -> None:
    ours = length_filled(millilitres * 1000, 10, 10) / 1000
    published("SEAL-04", f"{millilitres} ml at 10 x 10", metres, ours, unit="m", within=0.05, status="derived")


def test_feet_of_a_10_1_ounce_tube_at_half_by_quarter_inch_derived(published: Any) -> None:
    published(
        "SEAL-05", "10.1 oz at 1/2 x 1/4 in", 12.2, length_filled(18.3, 0.5, 0.25) / 12, unit="ft", within=0.05, status="derived"
    )


TABLE = [
    ((6, 6), 36, (8.61, 10.56, 11.11, 16.67)),
    ((8, 8), 64, (4.84, 5.94, 6.25, 9.38)),
    ((10, 5), 50, (6.20, 7.60, 8.00, 12.00)),
    ((10, 10), 100, (3.10, 3.80, 4.00, 6.00)),
    ((12, 10), 120, (2.58, 3.17, 3.33, 5.00)),
    ((15, 10), 150, (2.07, 2.53, 2.67, 4.00)),
    ((16, 8), 128, (2.42, 2.97, 3.12, 4.69)),
    ((20, 10), 200, (1.55, 1.90, 2.00, 3.00)),
    ((25, 12.5), 312.5, (0.99, 1.22, 1.28, 1.92)),
]


@pytest.mark.parametrize(("size", "millilitres", "metres"), TABLE, ids=[f"{w}x{d}" for (w, d), *_ in TABLE])
def test_metres_to_a_container_of_310_380_400_and_600_ml_derived(
    published: Any, size: tuple[float, float], millilitres: float, metres: tuple[float, ...]
) -> None:
    assert bead(*size).sealant_per_metre == millilitres
    filled = [length_filled(container * 1000, *size) / 1000 for container in (310, 380, 400, 600)]
    for container, printed, ours in zip((310, 380, 400, 600), metres, filled, strict=True):
        given = f"{container} ml at {size[0]:g} x {size[1]:g}"
        published("SEAL-06", given, printed, ours, unit="m", within=0.005 + 1e-9, status="derived")


@pytest.mark.parametrize(("size", "millilitres", "metres"), TABLE, ids=[f"{w}x{d}" for (w, d), *_ in TABLE])
def test_containers_of_310_and_600_ml_to_seven_times_their_metres_derived(
    size: tuple[float, float], millilitres: float, metres: tuple[float, ...], uk: RuleBook
) -> None:
    """SEAL-06, the table of movement-and-repair.md 2.4: seven of them for a bead no longer than seven times what is printed."""
    cartridge, foil = packs_by_rule("JT-SEAL-L", RuleReader(uk))
    for pack, far in ((cartridge, metres[0]), (foil, metres[3])):
        assert number_of(pack, 7 * (far - 0.005) * millilitres / 1000) == 7
        assert number_of(pack, 7 * (far + 0.005 + 1e-9) * millilitres / 1000) == 8


def test_no_deeper_than_wide_and_10_mm_in_porous_faces_quoted(carried: Carried, uk: RuleBook) -> None:
    carried("sealant guideline", "sealant.depth.min", 10.0, "quoted")
    carried("sealant guideline", "sealant.depth.max_to_width", 1.0, "quoted")
    reader = RuleReader(uk)
    assert [sealant_depth(width, reader) for width in (6, 8, 10, 20, 25)] == [6, 8, 10, 10, 12.5]


def test_the_smallest_rod_a_quarter_over_the_width_from_memory(uk: RuleBook) -> None:
    reader = RuleReader(uk)
    sizes = [6, 10, 13, 15, 20, 25, 30, 40, 50]
    assert [backer_rod(size / 1.25, reader) for size in sizes] == sizes
    assert [backer_rod(size / 1.25 + 0.1, reader) for size in sizes] == [*sizes[1:], None]
