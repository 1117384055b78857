"""The drawing of a corner and an elevation could be given one file name, and one of the two was lost; corners of walls with
hyphens in their ids were taken for a second place of the same two walls."""

from collections.abc import Callable

from elevgen.drawing.compose import compose
from elevgen.drawing.scene import Scene
from elevgen.result import Design
from elevgen.writers import svg
from elevgen.writers._names import view_stems
from elevgen.writers._package import Package

Walls = Callable[..., Design]
PLAN = ([0, 0], [2000, 0], [2000, 1500], [0, 1500], [0, 0])


def drawn(wall_of: Walls, *ids: str) -> tuple[Design, Scene]:
    ends = [{"id": name, "start": PLAN[n], "end": PLAN[n + 1], "top": 450} for n, name in enumerate(ids)]
    design = wall_of(ends[0], {}, None, *ends[1:])
    return design, compose(design)


def test_every_view_has_a_file(wall_of: Walls) -> None:
    design, scene = drawn(wall_of, "corner-A-B", "A", "B-outer")
    assert {"corner-A-B/outer", "corner-A-B-outer"} <= {view.id for view in scene.views}
    files = svg.render(Package(design, None, scene))  # type: ignore[arg-type]
    assert len({name.lower() for name in files}) == len(scene.views)


def test_capitals_do_not_tell_files_apart() -> None:
    stems = view_stems(["plan", "a/outer", "A-outer", "a-outer-2", "Plan"])
    assert stems == {"plan": "plan", "a/outer": "a-outer", "A-outer": "A-outer-2", "a-outer-2": "a-outer-2-2", "Plan": "Plan-2"}


def test_corners_of_walls_with_hyphens(wall_of: Walls) -> None:
    from elevgen.drawing.corners import corners_of

    design, _ = drawn(wall_of, "A", "B-C", "A-B", "C")
    found = {corner.name: corner.id for corner in corners_of(design.building)}
    assert len(set(found.values())) == len(found) == 4
    assert not any("(" in name for name in found)
