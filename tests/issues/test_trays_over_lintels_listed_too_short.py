"""A lintel listed too short had a tray as short as itself: part of the opening was left with none."""


def test_the_tray_goes_over_all_of_the_opening(wall_of):
    opening = {"id": "O1", "at": 2000, "width": 1210, "sill": 900, "height": 1200}
    listed = {"over": ["O1"], "at": 2080, "length": 1280, "leaf": "outer"}
    design = wall_of({"openings": [opening], "lintels": [listed, "place"]}, {}, {})
    (tray,) = design.fittings.trays
    assert tray.span.start <= 2000 - 25 and tray.span.end >= 2080 + 1280 + 25
    assert [f.severity for f in design.findings if f.code == "tray-over-opening"] == ["pass"]
