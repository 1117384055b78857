"""Joints of the two leaves 22 mm apart left a side of one without ties in reach: they were set back from the nearer one."""

from collections import Counter

import pytest

from elevgen import pipeline
from elevgen.spec.load import parse_text
from elevgen.spec.starter import starter_text


@pytest.mark.parametrize(("outer", "inner"), [(1570, 1547.5), (4720, 4697.5), (2500, 2500), (2500, 2590), (2500, 2800)])
def test_ties_serve_both_sides_of_both_joints(outer, inner):
    spec = parse_text(starter_text("straight", "6.29 m", "1 m", "2.7 m", "Two joints"), "two joints", pipeline.vocabulary())
    given = ({"at": outer, "leaf": "outer"}, {"at": inner, "leaf": "inner"})
    wall = spec.walls[0].model_validate(spec.walls[0].model_dump() | {"joints": given})
    design = pipeline.design(spec.model_copy(update={"walls": (wall,)}))
    judged = Counter(f.severity for f in design.findings if f.code == "tie-near-joint-and-reveal")
    assert judged["pass"] >= 2
    assert not judged["fail"]
