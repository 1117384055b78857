"""A new wall bonded to one that stands already: its steel was laid into the old wall's beds and cut from stock nobody ordered,
and by rules that measure along centre lines it could not be measured at all."""

from dataclasses import replace

import pytest

from elevgen.takeoff.measure import measure

OPENING = {"id": "O1", "at": 340, "width": 910, "sill": 900, "height": 1200}
ROUND = {"id": "W2", "start": [6000, 0], "end": [6000, 4765], "openings": [OPENING]}


@pytest.fixture(params=["W1", "W2"], ids="{} stands already".format)
def old(request):
    return request.param


@pytest.fixture
def corner(wall_of):
    """A function: two walls round a corner, bonded, an opening beside it in the second; the one named stands already."""

    def designed(standing):
        first, second = ({"existing": standing == wall} for wall in ("W1", "W2"))
        return wall_of(first, {}, {}, ROUND | second)

    return designed


def test_steel_ends_at_the_corner_and_all_of_it_is_cut_from_stock(corner, old):
    together, design = corner(None), corner(old)
    assert any(bed.returns for bed in together.fittings.bed_reinforcement)
    assert not any(bed.returns for bed in design.fittings.bed_reinforcement)
    for wall in ("W1", "W2"):
        laid = [piece for bed in design.fittings.bed_reinforcement if bed.wall == wall for piece in bed.pieces]
        cut = [p for of in design.fittings.stock if of.wall == wall for bar in of.cuts for p in bar.pieces * bar.number]
        assert sum(cut) == pytest.approx(sum(laid), abs=0.1 * len(laid) + 0.01)


@pytest.mark.parametrize("rules", ["nrm2-like", "net"])
def test_the_new_one_is_billed_as_if_both_were_new(corner, old, rules):
    def walling(design, wall):
        asked = design.spec.measurement.model_copy(update={"rules": rules})
        takeoff = measure(replace(design, spec=design.spec.model_copy(update={"measurement": asked})))
        return {(q.code, q.where): q.gross for q in takeoff.quantities if q.where.split("/")[0] == wall}

    new = {"W1": "W2", "W2": "W1"}[old]
    whole, part = walling(corner(None), new), walling(corner(old), new)
    walls = {key for key in whole if key[0].startswith(("WALL-", "CAVITY-"))}
    assert len(walls) == 3 and all(part[key] == whole[key] for key in walls)
    assert None not in [part[key] for key in walls] and not walling(corner(old), old)
