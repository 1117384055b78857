"""A window a few centimetres from the end of the inner leaf leaves a sliver in which no tie has room: none is asked for there."""

ROUND = [
    {"id": "E", "start": [6000, 0], "end": [6000, 3000]},
    {"id": "N", "start": [6000, 3000], "end": [0, 3000]},
    {"id": "P", "start": [0, 3000], "end": [0, 0]},
]


def test_no_tie_is_asked_for_in_it(wall_of):
    opening = {"id": "O1", "at": 232, "width": 910, "sill": 600, "height": 1210}
    design = wall_of({"openings": [opening]}, {}, {}, *ROUND)
    assert {f.severity for f in design.findings if f.code == "tie-reach"} == {"pass"}
    (beside,) = (f for f in design.findings if f.where == "W1/O1 left reveal" and f.code == "tie-near-joint-and-reveal")
    assert beside.severity == "note" and "no room for a tie" in beside.text
