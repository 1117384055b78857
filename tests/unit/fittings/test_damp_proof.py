"""Damp-proof courses, trays and weeps."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from elevgen.core.geometry import Rect, Span
from elevgen.fittings.damp_proof import damp_courses, trays, weeps
from elevgen.fittings.model import Lintel


def lintel(start, end, bearing=150.0, level=2100.0):
    clear = Span(start + bearing, end - bearing)
    return Lintel("W1/outer/L-O1", "W1", "W1/outer", ("O1",), level, clear, bearing, bearing, None, ())


def test_one_along_the_whole_face_under_doors_too(yard, reader):
    made = yard.wall(6000, [Rect(1000, 0, 1910, 2100)])
    (dpc,) = damp_courses(made.leaf(), reader)
    assert (dpc.id, dpc.level, dpc.span, dpc.width, dpc.lap) == ("W1/outer/DPC", 0, Span(0, 6000), 102.5, 100)
    assert [d.span for d in damp_courses(made.leaf("inner"), reader)] == [Span(202.5, 5797.5)]


@pytest.mark.parametrize(("base", "count"), [(-150, 1), (0, 1), (150, 0), (2700, 0)])
def test_only_where_the_leaf_is_founded_at_or_below_the_datum(yard, reader, base, count):
    assert len(damp_courses(yard.wall(6000, base=base, top=5400).leaf(), reader)) == count


def test_a_stepped_base_has_it_where_the_base_is_low(yard, reader):
    made = yard.wall(6000, base=[(0, 300), (1500, 300), (1500, -150), (4000, -150), (4000, 75), (6000, 75)])
    assert [d.span for d in damp_courses(made.leaf(), reader)] == [Span(1500, 4000)]


def test_none_through_an_opening_that_reaches_below_it(yard, reader):
    made = yard.wall(6000, [Rect(1000, -150, 1910, 1350), Rect(4000, 0, 4910, 2100)], base=-300)
    assert [d.span for d in damp_courses(made.leaf(), reader)] == [Span(0, 1000), Span(1910, 6000)]


def test_each_corner_is_lapped_once(yard, reader):
    leaf = yard.wall(6000).leaf()
    ring = [
        replace(
            leaf,
            id=f"W{k}/outer",
            start_end=replace(leaf.start_end, other=f"W{(k - 2) % 4 + 1}/outer"),
            finish_end=replace(leaf.finish_end, other=f"W{k % 4 + 1}/outer"),
        )
        for k in range(1, 5)
    ]
    assert sum(d.laps for one in ring for d in damp_courses(one, reader)) == 4
    stopped = yard.wall(6000, ends=("stopped", "stopped")).leaf()
    assert [d.laps for d in damp_courses(stopped, reader)] == [0]


@pytest.mark.parametrize("length", [500.0, 900.0, 1210.0, 1800.0, 1801.0, 5000.0])
def test_weeps_are_even_at_both_ends_and_within_spacing(reader, length):
    at = weeps(Span(700, 700 + length), reader)
    gaps = [b - a for a, b in pairwise(at)]
    assert len(at) >= 2 and max(gaps) <= 900.01 and max(gaps) - min(gaps) < 0.01
    assert (at[0], at[-1]) == (700, 700 + length)
    assert len(at) == 2 or length / (len(at) - 2) > 900, "one fewer would be too far apart"


def test_a_tray_runs_past_its_lintel_unless_joint_or_end_stops_it(yard, reader):
    made = yard.wall(6000, joints=[2028])
    free, beside, at_end = trays(
        made.leaf(), [lintel(3000, 4210), lintel(700, 2010), lintel(4800, 5990)], made.plan.joints, reader
    )
    assert (free.span, free.stop_ends, free.level, free.opening) == (Span(2975, 4235), 2, 2100, "O1")
    assert beside.span == Span(675, 2020)
    assert at_end.span == Span(4775, 6000)
    assert free.id == "W1/outer/T-O1"
