"""How meetings are connected, and the plans that are refused."""

from __future__ import annotations

from math import isclose
from types import SimpleNamespace

import pytest

from elevgen.building.trace import trace
from elevgen.core.errors import SpecError

RECTANGLE = [(0, 0), (9000, 0), (9000, 6000), (0, 6000)]


def with_partition(make: SimpleNamespace, *junctions: dict[str, object]) -> object:
    partition = make.wall("P1", "partition", (4000, 200), (4000, 5800))
    return make.build([*make.ring(RECTANGLE), partition], junctions=junctions)


def test_everything_is_bonded_unless_the_spec_says_otherwise(make: SimpleNamespace) -> None:
    assert {m.connection for m in with_partition(make).meetings} == {"bonded"}


def test_a_tied_tee_still_connects_and_a_jointed_one_does_not(make: SimpleNamespace) -> None:
    tied = with_partition(make, {"walls": ["P1", "W1"], "connection": "tied"})
    assert len(trace(tied)) == 2
    assert tied.leaf("P1/outer").start_end.connection == "tied"
    jointed = with_partition(
        make, {"walls": ["P1", "W1"], "connection": "jointed"}, {"walls": ["W3", "P1"], "leaf": "inner", "connection": "free"}
    )
    outer, inner, partition = trace(jointed)
    assert outer.closed and inner.closed and partition.leaves == ("P1/outer",)
    assert [n.kind for n in partition.nodes] == ["end", "end"] and isclose(partition.length, 6000 - 555)
    assert len(inner.edges) == 4


def test_one_leaf_of_a_corner_can_be_jointed(make: SimpleNamespace) -> None:
    building = make.build(make.ring(RECTANGLE), junctions=[{"walls": ["W2", "W1"], "leaf": "outer", "connection": "jointed"}])
    outer, inner = trace(building)
    assert inner.closed and not outer.closed
    assert sorted(n.kind for n in outer.nodes) == ["corner", "corner", "corner", "end", "end"]
    passing, stopping = building.leaf("W1/outer"), building.leaf("W2/outer")
    assert (passing.finish_end.kind, passing.span.end) == ("stopped", 9000)
    assert (stopping.start_end.kind, stopping.span.start, stopping.start_end.connection) == ("abutting", 102.5, "jointed")
    assert isclose(outer.length, 30000 - 102.5)


def test_a_tied_corner_is_butted_and_one_run(make: SimpleNamespace) -> None:
    building = make.build(make.ring(RECTANGLE), junctions=[{"walls": ["W1", "W2"], "connection": "tied"}])
    assert building.leaf("W2/outer").start_end.kind == "abutting"
    assert all(run.closed for run in trace(building))


def test_a_jointed_crossing_parts_the_interrupted_wall_in_two_runs(make: SimpleNamespace) -> None:
    walls = [make.wall("H", "solid", (3000, -2000), (3000, 2500)), make.wall("S", "partition", (0, 0), (7000, 0))]
    (one,) = trace(make.build(walls))
    assert len(one.edges) == 4
    runs = trace(make.build(walls, junctions=[{"walls": ["H", "S"], "connection": "jointed"}]))
    assert [(run.leaves, run.length) for run in runs] == [(("H/outer",), 4500), (("S/outer",), 2860), (("S/outer",), 4000)]


def test_a_wall_over_a_lower_one_that_crosses_it_goes_on_above(make: SimpleNamespace) -> None:
    walls = [make.wall("H", "solid", (3000, -2000), (3000, 2500), top=1200), make.wall("S", "partition", (0, 0), (7000, 0))]
    (run,) = trace(make.build(walls))
    assert isclose(run.length, 4500 + 7000)
    assert [n.kind for n in run.nodes].count("cross") == 1


def test_later_junctions_override_earlier_ones(make: SimpleNamespace) -> None:
    given = [{"walls": ["P1", "W1"], "connection": c} for c in ("free", "tied")]
    assert with_partition(make, *given).leaf("P1/outer").start_end.connection == "tied"


def refused(make: SimpleNamespace, walls: list[dict[str, object]], **more: object) -> list[tuple[object, ...]]:
    with pytest.raises(SpecError) as caught:
        make.build(walls, **more)
    assert all(fault.message for fault in caught.value.faults)
    return [fault.path for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("start", "end"),
    [
        ((1000, 0), (4000, 0)),
        ((5000, 120), (1000, 120)),
        ((4500, 60), (8000, 60)),
        ((500, 40), (4000, 90)),
        ((4970, 0), (9000, 0)),
    ],
)
def test_walls_lying_in_one_another_are_refused(
    make: SimpleNamespace, start: tuple[float, float], end: tuple[float, float]
) -> None:
    walls = [make.wall("A", "cavity", (0, 0), (5000, 0)), make.wall("B", "cavity", start, end)]
    assert refused(make, walls) == [("walls", 1)]


@pytest.mark.parametrize(
    ("start", "end"),
    [((5000, 0), (0, 0)), ((0, 277.5), (5000, 277.5)), ((5020, 0), (9000, 0)), ((4980, 0), (9000, 300)), ((0, 400), (5000, 700))],
)
def test_walls_back_to_back_beside_or_after_one_another_are_not(
    make: SimpleNamespace, start: tuple[float, float], end: tuple[float, float]
) -> None:
    walls = [make.wall("A", "cavity", (0, 0), (5000, 0)), make.wall("B", "cavity", start, end)]
    assert len(make.build(walls).leaves) == 4


def test_a_wall_too_short_for_what_it_meets_is_refused(make: SimpleNamespace) -> None:
    stub = make.wall("P1", "partition", (4000, 200), (4000, 270))
    assert refused(make, [*make.ring(RECTANGLE), stub]) == [("walls", 4)]


def test_a_wall_as_short_as_the_snap_is_refused(make: SimpleNamespace) -> None:
    assert refused(make, [make.wall("A", "solid", (0, 0), (25, 0))]) == [("walls", 0, "end")]


def test_an_opening_in_a_reentrant_return_is_refused(make: SimpleNamespace) -> None:
    plan = [(0, 0), (9200, 0), (9200, 4100), (5300, 4100), (5300, 7700), (0, 7700)]
    walls = make.ring(plan, kind="solid")
    walls[2]["line"] = walls[3]["line"] = "centre"
    walls[2]["openings"] = [make.opening("O1", 2900, 950, 900, 1200)]
    assert refused(make, walls) == [("walls", 2, "openings", 0, "at")]


def test_an_opening_where_a_wall_runs_through_is_refused(make: SimpleNamespace) -> None:
    host = make.wall("H", "solid", (3000, -2000), (3000, 2500))
    stem = make.wall("S", "partition", (0, 0), (7000, 0), openings=[make.opening("O1", 2500, 900, 0, 2000)])
    assert refused(make, [host, stem]) == [("walls", 1, "openings", 0, "at")]


def test_junctions_of_walls_that_do_not_meet_are_refused(make: SimpleNamespace) -> None:
    junctions = [{"walls": ["W1", "W2"], "connection": "tied"}, {"walls": ["W1", "W3"], "connection": "tied"}]
    assert refused(make, make.ring(RECTANGLE), junctions=junctions) == [("junctions", 1, "walls")]
    partition = make.wall("P1", "partition", (4000, 200), (4000, 5800))
    leaf = [{"walls": ["W1", "P1"], "leaf": "outer", "connection": "tied"}]
    assert refused(make, [*make.ring(RECTANGLE), partition], junctions=leaf) == [("junctions", 0, "walls")]
