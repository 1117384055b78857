"""How long a set takes and how much memory, as ratios to a process that only loads and saves an empty file of each format.

Run: pytest -m bench -s tests/bench/test_draw_bench.py. Nothing here fails for being slow, for machines are noisy; but every
format together may take twice as long as DXF and workbook alone, no more, which is a ratio of one run. It fails when a
set is not drawn, too. Processes keep their compiled code, as installed programs do; PYTHONDONTWRITEBYTECODE would have
elevgen, but not the libraries, compiled anew every time.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from time import perf_counter

import pytest

DATA = Path(__file__).parent.parent / "data"
EMPTY = """
import sys, ezdxf, openpyxl
ezdxf.new().saveas(sys.argv[1] + "/empty.dxf")
openpyxl.Workbook().save(sys.argv[1] + "/empty.xlsx")
"""
ROUNDS = 7
MOST = 2.0


def measured(command: list[str], compiled: Path) -> tuple[float, float]:
    """Seconds and peak megabytes of one run of a command that must succeed."""
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    started = perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, env=env | {"PYTHONPYCACHEPREFIX": str(compiled)})
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode == 0, command
    return perf_counter() - started, usage.ru_maxrss / 1024


@pytest.mark.bench
@pytest.mark.skipif(not hasattr(os, "wait4"), reason="needs wait4 for peak memory")
def test_drawing_against_an_empty_file(tmp_path):
    def draw(spec: str, formats: str) -> list[str]:
        out = tmp_path / spec.removesuffix(".json") / formats
        return [sys.executable, "-m", "elevgen", "draw", str(DATA / spec), "-o", str(out), "--formats", formats]

    jobs = {
        "empty dxf and xlsx": [sys.executable, "-c", EMPTY, str(tmp_path)],
        "duplex, dxf,xlsx": draw("duplex.json", "dxf,xlsx"),
        "duplex, all": draw("duplex.json", "dxf,json,pdf,svg,xlsx"),
        "100 m leaf, dxf,xlsx": draw("long-wall.json", "dxf,xlsx"),
    }
    best: dict[str, tuple[float, float]] = {}
    for _ in range(ROUNDS):
        for name, command in jobs.items():
            seconds, megabytes = measured(command, tmp_path / "compiled")
            before = best.get(name, (float("inf"), 0.0))
            best[name] = (min(before[0], seconds), max(before[1], megabytes))

    empty = best["empty dxf and xlsx"][0]
    duplex = best["duplex, dxf,xlsx"][0]
    print(f"\n{'':<24}{'seconds':>9}{'x empty':>9}{'x duplex':>10}{'peak MB':>9}")
    for name, (seconds, megabytes) in best.items():
        print(f"{name:<24}{seconds:>9.2f}{seconds / empty:>9.2f}{seconds / duplex:>10.2f}{megabytes:>9.0f}")
    share = best["duplex, all"][0] / duplex
    print(f"all formats of the duplex: {share:.2f} times DXF and workbook; {MOST} are allowed")
    assert share <= MOST
    for folder in ("duplex/dxf,xlsx", "long-wall/dxf,xlsx"):
        assert {p.suffix for p in (tmp_path / folder).iterdir() if not p.name.startswith(".")} == {".dxf", ".xlsx"}
