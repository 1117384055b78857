"""Findings that no placement could keep said what was measured and not what stood in the way."""


def test_a_bearing_with_no_masonry_to_bear_on(wall_of):
    opening = {"id": "O1", "at": 60, "width": 1210, "sill": 900, "height": 1200}
    design = wall_of({"openings": [opening]}, {}, {})
    texts = [f.text for f in design.findings if f.code == "lintel-bearing" and f.severity == "fail"]
    assert texts
    assert all("only 60 mm of masonry beside the opening to bear on" in text for text in texts)


def test_no_tray_where_there_is_no_lintel(wall_of):
    opening = {"id": "O1", "at": 2000, "width": 1210, "sill": 900, "height": 1200}
    design = wall_of({"openings": [opening], "lintels": []}, {}, {})
    (finding,) = (f for f in design.findings if f.code == "tray-over-opening")
    assert finding.text == "no cavity tray over 1210 mm of it, nor a lintel for one to lie on"


def test_reinforcement_listed_in_the_wall_round_the_corner(wall_of):
    opening = {"id": "O1", "at": 4700, "width": 900, "sill": 900, "height": 1200}
    listed = {"id": "W2", "start": [6000, 0], "end": [6000, 4000], "reinforcement": []}
    design = wall_of({"openings": [opening]}, {}, {}, listed)
    texts = [f.text for f in design.findings if f.code == "opening-reinforced" and f.severity == "fail" and f.openings == ("O1",)]
    assert texts
    assert all("which is to have only what is listed for it" in text for text in texts)


def test_two_corners_in_one_breath(wall_of):
    opening = {"id": "O1", "at": 150, "width": 2700, "sill": 900, "height": 1200}
    sides = [{"id": "W2", "start": [3000, 0], "end": [3000, 4000]}, {"id": "W3", "start": [0, 4000], "end": [0, 0]}]
    leaf = {"lintel": {"kind": "concrete", "depth": 140}}
    design = wall_of({"end": [3000, 0], "openings": [opening]}, leaf, None, *sides)
    (text,) = [f.text for f in design.findings if f.code == "lintel-courses" and f.severity == "fail"]
    assert "runs into the corners with W3/outer and W2/outer" in text
