"""On the plan a figure was struck by its own extension lines where a building is thinner than its figure, and labels of corners
stood on the arrows at setting-out ends."""

from collections.abc import Callable

import pytest

from elevgen.drawing.board import text_box, written
from elevgen.drawing.compose import compose
from elevgen.drawing.font import Fonts
from elevgen.drawing.plan import ARROW
from elevgen.drawing.scene import Dimension, Line, Polyline, Role, Symbol, View
from elevgen.result import Design

Walls = Callable[..., Design]


def plan_of(design: Design) -> View:
    return compose(design).view("plan")


def _crossed(view: View, a: tuple[float, float], b: tuple[float, float], steps: int = 60) -> list[str]:
    """Texts a straight line passes through, told by points along it."""
    fonts, found = Fonts(), []
    for text in written(view.primitives, float(view.scale)):
        box = text_box(text, fonts, float(view.scale))
        points = ((a[0] + (b[0] - a[0]) * n / steps, a[1] + (b[1] - a[1]) * n / steps) for n in range(steps + 1))
        if any(box.left < x < box.right and box.bottom < y < box.top for x, y in points):
            found.append(text.text)
    return found


@pytest.mark.parametrize(("end", "along"), [([6000, 0], "x"), ([0, 6000], "y")])
def test_a_wall_thinner_than_the_figure_of_it(wall_of: Walls, end: list[float], along: str) -> None:
    view = plan_of(wall_of({"end": end}, {}, None))
    assert [(d.text, d.axis) for d in view.primitives if isinstance(d, Dimension)] == [("6000", along)]
    assert [t.text for t in written(view.primitives, float(view.scale))].count("102.5") == 1, "beside its strokes"
    for line in (p for p in view.primitives if isinstance(p, Line) and p.role is Role.DIMENSION):
        assert _crossed(view, line.a, line.b) == []


def test_corner_labels_stand_clear_of_arrows(wall_of: Walls) -> None:
    corners = [[0, 0], [9100, 0], [9100, 5200], [0, 5200], [0, 0]]
    walls = [{"id": f"W{n + 1}", "start": corners[n], "end": corners[n + 1]} for n in range(4)]
    view = plan_of(wall_of(walls[0], {}, {}, *walls[1:]))
    arrows = [p for p in view.primitives if isinstance(p, Symbol) and p.name == "arrow" and p.source.startswith("W")]
    assert len(arrows) == 4
    size = ARROW * view.scale
    backwards = {"W1": (-1, 0), "W2": (0, -1), "W3": (1, 0), "W4": (0, 1)}
    for arrow in arrows:
        (x, y), (dx, dy) = arrow.at, backwards[arrow.source]
        for side in (-0.3, 0.0, 0.3):
            base = x + size * (dx - dy * side), y + size * (dy + dx * side)
            assert _crossed(view, arrow.at, base) == [], arrow.source
    assert any(isinstance(p, Polyline) for p in view.primitives)
