"""What is left of a reach round a corner was asked for in a lintel there that takes the place of units."""


def test_the_lintel_round_the_corner_ends_the_reach(wall_of):
    round_it = {"id": "W2", "start": [6000, 0], "end": [6000, 5000]}
    round_it["openings"] = [{"id": "O2", "at": 400, "width": 900, "sill": 900, "height": 1125}]
    near = {"id": "O1", "at": 4900, "width": 900, "sill": 900, "height": 825}
    design = wall_of({"openings": [near]}, {"lintel": {"kind": "concrete", "depth": 290}}, {}, round_it)
    asked = [f for f in design.findings if f.code == "opening-reinforced" and f.openings == ("O1",)]
    assert asked
    assert [f.text for f in asked if f.severity == "fail"] == []
