"""Whole buildings with everything a spec can say of fittings: no crash, bill and fittings agree, solver and check agree."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fitted_buildings import fitted_spec
from fitted_faults import faults

from elevgen import pipeline
from elevgen.core.errors import SpecError
from elevgen.drawing.compose import compose
from elevgen.result import Design
from elevgen.spec.load import parse_text
from elevgen.takeoff.measure import measure
from elevgen.writers import write_set
from elevgen.writers._package import Package

ROOT = Path(__file__).parent.parent.parent
SEEDS = range(24)
WRITTEN = (0, 13)
"""Written in every format in the ordinary run: the rest are designed and measured only."""

KEPT = (
    "abutment-tray",
    "area-balance",
    "corner-mesh",
    "dpc-continuous",
    "dpc-in-bed",
    "dpc-under-coping",
    "finish-at-joint",
    "opening-lintel",
    "opening-reinforced",
    "low-lap-reinforced",
    "parapet-reinforced",
    "reinforcement-crosses-joint",
    "reinforcement-in-bed",
    "reinforcement-lap",
    "reinforcement-laps-staggered",
    "reinforcement-stock",
    "stack-bond",
    "tie-in-beds",
    "tie-partition",
    "tray-over-opening",
    "tray-rise",
    "weep-spacing",
)
"""Checks that what the tool places itself keeps in every building, however odd."""
LISTS = ("lintels", "reinforcement", "ties", "damp_courses", "trays", "joints")


def designed(seed: int) -> Design | None:
    """None where the spec is refused: for what only the stages can see, in words, and not with a crash."""
    try:
        return pipeline.design(parse_text(json.dumps(fitted_spec(seed)), str(seed), pipeline.vocabulary()), str(seed))
    except SpecError as refused:
        assert all("runs past the face" in fault.message for fault in refused.faults), refused.faults
        return None


def disagreements(seed: int, design: Design) -> Iterator[str]:
    """Failures of what the tool places itself, in walls for which nothing is listed."""
    walls: dict[str, dict[str, Any]] = {wall["id"]: wall for wall in fitted_spec(seed)["walls"]}
    listed = {name for name, wall in walls.items() if any(isinstance(wall.get(key), list) for key in LISTS)}
    for finding in design.findings:
        about = {*finding.walls, *(leaf.split("/")[0] for leaf in finding.leaves)}
        if finding.code not in KEPT or finding.severity != "fail" or about & listed:
            continue
        if "only what is listed" not in finding.text:
            yield f"{finding.id}: {finding.text}"


def judge(seed: int, folder: Path | None) -> None:
    design = designed(seed)
    if design is None:
        return
    takeoff = measure(design)
    assert [*faults(design, takeoff), *disagreements(seed, design)] == [], seed
    if folder is not None:
        write_set(Package(design, takeoff, compose(design)), folder / str(seed))


@pytest.mark.parametrize("seed", SEEDS)
def test_fitted_buildings_hold_together(seed: int, tmp_path: Path) -> None:
    judge(seed, tmp_path if seed in WRITTEN else None)


@pytest.mark.bench
@pytest.mark.parametrize("fifty", range(12))
def test_hundreds_of_fitted_buildings_hold_together(fifty: int, tmp_path: Path) -> None:
    for seed in range(50 * fifty, 50 * fifty + 50):
        judge(seed, tmp_path)


def test_few_are_refused() -> None:
    """Else nothing would be tested here."""
    words = pipeline.vocabulary()
    for seed in range(300):
        parse_text(json.dumps(fitted_spec(seed)), str(seed), words)


def written_in_a_process(spec: Path, folder: Path, hash_seed: str) -> dict[str, bytes]:
    command = [sys.executable, "-m", "elevgen", "draw", str(spec), "-o", str(folder)]
    subprocess.run(command, cwd=ROOT, env={**os.environ, "PYTHONHASHSEED": hash_seed}, capture_output=True, check=True)
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


@pytest.mark.bench
@pytest.mark.parametrize("seed", range(0, 60, 3))
def test_same_bytes_whatever_the_hash_seed(seed: int, tmp_path: Path) -> None:
    if designed(seed) is None:
        return
    spec = tmp_path / f"fitted-{seed}.json"
    spec.write_text(json.dumps(fitted_spec(seed)))
    one, two = (written_in_a_process(spec, tmp_path / hash_seed, hash_seed) for hash_seed in ("1", "2"))
    assert list(one) == list(two)
    assert [name for name in one if one[name] != two[name]] == []
