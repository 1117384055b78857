"""Every building we have a spec of, by every preset: net is the masonry there is, and nothing is lost between gross and net."""

from math import fsum, inf
from pathlib import Path

import pytest

from elevgen.building.model import Building
from elevgen.building.outline import leaf_outline
from elevgen.building.resolve import resolve
from elevgen.core.geometry import Span
from elevgen.pipeline import load
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book
from elevgen.rules.measurement_loader import load_measurement, measurement_ids
from elevgen.takeoff.areas import masonry_area, shared_face
from elevgen.takeoff.centre_line import cavity_span, centre_span
from elevgen.takeoff.rulings import FaceMeasured, face_measured, measured_area

ROOT = Path(__file__).parents[3]
SPECS = sorted([*(ROOT / "specs").glob("[!e]*.json"), *(ROOT / "tests" / "data").rglob("*.json")])
PRESETS = {name: load_measurement(name) for name in measurement_ids()}


@pytest.fixture(scope="module", params=SPECS, ids=lambda path: path.stem)
def building(request: pytest.FixtureRequest) -> Building:
    spec = load(request.param)
    return resolve(spec, RuleReader(load_book(spec.rules, spec.overrides)))


def faces(building: Building, preset: str) -> list[FaceMeasured]:
    every = (Span(-inf, inf),)
    return [face_measured(leaf, building.wall(leaf.wall), every, PRESETS[preset]) for leaf in building.leaves]


def test_net_is_the_masonry_there_is(building: Building) -> None:
    for leaf, face in zip(building.leaves, faces(building, "net"), strict=True):
        assert face.net * 1e6 == pytest.approx(masonry_area(leaf), rel=1e-12)
        assert all(deduction.allowed for deduction in face.deductions)


@pytest.mark.parametrize("preset", sorted(PRESETS))
def test_every_hole_is_in_the_list_once_and_net_is_gross_less_what_is_allowed(building: Building, preset: str) -> None:
    for leaf, face, net in zip(building.leaves, faces(building, preset), faces(building, "net"), strict=True):
        assert [d.of for d in face.deductions] == [d.of for d in net.deductions]
        assert len({d.of for d in face.deductions}) == len(face.deductions)
        assert face.net == pytest.approx(face.gross - fsum(d.amount for d in face.deductions if d.allowed))
        step = PRESETS[preset].dimension_step
        crossed = net.gross - measured_area(leaf_outline(leaf), None) / 1e6
        assert face.gross == pytest.approx(measured_area(leaf_outline(leaf), step) / 1e6 + crossed, abs=0.05 if step else 1e-9)
        assert all(d.rule for d in face.deductions)


def test_centre_lines_are_no_further_from_the_face_than_the_thickness_lets_them(building: Building) -> None:
    """Every corner of these buildings is square: each end moves by half the thickness at most, out or in."""
    for leaf in building.leaves:
        moved = centre_span(building, leaf)
        for a, b in ((moved.start, leaf.span.start), (moved.end, leaf.span.end)):
            assert abs(a - b) in (pytest.approx(0, abs=1e-6), pytest.approx(leaf.thickness / 2))
    for wall in building.walls:
        if len(wall.leaves) == 2 and (shared := shared_face(building, wall)):
            middle = cavity_span(building, wall, shared.span)
            assert abs(middle.length - shared.span.length) <= 2 * wall.thickness
