"""The same spec gives the same bytes in every format, in any process, whatever order sets happen to have there."""

from __future__ import annotations

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
SPECS = {"studio": ROOT / "specs" / "studio.json", "duplex": ROOT / "tests" / "data" / "duplex.json"}


def draw(spec: Path, folder: Path, hash_seed: str, where: Path) -> None:
    environment = {**os.environ, "PYTHONHASHSEED": hash_seed, "TZ": {"1": "UTC", "2": "Asia/Kathmandu"}[hash_seed]}
    command = [sys.executable, "-m", "elevgen", "draw", str(spec), "-o", str(folder)]
    done = subprocess.run(command, cwd=where, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def content(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


@pytest.mark.parametrize("name", SPECS)
def test_two_processes_write_the_same_bytes(name: str, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    with ThreadPoolExecutor(2) as both:
        list(both.map(draw, [SPECS[name]] * 2, [tmp_path / "one", tmp_path / "two"], "12", [ROOT, tmp_path / "elsewhere"]))
    one, two = content(tmp_path / "one"), content(tmp_path / "two")
    assert {Path(path).suffix for path in one} >= {".dxf", ".pdf", ".svg", ".xlsx", ".json"}
    assert list(one) == list(two)
    assert [path for path in one if one[path] != two[path]] == []
