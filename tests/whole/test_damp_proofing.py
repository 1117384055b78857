"""Buildings nobody drew, with finishes, ground and lower roofs: what the tool makes of damp-proofing passes its own checks."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any

import pytest
from buildings import SEEDS, length_of, random_spec

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
    return Spec.model_validate(spec)


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
