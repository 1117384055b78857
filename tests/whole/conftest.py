"""Buildings designed once a session, and sets drawn once; the folder is on the path so that tests can import `buildings`."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
sys.path.insert(0, str(HERE))

from buildings import mirrored, random_spec, with_joints  # noqa: E402
from finished_set import Set  # noqa: E402

import elevgen  # noqa: E402
from elevgen import pipeline  # noqa: E402
from elevgen.result import Design  # noqa: E402
from elevgen.spec.load import parse_text  # noqa: E402
from elevgen.writers._package import Package  # noqa: E402

SPECS = {
    "studio": ROOT / "specs" / "studio.json",
    "kitchen-garden": ROOT / "specs" / "kitchen-garden.json",
    "duplex": ROOT / "tests" / "data" / "duplex.json",
    "long-wall": ROOT / "tests" / "data" / "long-wall.json",
    "us-workshop": ROOT / "tests" / "data" / "us-workshop.json",
}


@pytest.fixture(scope="session")
def design_of() -> Callable[..., Design]:
    """A function: a building by the name of its spec or by its seed, as it is or mirrored; each designed once.

    `pinned`: with the joints that are placed in it as it is written into its spec, so that none is sought anew.
    """
    words = pipeline.vocabulary()

    @cache
    def designed(building: str | int, mirror: bool = False, pinned: bool = False) -> Design:
        raw: dict[str, Any] = random_spec(building) if isinstance(building, int) else json.loads(SPECS[building].read_text())
        if pinned:
            raw = with_joints(raw, designed(building).plan.joints)
        text = json.dumps(mirrored(raw) if mirror else raw)
        return elevgen.design(parse_text(text, str(building), words), str(building))

    return designed


@pytest.fixture(scope="session")
def duplex(design_of: Callable[..., Design]) -> Design:
    return design_of("duplex")


@pytest.fixture(scope="session", params=["studio", "kitchen-garden", "duplex"])
def package(request: pytest.FixtureRequest, design_of: Callable[..., Design]) -> Package:
    """A design with its take-off and its scene."""
    from elevgen.drawing.compose import compose
    from elevgen.takeoff.measure import measure

    designed = design_of(request.param)
    return Package(designed, measure(designed), compose(designed))


@pytest.fixture(scope="session")
def drawn(package: Package, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the package's finished set, every format."""
    folder = tmp_path_factory.mktemp(package.design.name)
    from elevgen.writers import write_set

    write_set(package, folder)
    return folder


@pytest.fixture(scope="session")
def made(package: Package, drawn: Path) -> Set:
    return Set(package, drawn)


@pytest.fixture(scope="session")
def made_for_old_programs(tmp_path_factory: pytest.TempPathFactory) -> Set:
    """The studio's drawings as R12."""
    from elevgen.drawing.compose import compose
    from elevgen.takeoff.measure import measure
    from elevgen.writers import write_set

    raw = json.loads(SPECS["studio"].read_text())
    raw["sheet"] = {**raw.get("sheet", {}), "dxf": "R12"}
    designed = elevgen.design(parse_text(json.dumps(raw), "studio", pipeline.vocabulary()), "studio")
    packed, folder = Package(designed, measure(designed), compose(designed)), tmp_path_factory.mktemp("r12")
    write_set(packed, folder, formats=("dxf",))
    found = Set(packed, folder)
    assert {drawing.version for drawing in found.drawings} == {"AC1009"}
    return found
