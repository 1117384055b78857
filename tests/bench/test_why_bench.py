"""Cost of saying why joints stand nowhere else, and of looking for remedies. Run with -m bench."""

from __future__ import annotations

import sys
from pathlib import Path
from time import perf_counter

import pytest

from elevgen.joints import place as stage
from elevgen.pipeline import design, load

sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "joints"))
pytestmark = pytest.mark.bench
ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("path", ["tests/data/duplex.json", "specs/studio.json"])
def test_rejected_places_take_a_third_of_a_millisecond_a_joint(path: str, monkeypatch: pytest.MonkeyPatch) -> None:
    plain, spent = stage.rejected, []

    def timed(*given):
        start = perf_counter()
        found = plain(*given)
        spent.append(perf_counter() - start)
        return found

    monkeypatch.setattr(stage, "rejected", timed)
    design(load(ROOT / path))
    each = sorted(spent)[len(spent) // 2] * 1000
    print(f"\n{path}: {each:.2f} ms a joint, median of {len(spent)}")
    assert each < 0.6


def test_remedies_grow_no_worse_than_linearly_with_the_walls_in_trouble() -> None:
    from plans import built, wall

    def seconds(walls: int) -> float:
        def window(name: str, at: float, width: float) -> dict[str, object]:
            return {"id": name, "kind": "window", "at": at, "width": width, "sill": 900, "height": 1200}

        made = [
            wall(f"W{n}", [0, 3000 * n], [14900, 3000 * n], openings=[window(f"A{n}", 1150, 6050), window(f"B{n}", 7500, 6390)])
            for n in range(walls)
        ]
        start = perf_counter()
        _, _, plan = built(made, remedies=True)
        assert all(len(r.remedies or ()) == 2 for p in plan.placements for r in p.relaxed)
        return perf_counter() - start

    few, many = seconds(45), seconds(135)
    print(f"\n45 walls: {few:.2f} s, 135 walls: {many:.2f} s")
    assert many / few < 5
