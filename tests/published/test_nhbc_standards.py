"""NHBC Standards, figures the uk rule set takes from it.

Bibliography: NHBC Standards, chapter 6.1 External masonry walls: 6.1.3 (movement joints, table quoted by others),
6.1.11 (2022), 6.1.12 Table 5 (2020), 6.1.18 Table 10 (2020), chapter 6.11.5 (2018); the craftsmanship guide and the guidance
on masonry backgrounds for render (both quoted). What is from memory says so in its test's name.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value
from elevgen.fittings.tolerances import level_tolerance, plumb_tolerance
from elevgen.rules.book import RuleBook, RuleReader

Carried = Callable[..., None]


@pytest.mark.parametrize(
    ("key", "printed", "status"),
    [
        pytest.param("movement_joint.spacing.normal.clay", 12000.0, "quoted", id="6.1.3 clay 12 m normal, quoted"),
        pytest.param("movement_joint.spacing.limit.clay", 15000.0, "quoted", id="6.1.3 clay 15 m max, quoted"),
        pytest.param("movement_joint.width.nominal.clay", 16.0, "quoted", id="6.1.3 clay 16 mm, quoted"),
        pytest.param("movement_joint.spacing.normal.calcium_silicate", 7500.0, "quoted", id="calcium silicate 7.5 m"),
        pytest.param("movement_joint.spacing.limit.calcium_silicate", 9000.0, "quoted", id="calcium silicate 9 m"),
        pytest.param("movement_joint.width.nominal.calcium_silicate", 10.0, "quoted", id="calcium silicate 10 mm"),
        pytest.param("movement_joint.spacing.normal.dense_concrete", 6000.0, "quoted", id="concrete block, brick"),
        pytest.param("movement_joint.spacing.normal.lightweight_concrete", 6000.0, "quoted", id="block, light"),
        pytest.param("movement_joint.spacing.normal.aircrete", 6000.0, "quoted", id="block, aircrete"),
        pytest.param("movement_joint.corner.fraction", 0.5, "quoted", id="6.1.3 half off a return, quoted"),
        pytest.param("movement_joint.parapet.fraction", 0.5, "quoted", id="6.1.3 parapet half, quoted"),
        pytest.param("movement_joint.parapet.corner", 1500.0, "quoted", id="6.1.3 parapet 1.5 m from corners, quoted"),
        pytest.param("tie.spacing.horizontal", 900.0, "read", id="6.1.18 Table 10 ties 900 along"),
        pytest.param("tie.spacing.vertical", 450.0, "read", id="6.1.18 Table 10 ties 450 up"),
        pytest.param("tie.edge.distance", 225.0, "read", id="6.1.18 Table 10 within 225 of an edge"),
        pytest.param("tie.edge.vertical", 300.0, "read", id="6.1.18 Table 10 edge ties 300 up"),
        pytest.param("tie.verge.horizontal", 225.0, "read", id="6.1.18 Table 10 gable top 225 along"),
        pytest.param("tie.verge.vertical", 300.0, "read", id="6.1.18 Table 10 gable top 300 up"),
        pytest.param("tie.embedment", 50.0, "read", id="6.1.18 embedment 50"),
        pytest.param("bed_reinforcement.lap", 225.0, "read", id="6.1.18 reinforcement lap 225"),
        pytest.param("bed_reinforcement.cover", 20.0, "read", id="6.1.18 reinforcement cover 20"),
        pytest.param("tie.partition.vertical", 300.0, "read", id="6.1.11 partition ties 300 up"),
        pytest.param("lintel.bearing.short.simple", 100.0, "read", id="6.1.12 Table 5 up to 1.2 m, simple lintel"),
        pytest.param("lintel.bearing.short.tray", 150.0, "read", id="6.1.12 Table 5 up to 1.2 m, with tray"),
        pytest.param("lintel.bearing.long", 150.0, "read", id="6.1.12 Table 5 over 1.2 m"),
        pytest.param("lintel.bearing.short_span", 1200.0, "read", id="6.1.12 Table 5 what is short"),
        pytest.param("bed_reinforcement.courses_above", 2.0, "read", id="6.11.5 two courses above"),
        pytest.param("bed_reinforcement.courses_below", 2.0, "read", id="6.11.5 two courses below"),
        pytest.param("bed_reinforcement.reach", 600.0, "quoted", id="render guidance, 600 past the opening, quoted"),
        pytest.param("dpc.above_ground", 150.0, "quoted", id="craftsmanship guide, 150 above ground, quoted"),
        pytest.param("cavity.below_dpc", 225.0, "read", id="NHBC-14: 6.1.17 Table 9, fill 225 below the damp-proof course"),
        pytest.param("dpc.coping.barred", ("polyethylene",), "read", id="6.1.17 no polyethylene under copings"),
        pytest.param("tray.barred", ("polyethylene",), "quoted", id="TG 6.1/38 no polyethylene trays over openings, quoted"),
        pytest.param("tray.rise", 140.0, "memory", id="tray rise 140, from memory"),
        pytest.param("weep.minimum", 2.0, "memory", id="two weeps an opening, from memory"),
        pytest.param("bed.tolerance", 5.0, "memory", id="beds within 5 mm, from memory"),
    ],
)
def test_the_rule_set_carries_the_printed_figure(carried: Carried, key: str, printed: Value, status: str) -> None:
    carried("NHBC", key, printed, status)


@pytest.mark.parametrize(
    ("length", "allowed"),
    [
        pytest.param(2500.0, 4.0, id="NHBC-16: half of 5 m, half of 8 mm (derived)"),
        pytest.param(5000.0, 8.0, id="NHBC-16: 8 mm in 5 m"),
        pytest.param(8000.0, 12.0, id="NHBC-16: 12 mm over 5 m"),
    ],
)
def test_nhbc_16_beds_are_level_pro_rata(uk: RuleBook, length: float, allowed: float) -> None:
    """Chapter 1.2 of 2011 (now 9.1), read."""
    assert level_tolerance(RuleReader(uk), length) == pytest.approx(allowed)


@pytest.mark.parametrize(("height", "allowed"), [(3000.0, 8.0), (3001.0, 12.0), (6000.0, 12.0)])
def test_9_1_walls_are_plumb_by_the_storey_quoted(uk: RuleBook, height: float, allowed: float) -> None:
    """9.1, quoted by a web summary: 8 mm in a storey of up to 3 m, 12 mm in all over it."""
    assert plumb_tolerance(RuleReader(uk), height) == pytest.approx(allowed)
