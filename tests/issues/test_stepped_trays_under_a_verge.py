"""Where the verge of a gable comes down to a stepped tray it was cut off there, and a lower bed that would do was left bare."""


def test_the_tray_steps_down_early(wall_of):
    gable = {"top": [[0, 4277], [6000, 2255]], "base": -225, "abutments": [{"line": [[3328, 3979], [5607, 711]]}]}
    design = wall_of(gable, {}, {})
    judged = [f for f in design.findings if f.code == "abutment-tray" and "abutment 1" in f.id]
    assert judged
    assert [f.text for f in judged if f.severity == "fail"] == []
    leaf = design.building.leaf("W1/outer")
    assert all(leaf.top.lowest(tray.span) >= tray.level - 0.01 for tray in design.fittings.trays)
