"""What every bond file owes, run on whatever the folder holds."""

from __future__ import annotations

import pytest

from elevgen.bonds import bond_names, load_bond
from elevgen.core.geometry import Span

SIZES = [(215.0, 10.0), (440.0, 10.0), (193.675, 9.525), (390.0, 3.0)]
found = pytest.mark.parametrize("name", bond_names())


def test_there_are_bonds():
    assert "stretcher" in bond_names()


def test_an_unknown_bond_is_refused():
    with pytest.raises(ModuleNotFoundError):
        load_bond("herringbone_of_nowhere")


@found
def test_a_bond_goes_by_its_file_name(name):
    assert name == load_bond(name).NAME


@found
@pytest.mark.parametrize(("unit", "joint"), SIZES)
def test_end_pieces_can_be_cut_from_a_unit_and_fill_modules(name, unit, joint):
    bond = load_bond(name)
    pieces = bond.end_pieces(unit, joint)
    assert pieces
    assert len(set(pieces)) == len(pieces)
    assert all(0 < piece <= unit for piece in pieces)
    assert 2 * bond.half_bond(unit, joint) + joint == pytest.approx(unit)


@found
@pytest.mark.parametrize(("unit", "joint"), SIZES)
def test_courses_are_shifted_by_less_than_a_module_and_not_all_alike(name, unit, joint):
    bond = load_bond(name)
    shifts = [bond.offset(k, unit, joint) for k in range(12)]
    assert all(0 <= s < unit + joint for s in shifts)
    assert shifts[:6] == shifts[6:] or shifts[:4] == shifts[4:8]


@found
@pytest.mark.parametrize(("unit", "joint"), SIZES)
def test_the_grid_is_where_perpends_stand_after_an_end_piece(name, unit, joint):
    bond = load_bond(name)
    step, origin = bond.grid(Span(317.0, 9000.0), unit, joint)
    for piece in bond.end_pieces(unit, joint):
        line = 317.0 + piece + joint / 2
        assert (line - origin) / step == pytest.approx(round((line - origin) / step))
    assert (unit + joint) / step == pytest.approx(round((unit + joint) / step))
