"""The DXF listed its object classes in the order of a set, which changes from one process to the next."""

import os
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

SPEC = Path(__file__).parents[1] / "data" / "long-wall.json"


def test_same_drawing_in_every_process(tmp_path: Path) -> None:
    drawn = set()
    for seed in ("3", "4", "7"):
        out = tmp_path / seed
        command = [sys.executable, "-m", "elevgen", "draw", str(SPEC), "-o", str(out), "--formats", "dxf"]
        subprocess.run(command, env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True)
        drawn.add(sha256((out / "long-wall.dxf").read_bytes()).hexdigest())
    assert len(drawn) == 1
