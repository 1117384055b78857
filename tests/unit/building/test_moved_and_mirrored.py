"""A building turned, moved or mirrored is the same building."""

from __future__ import annotations

from math import cos, radians, sin
from types import SimpleNamespace
from typing import Any

import pytest

from elevgen.building.demand import lintel_demands
from elevgen.building.outline import gross_area
from elevgen.building.trace import trace

PLAN = [(0, 0), (9200, 0), (9200, 4100), (5300, 4100), (5300, 7700), (0, 7700)]


def house(make: SimpleNamespace) -> list[dict[str, Any]]:
    walls = [
        *make.ring(PLAN, base=-150),
        make.wall("P1", "partition", (3100, 150), (3100, 7500)),
        make.wall("P2", "solid", (150, 2600), (9000, 2600)),
        make.wall("X1", "single", (0, 5000), (-2600, 5700)),
    ]
    walls[0]["type"] = "wide"
    walls[0]["top"] = [[0, 2400], [3500, 4800], [9200, 2600]]
    walls[0]["openings"] = [make.opening("O1", 5352, 813, 0, 2100), make.opening("O2", 3417, 1835, 100, 2100)]
    walls[5]["openings"] = [make.opening("O3", 6100, 1300, 900, 1200)]
    walls[5]["features"] = [{"kind": "downpipe", "at": 5000}]
    return walls


def turned(walls: list[dict[str, Any]], degrees: float, dx: float, dy: float) -> list[dict[str, Any]]:
    c, s = cos(radians(degrees)), sin(radians(degrees))

    def moved(p: list[float]) -> list[float]:
        return [p[0] * c - p[1] * s + dx, p[0] * s + p[1] * c + dy]

    return [{**w, "start": moved(w["start"]), "end": moved(w["end"])} for w in walls]


@pytest.mark.parametrize(("degrees", "dx", "dy"), [(0, 123456.7, -98765.4), (37.3, 1000, 2000), (90, 0, 0), (-151, -5e6, 4e5)])
def test_turned_and_moved(make: SimpleNamespace, degrees: float, dx: float, dy: float) -> None:
    before, after = make.build(house(make)), make.build(turned(house(make), degrees, dx, dy))
    for a, b in zip(before.leaves, after.leaves, strict=True):
        assert (b.span.start, b.span.end) == pytest.approx((a.span.start, a.span.end), abs=1e-4)
        assert (a.start_end.kind, a.start_end.other, a.finish_end.kind) == (
            b.start_end.kind,
            b.start_end.other,
            b.finish_end.kind,
        )
        assert gross_area(b) == pytest.approx(gross_area(a), rel=1e-7)
    for p, q in zip(before.meetings, after.meetings, strict=True):
        assert (p.kind, p.host, p.stem) == (q.kind, q.host, q.stem)
        assert (q.host_at, q.stem_at) == pytest.approx((p.host_at, p.stem_at), abs=1e-4)
    assert [w.internal for w in before.walls] == [w.internal for w in after.walls] == [False] * 6 + [True, True, False]
    for r, t in zip(trace(before), trace(after), strict=True):
        assert (r.id, len(r.edges), r.closed) == (t.id, len(t.edges), t.closed)
        assert t.length == pytest.approx(r.length, abs=1e-3)


def mirrored(walls: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """East for west: starts and ends exchanged so that outsides stay outside."""
    image = []
    for w in walls:
        (x0, y0), (x1, y1) = w["start"], w["end"]
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        top = [[length - at, level] for at, level in reversed(w["top"])] if isinstance(w["top"], list) else w["top"]
        openings = [{**o, "at": length - o["at"] - o["width"]} for o in w.get("openings", [])]
        features = [{**f, "at": length - f["at"]} for f in w.get("features", [])]
        image.append({**w, "start": [-x1, y1], "end": [-x0, y0], "top": top, "openings": openings, "features": features})
    return image


def test_mirrored(make: SimpleNamespace) -> None:
    walls = [
        w for w in house(make) if w["id"] != "X1"
    ]  # a skew tee is measured on its right-hand face, which mirrors to its left
    before, after = make.build(walls), make.build(mirrored(walls))
    for a, b in zip(before.leaves, after.leaves, strict=True):
        length = before.wall(a.wall).length
        assert (b.span.start, b.span.end) == pytest.approx((length - a.span.end, length - a.span.start))
        for e, f in ((a.start_end, b.finish_end), (a.finish_end, b.start_end)):
            assert (e.kind, e.other, e.connection, e.through_on_even) == (f.kind, f.other, f.connection, f.through_on_even)
            assert (f.near, f.far) == pytest.approx((length - e.near, length - e.far))
        flipped = sorted((length - v.right, v.bottom, length - v.left, v.top) for v in a.voids)
        assert sorted((v.left, v.bottom, v.right, v.top) for v in b.voids) == [pytest.approx(v) for v in flipped]
        assert gross_area(b) == pytest.approx(gross_area(a))
    assert [(m.kind, m.host, m.stem) for m in before.meetings] == [(m.kind, m.host, m.stem) for m in after.meetings]
    assert [(r.closed, len(r.nodes), round(r.length, 6)) for r in trace(before)] == [
        (r.closed, len(r.nodes), round(r.length, 6)) for r in trace(after)
    ]
    for d, e in zip(lintel_demands(before, make.reader()), lintel_demands(after, make.reader()), strict=True):
        length = before.wall(d.wall).length
        assert (d.leaf, d.level, d.bearing, d.levels) == (e.leaf, e.level, e.bearing, e.levels)
        assert (e.clear.start, e.clear.end) == pytest.approx((length - d.clear.end, length - d.clear.start))


def test_the_same_spec_gives_the_same_building(make: SimpleNamespace) -> None:
    first, second = make.build(house(make)), make.build(house(make))
    assert first == second and trace(first) == trace(second)
