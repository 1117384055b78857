"""BS 5977-1:1981, load over openings: the load triangle, the zone round it and how far they are good for (B5977-01 to 05).

Bibliography: BS 5977-1:1981 clauses 4.2 and 5e and scope, as quoted on an engineers' forum, on a trade web page and by a reader
of BRE Good Building Guide 10 (quoted); not seen. Heights by the span are worked out from the angles (derived).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.building.given import Load
from elevgen.core.geometry import Span
from elevgen.fittings.beam import Line, total
from elevgen.fittings.load_model import LintelLoad
from elevgen.fittings.load_rules import SideRules
from elevgen.fittings.load_triangle import Shares, load_on_base, triangle_over
from elevgen.rules.book import RuleBook
from elevgen.spec.models import Spec
from elevgen.writers._json_lintel_loads import load_of

DOCUMENT = "BS 5977-1:1981"

Carried = Callable[..., None]


def rule(uk: RuleBook, name: str) -> float:
    return uk.get(f"lintel.load.{name}").number


def wall_with(*openings: dict[str, Any], length: float = 14000, top: float = 6000) -> Any:
    """A wall of brick without movement joints, and its design."""
    wall = {"id": "W1", "type": "t", "start": [0, 0], "end": [length, 0], "base": 0, "top": top, "joints": []}
    named = [{"id": f"O{n}"} | opening for n, opening in enumerate(openings, 1)]
    spec = {
        "spec": 1,
        "leaves": {"brick": {"zones": [{"unit": "brick_65"}]}},
        "wall_types": {"t": {"outer": "brick"}},
        "walls": [wall | {"openings": named}],
    }
    return pipeline.design(Spec.model_validate(spec), "drawn")


def first(design: Any) -> LintelLoad:
    found: LintelLoad = design.fittings.lintel_loads[0]
    return found


def test_4_2_clear_span_0_8_m_triangle_0_44_and_zone_0_762_m_quoted(published: Any) -> None:
    """B5977-01, read back from the result file of a wall drawn with an opening of 0.8 m."""
    design = wall_with({"at": 4000, "width": 800, "sill": 900, "height": 1200})
    record = load_of(design, design.fittings.lintels[0])
    assert record is not None and record["method"] == "load_triangle"
    shown = record["triangle"]
    for what, printed, ours, within in (("triangle", 0.44, "height", 0.005), ("zone", 0.762, "zone_height", 0.0005)):
        given = f"opening of 0.8 m, height of the {what}"
        published("B5977-01", given, printed, shown[ours] / 1000, unit="m", within=within, clause="4.2", status="quoted")
    assert (shown["to"] - shown["from"]) / 1000 == pytest.approx(0.88)


@pytest.mark.parametrize("span", [800.0, 1000.0, 2345.0, 4500.0])
def test_4_2_base_and_heights_by_the_span_derived(published: Any, uk: RuleBook, span: float) -> None:
    """B5977-02: 1.1 L, 0.55 L, 0.953 L (0.9526)."""
    over = triangle_over(Span(0, span), 0.0, rule(uk, "triangle.base"), rule(uk, "triangle.angle"), rule(uk, "zone.angle"))
    assert over.base.length == pytest.approx(1.1 * span)
    assert over.height == pytest.approx(0.55 * span, abs=0.0005 * span)
    assert over.zone_height == pytest.approx(0.9526 * span, abs=0.0005 * span)
    for what, printed, ours in (
        ("base", 1.1, over.base.length),
        ("triangle", 0.55, over.height),
        ("zone", 0.953, over.zone_height),
    ):
        given = f"{what} over a span of {span:g}, by the span"
        published("B5977-02", given, printed, ours / span, within=0.0005, clause="4.2", status="derived")


def test_4_2_whole_in_the_triangle_at_45_degrees_half_in_the_zone_quoted(uk: RuleBook) -> None:
    """B5977-03."""
    shares = Shares(rule(uk, "triangle.share"), rule(uk, "zone.share"), rule(uk, "spread.angle"))
    over = triangle_over(Span(0, 1000), 0.0, rule(uk, "triangle.base"), rule(uk, "triangle.angle"), rule(uk, "zone.angle"))
    (inside,) = load_on_base(Load(None, 250, 500, None, 8.0), over, shares)
    assert isinstance(inside, Line)
    assert (inside.start, inside.end, inside.total) == pytest.approx((250, 750, 8))
    assert total(load_on_base(Load(None, 700, 500, None, 8.0), over, shares)) == pytest.approx(4)
    assert total(load_on_base(Load(None, 960, 500, None, 8.0), over, shares)) == 0


def test_4_2_of_masonry_only_that_in_the_triangle_quoted(uk: RuleBook) -> None:
    """B5977-03: a wall twice as high weighs no more on its lintel."""
    opening = {"at": 4000, "width": 1010, "sill": 900, "height": 1200}
    low, high = (first(wall_with(opening, top=top)).used for top in (2700, 6000))
    assert rule(uk, "zone.masonry") == 0
    assert low is not None and high is not None and low.masonry == pytest.approx(high.masonry)
    assert low.method == high.method == "load_triangle"


@pytest.mark.parametrize(
    ("span", "storeys", "holds"),
    [(4500, 1, True), (4505, 1, False), (3600, 2, True), (3605, 2, False), (3600, 3, True), (3600, 4, False)],
)
def test_scope_4_5_m_in_one_storey_3_6_m_in_two_or_three_quoted(published: Any, span: float, storeys: int, holds: bool) -> None:
    """B5977-04."""
    upstairs = [{"at": 11000, "width": 810, "sill": 900 + 2700 * n, "height": 1200} for n in range(1, storeys)]
    load = first(wall_with({"at": 3000, "width": span, "sill": 0, "height": 2100}, *upstairs, top=5000 + 2700 * storeys))
    assert load.storeys == storeys
    published(
        "B5977-04",
        f"span {span} mm, storeys {storeys}: holds",
        holds,
        load.by("load_triangle") is not None,
        clause="scope",
        status="quoted",
    )
    assert holds or {cause.kind for cause in load.why_not("load_triangle")} <= {"span", "storeys"}


@pytest.mark.parametrize(("span", "beside"), [(2000, 600), (3000, 600), (4000, 800)])
def test_5e_masonry_beside_the_opening_quoted_and_derived(published: Any, uk: RuleBook, span: float, beside: float) -> None:
    """B5977-05: the greater of 600 mm and a fifth of the clear span."""
    ours = SideRules(rule(uk, "side.min"), rule(uk, "side.fraction")).needed(span)
    published(
        "B5977-05",
        f"span {span} mm, masonry beside",
        beside,
        ours,
        unit="mm",
        clause="5e",
        status="derived" if span == 4000 else "quoted",
    )
    for at, holds in ((beside, True), (beside - 5, False)):
        load = first(wall_with({"at": at, "width": span, "sill": 0, "height": 2100}))
        assert (load.by("load_triangle") is not None) is holds


def test_scope_no_opening_in_the_triangle_quoted() -> None:
    under = {"at": 4000, "width": 2000, "sill": 0, "height": 2100}
    for sill, holds in ((3195, False), (3205, True)):
        over = {"at": 4600, "width": 800, "sill": sill, "height": 900}
        assert (first(wall_with(under, over)).by("load_triangle") is not None) is holds


CARRIED = {
    "triangle.base": 1.1,
    "triangle.angle": 45,
    "triangle.share": 1,
    "zone.angle": 60,
    "zone.share": 0.5,
    "zone.masonry": 0,
    "spread.angle": 45,
    "span.one_storey": 4500,
    "span.more_storeys": 3600,
    "storeys.max": 3,
    "side.min": 600,
    "side.fraction": 0.2,
}


@pytest.mark.parametrize("key", sorted(CARRIED))
def test_the_rule_set_carries_them_as_quoted(carried: Carried, key: str) -> None:
    carried("BS 5977-1", f"lintel.load.{key}", CARRIED[key], "quoted")
