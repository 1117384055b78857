"""No panel is too long for its height."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from elevgen.building.model import Leaf
from elevgen.checks._finding import at_leaf, found
from elevgen.checks._masonry import face_area, full_height, joints_within
from elevgen.checks._rules import materials, rule, strictest, uncovered
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.result import Design, Finding, Severity

CODE = "panel-ratio"
TITLE = "Length of a panel to its height"
RATIONALE = (
    "A long low panel is held along its foot while its upper edge moves, so it cracks in the middle. "
    "Beyond the limit bed-joint reinforcement may serve instead of another joint, unless the limit already counts on it."
)
LIMIT, STRICTER = "movement_joint.panel_ratio", "movement_joint.panel_ratio.warn"
STEEL = "movement_joint.spacing.steel"


def check(design: Design) -> Iterator[Finding]:
    """Each straight panel between joints, corners or ends: over the limit fail, over a stricter document's limit warn.

    Walls inside the building only warn. The height is the panel's mean height.
    """
    for leaf in design.building.leaves:
        limit = strictest(design, leaf, LIMIT)
        if limit.missing:
            yield uncovered(design, at_leaf(leaf), *limit.missing)
        if limit.value is not None:
            for panel in _panels(design, leaf):
                yield _judged(design, leaf, panel)


def _panels(design: Design, leaf: Leaf) -> list[Span]:
    cuts = [j.at for j in joints_within(design)[leaf.id] if full_height(leaf, j) and leaf.span.contains(j.at)]
    edges = sorted([leaf.span.start, *cuts, *(at for gap in leaf.breaks for at in (gap.start, gap.end)), leaf.span.end])
    return [Span(a, b) for a, b in pairwise(edges) if b - a > TOLERANCE and not any(g.contains((a + b) / 2) for g in leaf.breaks)]


def _judged(design: Design, leaf: Leaf, panel: Span) -> Finding:
    limit = strictest(design, leaf, LIMIT).value
    assert limit is not None
    stricter = strictest(design, leaf, STRICTER).value
    height = face_area(leaf, panel) / panel.length
    ratio = panel.length / height
    place = at_leaf(leaf).part(f"{design.figures.length(panel.start)} to {design.figures.length(panel.end)}")
    text = f"panel {design.figures.run(panel.length)} long and {design.figures.run(height)} high, {ratio:.2f} to 1"
    if ratio > limit.number + 1e-6:
        inside = design.building.wall(leaf.wall).internal
        text += f", over {limit.number:g} to 1: put a movement joint into it{_or_steel(design, leaf)}"
        severity: Severity = "warn" if inside else "fail"
        return found(severity, place, text, measured=ratio, most=limit.number, unit="ratio", source=limit, also=(stricter,))
    if stricter is not None and ratio > stricter.number + 1e-6:
        text += f", over the {stricter.number:g} to 1 that another document asks"
        return found("warn", place, text, measured=ratio, most=stricter.number, unit="ratio", source=stricter, also=(limit,))
    return found("pass", place, text, measured=ratio, most=limit.number, unit="ratio", source=limit, also=(stricter,))


def _or_steel(design: Design, leaf: Leaf) -> str:
    """What serves instead of a joint; nothing where the spacing asks for steel as it is, so that steel is no cure."""
    asked = any(rule(design, f"{STEEL}.{material}") is not None for material in materials(leaf))
    return "" if asked else ", or have its beds reinforced"
