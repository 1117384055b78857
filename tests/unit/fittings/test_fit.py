"""The whole stage on small buildings: everything placed, in order, and partitions tied."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from elevgen.building.model import Building, LeafEnd, Meeting
from elevgen.core.geometry import Rect
from elevgen.coursing.model import Coursing
from elevgen.coursing.seats import seats_of
from elevgen.fittings.fit import fit


def stage(made, reader):
    coursing = replace(made.coursing, lintels=seats_of(made.building, made.plan, reader))
    return fit(made.building, (), made.plan, coursing, reader)


def test_a_wall_has_everything(yard, reader):
    made = yard.wall(14000, [Rect(1000, 0, 1910, 2100), Rect(4000, 900, 6400, 2100)], joints=[7500])
    fittings = stage(made, reader)
    assert [x.id for x in fittings.lintels] == [f"W1/{s}/L-O{k}" for s in ("outer", "inner") for k in (1, 2)]
    assert [t.id for t in fittings.trays] == ["W1/outer/T-O1", "W1/outer/T-O2"], "outer leaf only"
    assert [d.leaf for d in fittings.damp_courses] == ["W1/outer", "W1/inner"]
    assert [p.joint for p in fittings.joint_parts] == ["J1"]
    assert [t.wall for t in fittings.ties] == ["W1"]
    assert {r.leaf for r in fittings.bed_reinforcement} == {"W1/outer", "W1/inner"}
    served = {name for r in fittings.bed_reinforcement for name in r.serves}
    assert served == {"O1", "O2"}
    keys = {
        key
        for group in (fittings.lintels, fittings.bed_reinforcement, fittings.ties, fittings.trays)
        for x in group
        for key in x.basis
    }
    assert keys <= {s.key for s in reader.used()}, "nothing is cited that was not read"
    assert stage(made, reader) == fittings


def test_a_single_leaf_has_no_ties_and_no_trays(yard, reader):
    fittings = stage(yard.wall(6000, [Rect(1000, 900, 1910, 2100)], cavity=None), reader)
    assert fittings.ties == () and fittings.trays == ()
    assert len(fittings.lintels) == 1 and len(fittings.bed_reinforcement) == 4


def partition(yard, connection, kind="tee", top=2475.0):
    """A block wall of one leaf, its end on the inner leaf of W1 at 2800."""
    host, stem = yard.wall(8000), yard.wall(3100, cavity=None, base=-150.0, top=top)
    leaf = replace(
        stem.leaf(),
        id="P1/outer",
        wall="P1",
        exposed=False,
        finish_end=LeafEnd("abutting", 3100.0, 3100.0, "W1/inner", connection),
    )
    wall = replace(stem.wall, id="P1", leaves=("P1/outer",))
    meeting = Meeting("M1", kind, "W1/inner", "P1/outer", 2800.0, 3151.0, connection)
    laid = replace(stem.coursing.leaves[0], leaf="P1/outer")
    return replace(
        host,
        building=Building((*host.building.walls, wall), (*host.building.leaves, leaf), (meeting,), host.building.units),
        coursing=Coursing((), (*host.coursing.leaves, laid)),
    )


@pytest.mark.parametrize(("connection", "tied"), [("tied", True), ("bonded", True), ("jointed", False), ("free", False)])
def test_a_partition_is_tied_at_its_end(yard, reader, connection, tied):
    fittings = stage(partition(yard, connection), reader)
    assert [t.wall for t in fittings.ties] == (["W1", "P1"] if tied else ["W1"])
    if tied:
        ends = fittings.ties[1]
        assert {(t.at, t.kind) for t in ends.ties} == {(3100.0, "partition")}
        levels = [-150, *(t.level for t in ends.ties), 2475]
        assert max(b - a for a, b in pairwise(levels)) <= 300 + 10
        assert ends.length is None and "tie.partition.vertical" in ends.basis


def test_crossing_walls_are_not_partitions(yard, reader):
    assert [t.wall for t in stage(partition(yard, "tied", kind="cross"), reader).ties] == ["W1"]
