"""The height of a lintel in the place of units was judged as masonry without a reinforced bed, and no way led out of that."""

import pytest

CODES = ("reinforcement-all-over", "stack-bond")


def judged(design):
    return {(f.code, f.severity) for f in design.findings if f.code in CODES and f.leaves == ("W1/inner",)}


def test_a_deep_lintel_leaves_the_leaf_reinforced_all_over(wall_of):
    opening = {"id": "O1", "at": 2000, "width": 1810, "sill": 900, "height": 900}
    inner = {"lintel": {"kind": "concrete", "depth": 500}, "reinforced_every": 450, "bond": "stack"}
    design = wall_of({"openings": [opening]}, {}, inner)
    assert judged(design) == {("reinforcement-all-over", "pass"), ("stack-bond", "note")}


def test_bare_masonry_beside_the_lintel_is_still_found(wall_of):
    opening = {"id": "O1", "at": 2000, "width": 1810, "sill": 900, "height": 900}
    inner = {"lintel": {"kind": "concrete", "depth": 430}, "reinforced_every": 450}
    design = wall_of({"openings": [opening], "reinforcement": []}, {}, inner)
    assert ("reinforcement-all-over", "fail") in judged(design)


def test_steel_listed_at_the_very_top_makes_no_bed_there(wall_of):
    listed = [{"at": 1000, "level": 2480, "length": 3000}, "place"]
    design = wall_of({"top": 2480, "reinforcement": listed}, {}, {"bond": "stack"})
    assert judged(design) >= {("stack-bond", "note")}


@pytest.mark.parametrize(("every", "words"), [(75, "there is no bed between"), (450, "reinforce a bed there")])
def test_the_finding_says_whether_there_is_a_bed_to_reinforce(wall_of, every, words):
    design = wall_of({"reinforcement": ["place"] if every == 75 else []}, {}, {"reinforced_every": every})
    (finding,) = (f for f in design.findings if f.code == "reinforcement-all-over")
    assert finding.severity == "fail"
    assert words in finding.text
