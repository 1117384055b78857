"""Units, mortar, movement joints, openings, strips, and lintels in the place of units make up the whole face."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from elevgen.building.model import Leaf
from elevgen.checks._finding import at_leaf, found
from elevgen.checks._masonry import joints_by_leaf
from elevgen.core.figures import Figures
from elevgen.core.geometry import Point, Rect, Span, cut_out
from elevgen.coursing.model import LeafCoursing, Pattern
from elevgen.result import Design, Finding, Severity

CODE = "area-balance"
TITLE = "The face shared out without rest"
RATIONALE = "If the parts of a face do not make up the whole, something is drawn, counted or ordered twice, or not at all."
RELATIVE = 1e-6


def check(design: Design) -> Iterator[Finding]:
    """The face re-measured from its outline against the units as placed, the mortar, the lintels that take the place of units,
    and the holes cut out of the outline."""
    patterns = {pattern.id: pattern for pattern in design.coursing.patterns}
    joints = joints_by_leaf(design)
    for laid in design.coursing.leaves:
        leaf = design.building.leaf(laid.leaf)
        outline = _outline(leaf)
        crossed = sum(_area(_clipped(outline, void)) for void in leaf.crossings)
        holes = sum(_area(_clipped(outline, void)) for void in leaf.voids if void not in leaf.crossings)
        gaps = [(j.gap, j.levels) for j in joints[leaf.id]]
        jointed = sum(_gap_area(leaf, outline, gap, levels) for gap, levels in gaps)
        bodies = [body for x in design.fittings.lintels if x.leaf == leaf.id and (body := x.body)]
        open_ = [*leaf.voids, *(Rect(gap.start, up.start, gap.end, up.end) for gap, up in gaps)]
        lintels = sum(_area(_clipped(outline, part)) for part in cut_out(bodies, open_))
        gross = _area(outline) - crossed
        shared = _units(laid, patterns) + laid.mortar_area + jointed + lintels + holes
        yield _judged(design.figures, leaf, gross, shared)


def _judged(figures: Figures, leaf: Leaf, gross: float, shared: float) -> Finding:
    balanced = abs(shared - gross) <= RELATIVE * gross
    text = f"{figures.amount(shared / 1e6, 'm2', 3).split()[0]} of {figures.amount(gross / 1e6, 'm2', 3)} accounted for"
    severity: Severity = "pass" if balanced else "fail"
    return found(severity, at_leaf(leaf), text, measured=shared / 1e6, exactly=gross / 1e6, unit="m2")


def _units(laid: LeafCoursing, patterns: dict[str, Pattern]) -> float:
    """Face of the units as placed, cut ones under a slope included."""
    uses: dict[str, int] = {}
    for placement in laid.placements:
        uses[placement.pattern] = uses.get(placement.pattern, 0) + 1
    upright = sum(n * patterns[p].height * sum(piece.length for piece in patterns[p].pieces) for p, n in uses.items())
    return upright + sum(_area(rake.outline) for rake in laid.rakes)


def _gap_area(leaf: Leaf, outline: tuple[Point, ...], gap: Span, levels: Span) -> float:
    """What a joint takes of the face: its gap inside the outline, the voids it may cross not counted twice."""
    whole = _area(_clipped(outline, Rect(gap.start, levels.start, gap.end, levels.end)))
    crossed = [_common(void, gap, levels) for void in leaf.voids]
    return whole - sum(_area(_clipped(outline, part)) for part in crossed if part)


def _common(void: Rect, gap: Span, levels: Span) -> Rect | None:
    along, up = void.along.common(gap), void.levels.common(levels)
    return Rect(along.start, up.start, along.end, up.end) if along and up else None


def _outline(leaf: Leaf) -> tuple[Point, ...]:
    return (*leaf.base.clipped(leaf.span), *reversed(leaf.top.clipped(leaf.span)))


def _area(points: tuple[Point, ...]) -> float:
    """Area of a polygon given anticlockwise, by its first corner's triangles."""
    if len(points) < 3:
        return 0.0
    x, y = points[0]
    return sum((a[0] - x) * (b[1] - y) - (b[0] - x) * (a[1] - y) for a, b in pairwise(points[1:])) / 2


def _clipped(points: tuple[Point, ...], rect: Rect) -> tuple[Point, ...]:
    """The polygon inside a rectangle, cut by one side after the other."""
    for axis, sign, limit in ((0, 1.0, rect.left), (0, -1.0, rect.right), (1, 1.0, rect.bottom), (1, -1.0, rect.top)):
        points = _cut(points, axis, sign, limit)
    return points


def _cut(points: tuple[Point, ...], axis: int, sign: float, limit: float) -> tuple[Point, ...]:
    left: list[Point] = []
    for a, b in zip(points, (*points[1:], *points[:1]), strict=True):
        in_a, in_b = sign * (a[axis] - limit), sign * (b[axis] - limit)
        if in_a >= 0:
            left.append(a)
        if in_a * in_b < 0:
            t = in_a / (in_a - in_b)
            left.append((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])))
    return tuple(left)
