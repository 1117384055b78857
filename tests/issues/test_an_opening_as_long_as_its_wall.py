"""A wall that is one opening from end to end has no part between openings: counting on that opening as a joint crashed."""


def test_it_is_said_to_be_no_joint(wall_of):
    all_of_it = {"id": "O1", "at": 0, "width": 9000, "sill": 900, "height": 900}
    design = wall_of({"end": [9000, 0], "openings": [all_of_it]}, {"zones": [{"unit": "dense_block_140"}]}, None)
    notes = [f for f in design.findings if f.code == "opening-as-joint" and f.openings]
    assert notes
    assert all(note.text.startswith("O1 is no joint") and "longest" not in note.text for note in notes)
