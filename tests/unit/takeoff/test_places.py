"""Panels and lifts of a leaf, and quantities shared out to them: figures worked out by hand for a lopsided grid."""

from math import fsum, inf

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from elevgen.core.geometry import Span
from elevgen.takeoff.model import Part
from elevgen.takeoff.places import EVERYWHERE, Grid, gathered, settled, shared_out

GRID = Grid(
    panels=(("A", Span(-inf, 1000.0)), ("B", Span(1000.0, 4000.0)), ("C", Span(4000.0, inf))),
    lifts=((1, Span(-inf, 1350.0)), (2, Span(1350.0, 2850.0)), (3, Span(2850.0, inf))),
)


def test_a_place_is_in_one_panel_and_one_lift() -> None:
    assert [GRID.panel_at(at) for at in (-50.0, 999.0, 1000.0, 3999.0, 9000.0)] == ["A", "A", "B", "B", "C"]
    assert [GRID.lift_at(level) for level in (-900.0, 1349.98, 1349.995, 1350.0, 2850.0)] == [1, 1, 2, 2, 3]


def test_a_level_length_is_split_at_joints() -> None:
    """900 to 4500, 1.8 m of it in all with steps: 100, 3000 and 500 of 3600."""
    parts = list(GRID.level_stretch(Span(900.0, 4500.0), 1400.0, 1.8, 3.6))
    assert [(p.panel, p.lift) for p in parts] == [("A", 2), ("B", 2), ("C", 2)]
    assert [p.net for p in parts] == pytest.approx([0.05, 1.5, 0.25])
    assert [p.needed for p in parts] == pytest.approx([0.1, 3.0, 0.5])


def test_an_upright_length_is_split_at_lifts() -> None:
    parts = list(GRID.upright(Span(-150.0, 2950.0), 6.2))
    assert [(p.panel, p.lift) for p in parts] == [(None, 1), (None, 2), (None, 3)]
    assert [p.net for p in parts] == pytest.approx([3.0, 3.0, 0.2])
    assert {p.panel for p in GRID.upright_at(4000.0, Span(0.0, 2000.0), 2.0)} == {"C"}


def test_a_length_of_nothing_lies_where_it_starts() -> None:
    assert list(GRID.upright(Span(1350.0, 1350.0), 1.0)) == [Part(None, 2, 1.0)]


def test_cells_are_every_panel_in_every_lift_of_a_band() -> None:
    assert len(list(GRID.cells(EVERYWHERE))) == 9
    band = list(GRID.cells(Span(1500.0, 3000.0)))
    assert {(cell.lift, cell.levels) for cell in band} == {(2, Span(1500.0, 2850.0)), (3, Span(2850.0, 3000.0))}


def test_parts_of_one_place_are_one() -> None:
    parts = (Part("B", 2, 1.0, 2.0), Part("A", 1, 0.5), Part("B", 1, 0.25), Part("B", 2, 3.0, 1.0))
    assert gathered(parts) == (Part("B", 1, 0.25), Part("A", 1, 0.5), Part("B", 2, 4.0, 3.0))


def test_what_weighs_nothing_is_not_lost() -> None:
    assert shared_out({("A", 1): 0.0, ("B", 1): 0.0}, 2.0) == (Part("A", 1, 2.0), Part("B", 1, 0.0))
    assert shared_out({("A", 1): 1.0, ("B", 1): 3.0}, 2.0) == (Part("A", 1, 0.5), Part("B", 1, 1.5))


AMOUNTS = st.lists(st.floats(0.0, 500.0), min_size=1, max_size=12)


@given(AMOUNTS, st.integers(0, 10**7), st.one_of(st.none(), st.integers(0, 10**7)))
@example([5e-324], 1, None)
@example([5e-324, 7.0, 5e-324], 10**7, 3)
def test_rounded_shares_add_up_to_the_digit(amounts: list[float], net: int, needed: int | None) -> None:
    parts = [Part(f"P{n}", n % 3 + 1, amount) for n, amount in enumerate(amounts)]
    whole = net / 1e4
    found = settled(parts, whole, None if needed is None else needed / 1e4, 4)
    if not sum(amounts):
        assert not found
        return
    assert round(fsum(p.net for p in found), 4) == whole
    assert all(p.net >= 0 and p.net == round(p.net, 4) for p in found)
    total = fsum(amounts)
    assert all(p.net == pytest.approx(amounts[int(str(p.panel)[1:])] / total * whole, abs=1.01e-4) for p in found)
    if needed is None:
        assert all(p.needed is None for p in found)
    else:
        assert round(fsum(p.needed or 0.0 for p in found), 4) == needed / 1e4
