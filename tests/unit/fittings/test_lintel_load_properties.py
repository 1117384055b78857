"""Loads of lintels on walls nobody drew: against a sum over a fine grid, against the wall seen from its other end."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from random import Random

import numpy as np
import pytest

from elevgen.building.given import Load
from elevgen.building.model import Leaf, Unit, Zone
from elevgen.core.geometry import Rect, Span
from elevgen.coursing.seats import seats_of
from elevgen.fittings.lintel_loads import lintel_loads
from elevgen.fittings.lintels import lintels
from elevgen.fittings.load_model import LintelLoad

STONE = Unit("stone", "stone", 290, 65, 102.5, 10)
GRID = 8.0


def reckoned(made, reader) -> list[LintelLoad]:
    return list(
        lintel_loads(made.building, lintels(seats_of(made.building, made.plan, reader), made.building, reader), made.plan, reader)
    )


def any_top(draw: Random, length: float, eaves: float):
    """Level, a gable, a step, or a lean-to."""
    kind = draw.choice(("level", "gable", "step", "slope"))
    if kind == "gable":
        return [(0.0, eaves), (length * draw.uniform(0.3, 0.7), eaves + draw.uniform(300, 3000)), (length, eaves)]
    if kind == "step":
        at = length * draw.uniform(0.2, 0.8)
        return [(0.0, eaves), (at, eaves), (at, eaves + draw.uniform(-150, 1200)), (length, eaves + draw.uniform(0, 500))]
    if kind == "slope":
        return [(0.0, eaves), (length, eaves + draw.uniform(100, 2500))]
    return eaves


def any_wall(yard, seed: int):
    """Openings in one to three rows that may stand over one another, two kinds of unit, any top, joints, loads."""
    draw = Random(seed)
    length = 50.0 * draw.randint(60, 240)
    rows = draw.randint(1, 3)
    openings = []
    for row in range(rows):
        at = draw.uniform(150, 1500)
        while (width := draw.uniform(300, 2800)) + at < length - 150:
            head = 2700 * row + draw.choice((2100.0, 2100.0, draw.uniform(1500, 2300)))
            openings.append(Rect(at, head - draw.uniform(400, 1500), at + width, head))
            at += width + draw.choice((draw.uniform(215, 900), draw.uniform(600, 2500)))
    eaves = 2700.0 * rows + draw.uniform(-350, 900)
    joints = [draw.uniform(500, length - 500)] if draw.random() < 0.3 else []
    joints = [at for at in joints if all(not (o.left - 20 < at < o.right + 20) for o in openings)]
    made = yard.wall(length, openings, joints, top=any_top(draw, length, eaves), base=-225.0)
    part = draw.uniform(500, eaves)
    leaves = tuple(
        replace(leaf, zones=(Zone(STONE, Span(-225, part)), Zone(leaf.zones[0].unit, Span(part, leaf.zones[0].levels.end))))
        for leaf in made.building.leaves
    )
    return replace(made, building=replace(made.building, leaves=leaves))


def with_loads(made, seed: int):
    draw = Random(seed)
    given = []
    for _ in range(draw.randint(1, 4)):
        at, level = draw.uniform(0, made.wall.length), draw.uniform(1500, 5000)
        length = draw.choice((None, draw.uniform(100, 4000)))
        given.append(Load(draw.choice((None, "outer", "inner")), level, at, length, draw.uniform(0.5, 20)))
    wall = replace(made.wall, loads=tuple(given))
    return replace(made, building=replace(made.building, walls=(wall,)))


def level_at(points, at: float) -> float:
    """A profile read off between its points; only asked for where it has none."""
    for (a, low), (b, high) in pairwise(points):
        if a < at < b:
            return low + (high - low) * (at - a) / (b - a)
    return points[0][1] if at <= points[0][0] else points[-1][1]


class Grid:
    """A leaf's weight in cells of GRID x GRID: kN in each, and where it is."""

    def __init__(self, leaf: Leaf, reader, load: LintelLoad) -> None:
        low, high = load.clear.start - 600, load.clear.end + 600
        bottom = load.triangle.foot
        top = max(level for _, level in leaf.top.points)
        self.x, self.y = np.meshgrid(np.arange(low + GRID / 2, high, GRID), np.arange(bottom + GRID / 2, top + GRID, GRID))
        tops = np.array([level_at(leaf.top.points, at) for at in self.x[0]])
        solid = (self.y < tops) & (self.x > leaf.span.start) & (self.x < leaf.span.end)
        for void in leaf.voids:
            solid &= ~((self.x > void.left) & (self.x < void.right) & (self.y > void.bottom) & (self.y < void.top))
        each = np.zeros_like(self.x)
        for zone in leaf.zones:
            unit = zone.unit
            share = unit.length * unit.height / ((unit.length + 10) * (unit.height + 10))
            density = share * reader.number(f"unit.density.{unit.material}")
            density += (1 - share) * reader.number("lintel.load.mortar.density")
            each[(self.y >= zone.levels.start) & (self.y < zone.levels.end)] = density / 1e9 * leaf.thickness * 9.81e-3
        self.weight = each * solid * GRID**2

    def triangle(self, load: LintelLoad) -> np.ndarray:
        """Cells in the load triangle: nearer its foot than either end of the base."""
        half = 0.55 * load.clear.length
        return self.y - load.triangle.foot < half - np.abs(self.x - load.clear.middle)

    def full(self, load: LintelLoad, lintel_span: Span, above: list[LintelLoad]) -> np.ndarray:
        half = 0.55 * load.clear.length
        start = min(lintel_span.start, load.clear.middle - half)
        end = max(lintel_span.end, load.clear.middle + half)
        cells = (self.x > start) & (self.x < end)
        for other in above:
            cells &= ~((self.x > other.clear.start) & (self.x < other.clear.end) & (self.y > other.triangle.foot))
        return cells

    def reactions(self, cells: np.ndarray, supports: Span) -> tuple[float, float]:
        weight = self.weight * cells
        at = np.clip(self.x, supports.start, supports.end) - supports.start
        end = float((weight * at).sum()) / supports.length
        return float(weight.sum()) - end, end


@pytest.mark.parametrize("seed", range(160))
def test_masonry_is_what_a_fine_grid_adds_up_to(yard, reader, seed):
    made = any_wall(yard, seed)
    found = reckoned(made, reader)
    for load in found:
        leaf = made.leaf(load.leaf.split("/")[1])
        above = [x for x in found if x.leaf == load.leaf and x.triangle.foot > load.triangle.foot + 0.01]
        grid = Grid(leaf, reader, load)
        left, right = load.clear.start - load.supports.start, load.supports.end - load.clear.end
        span = Span(
            load.supports.start - (left if load.part == 1 else 0), load.supports.end + (right if load.part == load.parts else 0)
        )
        for reading in load.readings:
            if reading.method == "arching":
                continue
            cells = grid.triangle(load) if reading.method == "load_triangle" else grid.full(load, span, above)
            total = float((grid.weight * cells).sum())
            edge = 25.0 * 102.5 * 2700e-9 * 9.81e-3 * GRID * (load.clear.length + 8000) / 25.0
            assert reading.masonry == pytest.approx(total, rel=0.02, abs=edge)
            if reading.brought == 0:
                assert (reading.reaction_start, reading.reaction_end) == pytest.approx(
                    grid.reactions(cells, load.supports), rel=0.02, abs=edge
                )


def test_the_walls_try_every_method(yard, reader):
    found = [load for seed in range(60) for load in reckoned(any_wall(yard, seed), reader)]
    for method in ("load_triangle", "arching", "full"):
        assert sum(load.used.method == method or load.by(method) is not None for load in found) > 20
    kinds = {cause.kind for load in found for method in ("load_triangle", "arching") for cause in load.why_not(method)}
    assert kinds >= {"opening", "joint", "height", "side", "bearing"}
    assert sum(load.used.brought > 0 for load in found) > 10


@pytest.mark.parametrize("seed", range(300))
def test_no_method_says_more_than_the_full_load_and_all_balance(yard, reader, seed):
    made = with_loads(any_wall(yard, seed), seed)
    for load in reckoned(made, reader):
        full = load.by("full")
        assert load.used is not None and full is not None
        for reading in load.readings:
            assert reading.reaction_start + reading.reaction_end == pytest.approx(reading.total, abs=1e-9)
            assert min(reading.masonry, reading.imposed, reading.brought, reading.moment) >= 0
            assert reading.per_metre * load.supports.length**2 / 8e6 >= reading.moment - 1e-9
        triangle = load.by("load_triangle")
        if triangle is not None:
            assert load.used is triangle and load.why_not("load_triangle") == ()
            assert triangle.masonry <= full.masonry + 1e-9
            assert triangle.imposed <= full.imposed + 1e-9
            assert triangle.brought <= full.brought + 1e-9
        else:
            assert load.used is full and load.why_not("load_triangle")


@pytest.mark.parametrize("seed", range(200))
def test_the_wall_seen_from_its_other_end_swaps_the_reactions(yard, reader, seed):
    made = with_loads(any_wall(yard, seed), seed)
    mirrored = yard.mirrored(made)
    length = made.wall.length
    turned = tuple(replace(x, at=length - x.at - (x.length or 0.0)) for x in made.wall.loads)
    mirrored = replace(mirrored, building=replace(mirrored.building, walls=(replace(mirrored.wall, loads=turned),)))

    def key(load: LintelLoad, turn: bool):
        middle = length - load.clear.middle if turn else load.clear.middle
        return load.leaf, round(load.triangle.foot, 3), round(middle, 3), round(load.clear.length, 3)

    there = {key(load, True): load for load in reckoned(mirrored, reader)}
    here = {key(load, False): load for load in reckoned(made, reader)}
    assert set(here) == set(there)
    for name, load in here.items():
        other = there[name]
        assert [r.method for r in load.readings] == [r.method for r in other.readings]
        for a, b in zip(load.readings, other.readings, strict=True):
            assert (a.reaction_start, a.reaction_end) == pytest.approx((b.reaction_end, b.reaction_start), abs=1e-6)
            assert (a.masonry, a.imposed, a.brought, a.moment, a.per_metre) == pytest.approx(
                (b.masonry, b.imposed, b.brought, b.moment, b.per_metre), abs=1e-6
            )


@pytest.mark.parametrize("seed", range(60))
def test_random_walls_have_all_there_is(yard, reader, seed):
    """A lone opening in a wall that is high and wide enough: half the base times the height, whatever its size."""
    draw = Random(seed)
    width, left = draw.uniform(300, 3500), draw.uniform(900, 3000)
    made = yard.wall(left + width + 1000, [Rect(left, 300, left + width, 2100)], top=2100 + 0.55 * width + draw.uniform(1, 900))
    for load in reckoned(made, reader):
        leaf = made.leaf(load.leaf.split("/")[1])
        if min(load.clear.start - leaf.span.start, leaf.span.end - load.clear.end) < max(600, 0.2 * width):
            continue
        density = dict(load.densities)[leaf.zones[0].unit.name]
        weight = density / 1e9 * leaf.thickness * 9.81e-3 * (1.1 * width) ** 2 / 4
        assert load.used is not None and load.used.method == "load_triangle"
        assert load.used.total == pytest.approx(weight)
