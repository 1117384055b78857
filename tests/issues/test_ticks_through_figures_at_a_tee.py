"""At a tee, in feet and inches, the tick of a joint in the wall met ran through a figure of the other wall."""

from collections.abc import Callable
from itertools import pairwise

import pytest

from elevgen import pipeline
from elevgen.drawing.board import text_box, written
from elevgen.drawing.compose import compose
from elevgen.drawing.font import Fonts
from elevgen.drawing.labels import strikes
from elevgen.drawing.scene import Polyline
from elevgen.result import Design
from elevgen.spec.models import JunctionModel, SheetModel


@pytest.mark.parametrize("at", [1650, 1937, 1990])
def test_no_tick_runs_through_a_figure(wall_of: Callable[..., Design], at: float) -> None:
    other = {"id": "P1", "type": "p", "start": [at, 302.5], "end": [at, 2000], "top": 450}
    types = {"id": "W1", "end": [4000, 0], "top": 450}
    spec = wall_of(types, {}, {}).spec
    raw = spec.model_dump()
    raw["wall_types"]["p"] = {"outer": "i"}
    raw["walls"] = [*raw["walls"], {**other, "joints": []}]
    raw["sheet"] = SheetModel(lengths="feet").model_dump()
    raw["junctions"] = [JunctionModel(walls=("W1", "P1"), connection="bonded").model_dump()]
    scene = compose(pipeline.design(type(spec).model_validate(raw)))
    fonts = Fonts()
    corners = [view for view in scene.views if view.id.startswith("corner-")]
    assert corners
    for view in corners:
        texts = [(text.text, text_box(text, fonts, view.scale)) for text in written(view.primitives, view.scale)]
        ticks = [p for p in view.primitives if isinstance(p, Polyline) and "from the corner" in p.title]
        assert ticks
        for tick in ticks:
            for a, b in pairwise(tick.points):
                assert [text for text, box in texts if strikes(a, b, box)] == [], tick.title
