"""Ties under tops, at ends, steps and changes: measured on the wall."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from random_ties import designed

from elevgen.building.model import LeafEnd
from elevgen.fittings.tie_bays import changes_on
from elevgen.rules.book import RuleReader


def ties(made, reader, stands="building"):
    (found,) = designed(made, reader, stands, slip=False).fittings.ties
    return found.ties


def without(reader, *keys):
    return RuleReader(replace(reader.book, values={k: v for k, v in reader.book.values.items() if k not in keys}))


def along(found, top, deep, span):
    """The widest way along a level top without a tie within so much of it."""
    near = sorted(t.at for t in found if top - deep <= t.level < top)
    return max(b - a for a, b in pairwise([span.start, *near, span.end]))


@pytest.mark.parametrize("stands", ["parapet", "free_standing"])
@pytest.mark.parametrize("length", [1300.0, 3333.0, 9000.0])
def test_a_free_top_has_a_tie_to_every_300_within_225_quoted(yard, reader, stands, length):
    made = yard.wall(length, base=-150, top=1200)
    span = made.leaf("inner").span
    assert along(ties(made, reader, stands), 1200, 225, span) <= 300.01
    assert along(ties(made, reader), 1200, 225, span) > 300.01, "not under a roof"
    less = without(reader, "tie.free_top.horizontal")
    assert along(ties(made, less, stands), 1200, 225, span) > 300.01, "and not without the rule"


@pytest.mark.parametrize("height", range(1000, 3300, 95))
def test_a_row_within_300_of_every_top_practice(yard, reader, height):
    made = yard.wall(5000, base=0, top=float(height))
    found = ties(made, reader)
    assert along(found, height, 300, made.leaf("inner").span) <= 900.01
    assert {t.kind for t in found} == {"field"}, "the grid is laid so: no row of its own for the top"
    rows = sorted({t.level for t in found})
    assert max(b - a for a, b in pairwise([5, *rows, height])) <= 450.01


def test_the_lower_of_two_tops_has_its_row_too(yard, reader):
    made = yard.wall(9000, base=0, top=[(0, 1950), (4000, 1950), (4000, 3000), (9000, 3000)], ends=("corner", "corner"))
    found = ties(made, reader)
    low = [t.at for t in found if 1650 <= t.level < 1950 and t.at < 4000]
    assert max(b - a for a, b in pairwise([202.5, *sorted(low), 4000])) <= 900.01


@pytest.mark.parametrize("side", ["right", "left"])
def test_a_step_in_the_top_is_an_edge(yard, reader, side):
    """Within 225 mm of the step, no more than 300 up it: the end of the higher part stands in the air."""
    points = [(0, 1950), (4000, 1950), (4000, 3300), (9000, 3300)]
    if side == "left":
        points = [(9000 - at, level) for at, level in reversed(points)]
    at = 4000 if side == "right" else 5000
    found = ties(yard.wall(9000, base=0, top=points), reader)
    way = 1 if side == "right" else -1
    near = sorted(t.level for t in found if 0 < way * (t.at - at) <= 225 and t.level > 1950)
    assert max(b - a for a, b in pairwise([1950, *near, 3300])) <= 310
    assert any(t.kind == "end" for t in found)
    assert not [t for t in found if -225 <= way * (t.at - at) < 0 and t.kind == "end"], "the lower part ends at nothing"


def test_a_change_of_unit_or_thickness_in_line_is_an_edge(yard, reader):
    made = yard.wall(6000)
    outer = made.leaf("outer")
    in_line = LeafEnd("corner", 6000.0, 6000.0, other="W2/outer", connection="bonded")
    (zone,) = outer.zones
    same = replace(outer, id="W2/outer", wall="W2")
    others = {
        "the same": same,
        "thicker": replace(same, thickness=215.0),
        "of block": replace(same, zones=(replace(zone, unit=yard.block),)),
        "lower": replace(same, zones=(replace(zone, levels=replace(zone.levels, end=1000.0)),)),
    }
    found = {
        name: changes_on(replace(made.building, leaves=(*made.building.leaves, other)), outer, in_line)
        for name, other in others.items()
    }
    assert found == {"the same": False, "thicker": True, "of block": True, "lower": False}
    turning = replace(in_line, near=5897.5)
    assert not changes_on(replace(made.building, leaves=(*made.building.leaves, others["thicker"])), outer, turning)


def test_the_distances_of_practice_are_rules_a_project_may_change(yard, reader):
    from elevgen.core.sourced import Sourced

    made = yard.wall(6000, ends=("stopped", "corner"), joints=[3000])

    def nearest(clear, apart):
        values = dict(reader.book.values)
        for key, number in (("tie.edge.clear", clear), ("tie.apart", apart)):
            values[key] = Sourced(key, number, "mm", "", "", "", "practice")
        found = ties(made, RuleReader(replace(reader.book, values=values)))
        gap = made.plan.joints[0].gap
        edge = min(max(gap.start - t.at, t.at - gap.end) for t in found)
        rows = {}
        for t in found:
            rows.setdefault(t.level, []).append(t.at)
        return edge, min(b - a for row in rows.values() for a, b in pairwise(sorted(row)))

    assert nearest(20, 100)[1] >= 100
    assert nearest(20, 180)[1] >= 180
    assert nearest(120, 100)[0] >= 120
