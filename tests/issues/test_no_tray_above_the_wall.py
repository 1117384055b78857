"""A lintel deeper than the masonry over its opening had a tray on its top, in the air above the wall."""


def test_a_lintel_as_high_as_the_wall_has_no_tray(wall_of):
    opening = {"id": "O1", "at": 2000, "width": 1210, "sill": 900, "height": 1650}
    design = wall_of({"openings": [opening]}, {"lintel": {"kind": "concrete", "depth": 215}}, {})
    assert [lintel.body.top for lintel in design.fittings.lintels if lintel.body] > [2700]
    assert not design.fittings.trays
    assert "fail" not in {f.severity for f in design.findings if f.code == "tray-over-opening"}


def test_under_a_slope_it_lies_where_the_wall_is_higher(wall_of):
    opening = {"id": "O1", "at": 2000, "width": 1810, "sill": 900, "height": 1200}
    gable = {"openings": [opening], "top": [[0, 1000], [1700, 2100], [6000, 4000]]}
    design = wall_of(gable, {"lintel": {"kind": "concrete", "depth": 430}}, {})
    (tray,) = design.fittings.trays
    assert tray.level > 2500
    assert design.building.leaf("W1/outer").top.lowest(tray.span) >= tray.level - 0.01
    assert "fail" not in {f.severity for f in design.findings if f.code == "tray-over-opening"}
