"""Nothing on any sheet stands over anything else: demo buildings, hard cases, and buildings nobody drew.

`overlaps` measures; these tests print how many labels found no room (pytest -s). A label that found none is numbered on the
drawing or named in the table "Not written on the drawing for want of room", never dropped.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from buildings import random_spec
from fitted_buildings import fitted_spec
from overlaps import Fault, faults, strikes

import elevgen
from elevgen import pipeline
from elevgen.core.errors import SpecError
from elevgen.core.geometry import Rect
from elevgen.drawing.board import written
from elevgen.drawing.compose import compose
from elevgen.drawing.font import Fonts
from elevgen.drawing.left_out import NO_NUMBER
from elevgen.drawing.scene import Dimension, Fill, Line, Polyline, Role, Scene, Sheet, Text, View, Window
from elevgen.spec.load import parse_text

ROOT = Path(__file__).parents[2]
DRAWN = sorted(p for folder in ("specs", "tests/data", "tests/data/hard") for p in (ROOT / folder).glob("*.json"))
SPECS = {p.stem: p for p in DRAWN if "schema" not in p.name}
FEW, MANY = range(4, 16), range(100)
ON_PAPER = ({"size": "A4"}, {"size": "A2"}, {"size": "A0"}, {"lengths": "feet"}, {"scale": 20}, {"scale": 100})


def on_elevations(found: list[Fault]) -> list[str]:
    """Those of sheets of leaves; plans are tested where they are drawn."""
    return [str(fault) for fault in found if "/" in fault.sheet]


def drawn(raw: dict[str, Any]) -> Scene | None:
    """The scene of a spec; None where its openings run into what its walls meet, which some made from a seed do."""
    try:
        return compose(elevgen.design(parse_text(json.dumps(raw), "made", pipeline.vocabulary()), "made"))
    except SpecError:
        return None


def every_label_is_told(scene: Scene) -> Counter[str]:
    """Every label left out is in the table by its words, and its number, if it has one, once in the view. Counts them."""
    count: Counter[str] = Counter()
    for view in scene.views:
        texts = [t.text for t in written(view.primitives, float(view.scale))]
        sheets = [s for s in scene.sheets if s.id == view.id or s.id.startswith(f"{view.id}-")]
        told = " ".join(t.text for s in sheets for t in written(s.primitives))
        for label in view.left_out:
            numbered = label.number != NO_NUMBER
            count["numbered" if numbered else "listed only"] += 1
            assert not numbered or texts.count(label.number) == 1, label
            assert all(word in told for word in label.text.split()), label
            assert "Not written on the drawing" in told
    return count


@pytest.mark.parametrize("name", SPECS)
def test_nothing_overlaps_on_the_sheets_of_a_spec(name: str) -> None:
    scene = compose(elevgen.design(elevgen.load(SPECS[name]), name))
    print(name, dict(every_label_is_told(scene)))
    assert on_elevations(faults(scene)) == []


def made(many: bool) -> Iterator[tuple[str, dict[str, Any]]]:
    for seed in MANY if many else FEW:
        yield f"random {seed}", random_spec(seed)
        if many or seed % 2:
            yield f"fitted {seed}", fitted_spec(seed)
    for n, sheet in enumerate(ON_PAPER):
        for seed in (20 + n, *(range(30 + n, 60, 6) if many else ())):
            yield f"random {seed} {sheet}", {**random_spec(seed), "sheet": sheet}


def measured(many: bool) -> None:
    count: Counter[str] = Counter()
    for name, raw in made(many):
        scene = drawn(raw)
        if scene is None:
            continue
        count["buildings"] += 1
        count["labels with no room"] += sum(every_label_is_told(scene).values())
        assert on_elevations(faults(scene)) == [], name
    print(dict(count))
    assert count["buildings"] > (200 if many else 15)


def test_nothing_overlaps_on_sheets_of_buildings_nobody_drew() -> None:
    measured(many=False)


@pytest.mark.bench
def test_nothing_overlaps_on_sheets_of_two_hundred_buildings() -> None:
    measured(many=True)


# --- the measure itself ----------------------------------------------------------------------------------------------


def seen(*primitives: Any, view: tuple[Any, ...] = (), window: Rect | None = None) -> list[str]:
    """The kinds of fault found on one sheet."""
    frame = Polyline(Role.FRAME, ((20, 10), (410, 10), (410, 287), (20, 287)), True)
    windows = (Window("v", window, (0.0, 0.0), 50),) if window else ()
    views = (View("v", "v", view, Rect(0, 0, 9e3, 9e3), 50, (0.0, 0.0)),)
    scene = Scene("t", "", views, (Sheet("W1/outer", "s", 420, 297, windows, (frame, *primitives)),), (), (), ())
    return [f.kind for f in faults(scene, Fonts())]


def text(x: float, y: float, words: str = "2390", height: float = 2.5, **more: Any) -> Text:
    return Text(Role.TEXT, (x, y), words, height, **more)


def test_the_measure_sees_what_is_wrong() -> None:
    assert seen(text(100, 100), text(100, 110)) == []
    assert seen(text(100, 100), text(103, 101)) == ["over text"]
    assert seen(text(100, 100), text(103, 101, rotation=90.0)) == ["over text"]
    assert seen(text(100, 100, height=1.7)) == ["too small"]
    assert seen(text(406, 100)) == ["outside the frame", "over a line"]
    assert seen(text(100, 100), Line(Role.DIMENSION, (90, 95), (115, 107))) == ["over a line"]
    assert seen(text(100, 100), Line(Role.DIMENSION, (90, 99.2), (115, 99.2))) == [], "as a dimension stands over its line"
    assert seen(Line(Role.UNIT, (90, 101), (115, 101)), text(100, 100)) == []
    assert seen(Dimension(Role.DIMENSION, (80, 120), (120, 120), "x", 101.0, "40"), text(99, 100)) == ["over text", "over a line"]


def test_the_measure_knows_what_a_ground_hides() -> None:
    ground = Fill(Role.TINT, ((99, 98), (109, 98), (109, 104), (99, 104)), "panel")
    for role, hidden in ((Role.TIE, True), (Role.MARK, True), (Role.LINTEL, False)):
        line = Line(role, (90, 101), (115, 101))
        assert (seen(line, ground, text(100, 100)) == []) == hidden
        assert seen(ground, line, text(100, 100)) == ["over a line"], "drawn after the ground"
    assert seen(text(100, 100), ground) == ["covered"]


def test_the_measure_looks_through_windows() -> None:
    label, line = text(2000, 2000), Line(Role.OUTLINE, (0, 2050), (9000, 2050))
    wide = Rect(100, 100, 250, 200)
    assert seen(view=(label,), window=wide) == []
    assert seen(view=(label, line), window=wide) == ["over a line"]
    assert seen(view=(label,), window=Rect(100, 100, 143, 200)) == ["cut by a window"]
    assert seen(view=(label, line), window=Rect(100, 100, 135, 200)) == [], "outside the window"
    assert seen(text(138, 140), view=(label,), window=wide) == ["over text"], "on the paper, at the same place"


def test_a_line_strikes_a_box_only_where_it_passes_through() -> None:
    box = Rect(0, 0, 10, 4)
    assert strikes((-5, 2), (15, 2), box) and strikes((5, -5), (5, 9), box) and strikes((-1, -1), (11, 5), box)
    assert not strikes((-5, 5), (15, 5), box) and not strikes((-5, 0), (5, 10), box) and not strikes((11, 2), (15, 2), box)
