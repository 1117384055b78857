"""A joint as given that takes the edge of an opening stopped its tray, which was then blamed for not going on past the lintel."""


def test_the_tray_goes_as_far_as_the_joint_lets_it(wall_of):
    opening = {"id": "O1", "at": 2000, "width": 1210, "sill": 900, "height": 1200}
    design = wall_of({"openings": [opening], "joints": [{"at": 2000, "width": 10}]}, {}, {})
    (tray,) = design.fittings.trays
    assert tray.span.start == 2005
    assert [f.severity for f in design.findings if f.code == "tray-over-opening"] == ["pass"]
