"""How the time to design a cavity wall grows with its openings, and what fittings take beside coursing. Run with -m bench -s."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path
from random import Random
from time import process_time

import pytest

from elevgen import pipeline
from elevgen.building.resolve import resolve
from elevgen.building.trace import trace
from elevgen.coursing.lay import lay
from elevgen.fittings.fit import fit
from elevgen.joints.place import place
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

pytestmark = pytest.mark.bench

DUPLEX = Path(__file__).parents[1] / "data" / "duplex.json"
BAY, HEIGHT, ROWS = 1500.0, 6000.0, 3


def cavity_wall(count: int, folder: Path) -> Spec:
    """Brick and block with so many openings in three rows, no two alike and none on a module; its length grows with them."""
    random = Random(7)
    openings = []
    for k in range(count):
        column, row = divmod(k, ROWS)
        at, width = round(column * BAY + random.uniform(300, 600)), round(random.uniform(450, 825))
        sill, height = round(row * HEIGHT / ROWS + random.uniform(400, 600)), round(random.uniform(600, 900))
        openings.append({"id": f"O{k}", "kind": "window", "at": at, "width": width, "sill": sill, "height": height})
    wall = {"id": "W", "name": "Long wall", "type": "cavity", "start": [0, 0], "end": [-(-count // ROWS) * BAY, 0]}
    spec = {
        "spec": 1,
        "project": {"title": "Openings", "date": "2026-01-05"},
        "rules": "uk",
        "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}, "block": {"zones": [{"unit": "aircrete_block_100"}]}},
        "wall_types": {"cavity": {"outer": "brick", "inner": "block", "cavity": 100}},
        "walls": [{**wall, "base": -225, "top": HEIGHT, "openings": openings}],
    }
    path = folder / f"{count}.json"
    path.write_text(json.dumps(spec))
    return pipeline.load(path)


def seconds(spec: Spec) -> dict[str, float]:
    """Processor time of each stage."""
    reader = RuleReader(load_book(spec.rules, spec.overrides))
    marks = [process_time()]
    building = resolve(spec, reader)
    runs = trace(building)
    plan = place(building, runs, reader, spec)
    marks.append(process_time())
    coursing = lay(building, plan, reader)
    marks.append(process_time())
    fit(building, runs, plan, coursing, reader)
    marks.append(process_time())
    pipeline.design(spec)
    whole = process_time() - marks[-1]
    before, laying, fitting = (b - a for a, b in pairwise(marks))
    return {"joints": before, "coursing": laying, "fittings": fitting, "checks": whole - before - laying - fitting, "all": whole}


def said(what: str, times: dict[str, float]) -> None:
    print(f"\n{what}: " + ", ".join(f"{stage} {taken:.2f} s" for stage, taken in times.items()))


def test_twice_the_openings_take_no_more_than_five_times_as_long(tmp_path: Path) -> None:
    few, many = (seconds(cavity_wall(count, tmp_path)) for count in (45, 90))
    said("45 openings", few)
    said("90 openings", many)
    print("times as long: " + ", ".join(f"{stage} {many[stage] / few[stage]:.1f}" for stage in few if few[stage] > 0.01))
    assert many["all"] < 5 * few["all"]


def test_fittings_of_the_duplex_take_no_more_than_three_times_as_long_as_laying_it() -> None:
    times = seconds(pipeline.load(DUPLEX))
    said("duplex", times)
    print(f"fittings take {times['fittings'] / times['coursing']:.2f} times what coursing does")
    assert times["fittings"] < 3 * times["coursing"]
