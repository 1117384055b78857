"""What design.json and the workbook say of levels that land on no course."""

from __future__ import annotations

import json
from io import BytesIO
from typing import Any

import pytest
from openpyxl import load_workbook

from elevgen import pipeline
from elevgen.drawing.scene import Scene
from elevgen.result import Design
from elevgen.spec.models import Spec
from elevgen.takeoff.measure import measure
from elevgen.writers import json as json_writer
from elevgen.writers import xlsx
from elevgen.writers._package import Package


@pytest.fixture(scope="module")
def package() -> Package:
    """A garden wall with a sill 10 mm under a course and a top of its own: 36 mm of bed over four courses."""
    window = {"id": "V1", "kind": "window", "at": 890, "width": 910, "sill": 140, "height": 170}
    low = {"id": "G2", "type": "garden", "start": [0, 5000], "end": [3590, 5000], "base": 0, "top": 326}
    spec: dict[str, Any] = {
        "spec": 1,
        "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
        "wall_types": {"garden": {"outer": "brick"}},
        "walls": [
            {"id": "G1", "type": "garden", "start": [0, 0], "end": [3590, 0], "base": 0, "top": 600, "openings": [window]},
            low,
        ],
    }
    design: Design = pipeline.design(Spec.model_validate(spec), "misfits")
    return Package(design, measure(design), Scene("Misfits", "", (), (), (), (), ()))


def test_design_json_has_the_course_that_pays_and_the_bed(package: Package) -> None:
    (content,) = json_writer.render(package).values()
    sill, top = json.loads(content)["misfits"]
    where = {"wall": "G1", "leaf": "outer", "what": "sill of V1", "level": 140, "down": 75, "up": 150}
    pays = {"course": 2, "cut_to": 55, "made_up": None, "bed": 10, "bed_needed": 5, "barred": "others", "loses": 2}
    assert sill == where | pays
    assert (top["course"], top["cut_to"], top["made_up"]) == (4, None, 36)
    assert (top["bed_needed"], top["barred"], top["loses"]) == (16.5, "tolerance", None)


def test_the_workbook_has_them_in_its_table(package: Package) -> None:
    (content,) = xlsx.render(package).values()
    rows = list(load_workbook(BytesIO(content))["Units and cuts"].iter_rows(values_only=True))
    heading = next(n for n, row in enumerate(rows) if row[0] == "Levels that land on no course")
    fields = rows[heading + 1][:11]
    sill, top = (dict(zip(fields, row, strict=False)) for row in rows[heading + 2 : heading + 4])
    assert (sill["Course"], sill["Units cut to"], sill["Bed made up to"]) == (2, 55, None)
    assert (sill["Beds laid"], sill["Bed it needs"], sill["Not laid because"]) == (10, 5, "2 levels that now land would not")
    assert (top["Course"], top["Units cut to"], top["Bed made up to"]) == (4, None, 36)
    assert top["Not laid because"] == "outside the tolerance of beds"
