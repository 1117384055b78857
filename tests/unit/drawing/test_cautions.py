"""Cautions where the work can hurt someone: each where it comes in, on sheet, workbook and terminal alike, and nowhere else."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from elevgen import pipeline
from elevgen.cli import main
from elevgen.drawing.cautions import AID, HEIGHT, WIND, cautions, plan_cautions
from elevgen.drawing.compose import compose
from elevgen.drawing.scene import Text
from elevgen.spec.models import Spec

ABOVE = HEIGHT.format(high="1.5 m")
LOW = {"id": "W1", "start": [0, 0], "end": [2015, 0], "base": 0, "top": 1500}
"""Nine bricks long and as high as one works from the ground: half bricks at its ends are all that is cut."""


def spec(*walls: dict[str, Any], unit: str = "brick_65", units: dict[str, Any] | None = None, **leaf: Any) -> dict[str, Any]:
    return {
        "spec": 1,
        "units": units or {},
        "leaves": {"one": {"zones": [{"unit": unit}], **leaf}},
        "wall_types": {"single": {"outer": "one"}},
        "walls": [{"type": "single", **wall} for wall in walls],
    }


def said(*walls: dict[str, Any], leaf: str | None = None, **more: Any) -> dict[str, str]:
    """The cautions by their first word; what every set says is not among them."""
    design = pipeline.design(Spec.model_validate(spec(*walls, **more)))
    first, *others = cautions(design, leaf)
    assert first == AID
    return {words.split()[0]: words for words in others}


def test_a_low_wall_of_whole_units_is_told_no_more_than_every_set() -> None:
    """Stack bond: nothing is cut."""
    assert said(LOW, bond="stack") == {}


def test_dust_where_pieces_are_cut() -> None:
    words = said(LOW)["Cutting"]
    assert "silica dust" in words and "wet or with extraction" in words
    design = pipeline.design(Spec.model_validate(spec(LOW)))
    cut = sum(count.cut for laid in design.coursing.leaves for count in laid.counts)
    assert cut > 0
    assert f"({cut} pieces)" in words


@pytest.mark.parametrize(("top", "height"), [(1500, False), (1575, True)])
def test_height_and_wind_over_1500(top: float, height: bool) -> None:
    words = said({**LOW, "top": top})
    assert words.get("Work") == (f"{ABOVE} {WIND}" if height else None)


@pytest.mark.parametrize(("mass", "heavy"), [(20.0, False), (20.5, True)])
def test_lifting_where_a_unit_is_heavy(mass: float, heavy: bool) -> None:
    units = {"block": {"material": "dense_concrete", "length": 440, "height": 215, "width": 140, "mass": mass}}
    words = said({**LOW, "end": [4490, 0]}, unit="block", units=units)
    assert ("Units" in words) is heavy
    if heavy:
        assert "block 20.5 kg" in words["Units"]


@pytest.mark.parametrize(("depth", "width", "heavy"), [(65, 685, False), (140, 1585, True)])
def test_lintels_where_one_is_heavy(depth: float, width: float, heavy: bool) -> None:
    opening = {"id": "V1", "kind": "window", "at": 675, "width": width, "sill": 450, "height": 600}
    words = said({**LOW, "end": [4490, 0], "openings": [opening]}, lintel={"kind": "concrete", "depth": depth})
    assert ("Lintels" in words) is heavy


def test_standing_walls_are_held_before_they_are_cut_into() -> None:
    old = {"id": "OLD", "start": [0, 0], "end": [6065, 0], "base": 0, "top": 3000, "existing": True, "joints": []}
    met = {"id": "NEW", "start": [6065, 0], "end": [6065, 3365], "base": 0, "top": 1500}
    apart = {"id": "FAR", "start": [0, 9000], "end": [2015, 9000], "base": 0, "top": 1500}
    walls = (old, met, apart)
    assert said(*walls)["Standing"].startswith("Standing walls (OLD): before one is cut into")
    assert "Standing" in said(*walls, leaf="NEW/outer"), "it is bonded or jointed to the old one"
    assert "Standing" not in said(*walls, leaf="FAR/outer")
    on_old = said(*walls, leaf="OLD/outer")
    assert "Cutting" not in on_old, "how the standing wall was cut is done with"
    assert on_old["Work"] == ABOVE, "it needs no support against wind"
    assert "Standing" not in said({**old, "existing": False}, met, apart)


def test_a_joint_to_be_sawn_into_a_standing_wall_makes_dust() -> None:
    old = {"id": "OLD", "start": [0, 0], "end": [14390, 0], "base": 0, "top": 1425, "existing": True}
    assert "joint" in said(old)["Cutting"] and "sawn" in said(old)["Cutting"]
    assert "Cutting" not in said({**old, "joints": [{"at": 7200}]}), "one that is there already does not"


def test_plan_sheets_workbook_terminal_and_data_say_the_same(tmp_path: Path) -> None:
    old = {"id": "OLD", "start": [0, 0], "end": [6065, 0], "base": 0, "top": 3000, "existing": True, "joints": []}
    new = {"id": "NEW", "start": [6065, 0], "end": [6065, 3365], "base": 0, "top": 2100}
    path = tmp_path / "shed.json"
    path.write_text(json.dumps(spec(old, new)), encoding="utf-8")
    design = pipeline.design_file(path)
    every = cautions(design)
    assert [words.split()[0] for words in every[1:]] == ["Standing", "Cutting", "Work"]
    scene = compose(design)
    assert scene.cautions == every
    for name, wanted in (("NEW/outer", cautions(design, "NEW/outer")), ("plan", plan_cautions(design))):
        (sheet,) = [s for s in scene.sheets if s.id == name]
        written = " ".join(p.text for p in sheet.primitives if isinstance(p, Text))
        assert all(words in written for words in wanted), name
    for command, *more in (("draw", "-o", str(tmp_path / "out"), "--formats", "xlsx,json"), ("check",)):
        lines = CliRunner().invoke(main, [command, str(path), *more]).stdout.splitlines()
        assert [line.removeprefix("  take care: ") for line in lines if line.startswith("  take care: ")] == list(every[1:])
        assert lines[-1] == AID
    summary = load_workbook(tmp_path / "out" / "shed.xlsx")["Summary"]
    cells = {str(cell) for row in summary.iter_rows(values_only=True) for cell in row}
    assert set(every) <= cells
    assert json.loads((tmp_path / "out" / "design.json").read_text())["cautions"] == list(every)
