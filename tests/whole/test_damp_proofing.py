"""Buildings nobody drew, with finishes, ground and lower roofs: what the tool makes of damp-proofing passes its own checks."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any

import pytest
from buildings import SEEDS, length_of, mirrored, random_spec

from elevgen import pipeline
from elevgen.core.geometry import merge, subtract
from elevgen.result import Design
from elevgen.spec.models import Spec

JUDGED = (
    "abutment-tray",
    "corner-mesh",
    "dpc-continuous",
    "dpc-under-coping",
    "finish-at-joint",
    "tray-over-opening",
    "tray-rise",
    "weep-spacing",
)


def finished(seed: int) -> Spec:
    return Spec.model_validate(as_written(seed))


def as_written(seed: int) -> dict[str, Any]:
    """A random building: some leaves rendered or plastered, some walls with lower roofs, some that stand as parapets."""
    spec, draw = random_spec(seed), Random(7000 + seed)
    for leaf in spec["leaves"].values():
        if (finish := draw.choice(("render", "plaster", None))) is not None:
            leaf["finish"] = finish
    for wall in spec["walls"]:
        if draw.random() < 0.5:
            wall["abutments"] = [_line(wall, draw) for _ in range(draw.randint(1, 2))]
        if draw.random() < 0.3:
            wall["stands"] = draw.choice(("parapet", "free_standing"))
        if draw.random() < 0.5:
            wall["ground"] = [[0, draw.randint(-400, -100)], [length_of(wall), draw.randint(-400, -100)]]
    return spec


def _line(wall: dict[str, Any], draw: Random) -> dict[str, Any]:
    length = int(length_of(wall))
    places = sorted(draw.sample(range(length), draw.randint(2, 4)))
    level = draw.randint(300, 2600)
    sloping = draw.random() < 0.7
    return {"line": [[at, draw.randint(300, 2600) if sloping else level] for at in places]}


def judge(design: Design) -> None:
    failing = [f for f in design.findings if f.code in JUDGED and f.severity == "fail"]
    assert [f"{f.id}: {f.text}" for f in failing] == []
    for leaf in design.building.leaves:
        foot = [c.span for c in design.fittings.damp_courses if c.leaf == leaf.id and c.place == "base"]
        assert sum(span.length for span in merge(foot)) == pytest.approx(sum(span.length for span in foot)), "none doubled"
        assert not any(subtract(span, [leaf.span]) for span in foot)
    for tray in design.fittings.trays:
        assert set(tray.cut_weeps) <= set(tray.weeps)
        assert all(tray.span.contains(at) for at in tray.weeps)


@pytest.mark.parametrize("seed", SEEDS)
def test_damp_proofing_of_random_buildings_passes_its_checks(seed: int) -> None:
    judge(pipeline.design(finished(seed)))


@pytest.mark.bench
@pytest.mark.parametrize("hundred", range(1, 11))
def test_damp_proofing_of_a_thousand_buildings(hundred: int) -> None:
    for seed in range(100 * hundred, 100 * hundred + 100):
        judge(pipeline.design(finished(seed)))


def test_the_real_buildings_pass_too(design_of: Callable[..., Design]) -> None:
    for building in ("studio", "duplex"):
        judge(design_of(building))


def in_the_mirror(spec: dict[str, Any]) -> dict[str, Any]:
    """A finished building with east for west, its roofs and ground too."""
    image = mirrored(spec)
    for wall, original in zip(image["walls"], spec["walls"], strict=True):
        length = length_of(original)
        if "abutments" in wall:
            wall["abutments"] = [{"line": [[length - x, y] for x, y in reversed(a["line"])]} for a in wall["abutments"]]
        if "ground" in wall:
            wall["ground"] = [[length - x, y] for x, y in reversed(wall["ground"])]
        wall["joints"] = []
    return image


@pytest.mark.parametrize("seed", SEEDS)
def test_the_mirror_image_has_the_same_mirrored(seed: int) -> None:
    spec = as_written(seed)
    for wall in spec["walls"]:
        wall["joints"] = []
    one, two = (pipeline.design(Spec.model_validate(s)) for s in (spec, in_the_mirror(spec)))
    lengths = {wall.id: wall.length for wall in one.building.walls}

    def rows(design: Design, flipped: bool) -> list[tuple[Any, ...]]:
        def ends(wall: str, a: float, b: float) -> tuple[float, float]:
            return (round(lengths[wall] - b, 1), round(lengths[wall] - a, 1)) if flipped else (round(a, 1), round(b, 1))

        trays = [
            (t.wall, round(t.level, 1), *ends(t.wall, t.span.start, t.span.end), t.stop_ends, len(t.weeps), len(t.cut_weeps))
            for t in design.fittings.trays
        ]
        sheets = [
            (c.leaf, round(c.level, 1), *ends(c.wall, c.span.start, c.span.end), c.laps, round(c.extra, 1), c.place)
            for c in design.fittings.damp_courses
        ]
        mesh = [(m.leaf, m.opening, m.end, round(m.level, 1), m.faces) for m in design.fittings.mesh]
        return [*sorted(trays), *sorted(sheets), *sorted(mesh)]

    assert rows(one, True) == rows(two, False)
