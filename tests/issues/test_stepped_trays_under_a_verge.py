"""Where the verge of a gable comes down to a stepped tray it was cut off there, and a lower bed that would do was left bare."""


def test_the_tray_steps_down_early(wall_of):
    gable = {"top": [[0, 2400], [500, 3500], [6000, 2365]], "abutments": [{"line": [[2000, 2900], [3200, 100]]}]}
    design = wall_of(gable | {"top": [[0, 2400], [1000, 3500], [6000, 1800]]}, {}, {})
    judged = [f for f in design.findings if f.code == "abutment-tray" and "abutment 1" in f.id]
    assert judged
    assert [f.text for f in judged if f.severity == "fail"] == []
    leaf = design.building.leaf("W1/outer")
    assert all(leaf.top.lowest(tray.span) >= tray.level - 0.01 for tray in design.fittings.trays)
