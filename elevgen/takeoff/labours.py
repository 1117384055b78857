"""Labours: fair returns at stopped ends, cutting by the metre, bonding ends of walls into others, points to set out.

Whether a rate for walling has them in it is for the rules of measurement and the estimator to say; here is how much there is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from math import fsum, hypot

from elevgen.building.model import Building, Leaf, LeafEnd, Meeting, Profile
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span, cross, direction, subtract
from elevgen.core.measures import METRE
from elevgen.coursing.model import LeafCoursing, Pattern, Placement
from elevgen.result import Design
from elevgen.takeoff.items import Measured, counted, grouped, size
from elevgen.takeoff.laid import Place, Site
from elevgen.takeoff.model import Part
from elevgen.takeoff.places import Grid, shared_out
from elevgen.takeoff.reveals import in_sight

MARKED: Mapping[str, str] = {
    "end": "ends",
    "reveal": "reveals",
    "joint": "joints",
    "side of a wall met": "sides of walls met",
    "step or turn": "steps and turns",
}
"""What is set out along a leaf, one and many."""
SAME_PLACE = 0.05
"""Places closer than this (mm) are set out as one, as on the sheets."""


def labour_items(design: Design, site: Site) -> Iterator[Measured]:
    """Every labour of every leaf, in leaf order."""
    patterns = {pattern.id: pattern for pattern in design.coursing.patterns}
    for leaf in design.building.leaves:
        grid, laid = site.on[leaf.id], design.coursing.of(leaf.id)
        yield from _stopped_ends(design.figures, leaf, grid)
        yield from _raking(design.figures, leaf, laid, grid)
        yield from _level_cutting(design.figures, leaf, laid, patterns, grid)
        yield from _upright_cutting(design, leaf, laid, patterns, grid)
        yield from _bonding(design.figures, design.building, leaf, grid)
        yield _setting_out(design, leaf, grid)


def _stopped_ends(figures: Figures, leaf: Leaf, grid: Grid) -> Iterator[Measured]:
    if not in_sight(leaf):
        return
    ends = [(end, at, _masonry_at(leaf, at)) for end, at, stops in _ends(leaf) if stops.kind == "stopped"]
    parts = [part for _, at, spans in ends for span in spans for part in grid.upright_at(at, span, span.length / METRE)]
    if parts:
        yield Measured(
            code=f"FAIR-RETURN-M/END/{size(leaf.thickness)}",
            item=f"Fair return at stopped ends, leaf {figures.measure(leaf.thickness)} thick, face in sight",
            unit="m",
            net=fsum(part.net for part in parts),
            where=leaf.id,
            derivation=", ".join(f"{end} {figures.run(fsum(s.length for s in spans))}" for end, _, spans in ends),
            waste=None,
            parts=tuple(parts),
        )


def _ends(leaf: Leaf) -> tuple[tuple[str, float, LeafEnd], ...]:
    return ("start", leaf.span.start, leaf.start_end), ("end", leaf.span.end, leaf.finish_end)


def _masonry_at(leaf: Leaf, end: float) -> tuple[Span, ...]:
    """The levels over which a leaf has masonry at its start or end."""
    inside = end + 2 * TOLERANCE if end == leaf.span.start else end - 2 * TOLERANCE
    base, top = (p.level_right_of(end) if end == leaf.span.start else p.level_left_of(end) for p in (leaf.base, leaf.top))
    return subtract(Span(base, top), [void.levels for void in leaf.voids if void.left < inside < void.right])


def _cutting(figures: Figures, leaf: Leaf, kind: str, words: str, derivation: str, parts: Iterable[Part]) -> Measured:
    found = tuple(parts)
    how, said = ("FAIR", "Fair") if in_sight(leaf) else ("ROUGH", "Rough")
    return Measured(
        code=f"CUT-M/{how}/{kind}/{size(leaf.thickness)}",
        item=f"{said} {words}, leaf {figures.measure(leaf.thickness)} thick",
        unit="m",
        net=fsum(part.net for part in found),
        where=leaf.id,
        derivation=derivation,
        waste=None,
        parts=found,
    )


def _raking(figures: Figures, leaf: Leaf, laid: LeafCoursing, grid: Grid) -> Iterator[Measured]:
    """Along the slopes that units are cut to."""
    if not laid.rakes:
        return
    slopes = [length for profile in (leaf.top, leaf.base) for length in _slopes(leaf, profile)]
    level = {course.number: course.level for course in laid.courses}
    weights: dict[Place, float] = {}
    for rake in laid.rakes:
        along = [point[0] for point in rake.outline]
        place = grid.panel_at((min(along) + max(along)) / 2), grid.lift_at(level[rake.course])
        weights[place] = weights.get(place, 0.0) + max(along) - min(along)
    if slopes:
        said = (
            f"{counted(len(slopes), 'slope')}, measured along it"
            if len(slopes) == 1
            else f"{len(slopes)} slopes, measured along them"
        )
        yield _cutting(figures, leaf, "RAKING", "raking cutting at slopes", said, shared_out(weights, fsum(slopes) / METRE))


def _slopes(leaf: Leaf, profile: Profile) -> Iterator[float]:
    """Lengths of a profile's slopes, breaks in the leaf left out."""
    for (x0, y0), (x1, y1) in pairwise(profile.clipped(leaf.span)):
        if x1 - x0 > TOLERANCE and abs(y1 - y0) > TOLERANCE:
            there = fsum(part.length for part in subtract(Span(x0, x1), leaf.breaks))
            if there:
                yield hypot(x1 - x0, y1 - y0) * there / (x1 - x0)


def _level_cutting(
    figures: Figures, leaf: Leaf, laid: LeafCoursing, patterns: Mapping[str, Pattern], grid: Grid
) -> Iterator[Measured]:
    """Along the courses whose units are cut in height, because a level lands on no course."""
    split = [placed for placed in laid.placements if patterns[placed.pattern].split]
    parts = [
        part for placed in split for part in grid.level_stretch(placed.span, placed.level, _cut_length(placed, patterns) / METRE)
    ]
    if split:
        courses = sorted({placed.course for placed in split})
        said = f"units cut in height in {'course' if len(courses) == 1 else 'courses'} {', '.join(str(n) for n in courses)}"
        what = [f"{misfit.what} lands on no course" for misfit in laid.misfits if misfit.cut_to is not None]
        yield _cutting(figures, leaf, "LEVEL", "cutting along level courses", "; ".join((said, *dict.fromkeys(what))), parts)


def _cut_length(placed: Placement, patterns: Mapping[str, Pattern]) -> float:
    return fsum(piece.length for piece in patterns[placed.pattern].pieces if piece.kind != "return")


def _upright_cutting(
    design: Design, leaf: Leaf, laid: LeafCoursing, patterns: Mapping[str, Pattern], grid: Grid
) -> Iterator[Measured]:
    """Up the courses whose last unit is cut against the face of a wall the leaf abuts."""
    gaps = [joint.gap for joint in design.plan.on_leaf(leaf.id)]
    parts: list[Part] = []
    for end, at, stops in _ends(leaf):
        if stops.kind != "abutting":
            continue
        gap = next((gap for gap in gaps if gap.contains(at)), Span(at, at))
        edge, index = (gap.end, 0) if end == "start" else (gap.start, -1)
        for placed in laid.placements:
            pattern = patterns[placed.pattern]
            reached = placed.span.start if end == "start" else placed.span.end
            if abs(reached - edge) <= 1.0 and pattern.pieces[index].kind == "cut":
                levels = Span(placed.level, placed.level + pattern.height)
                parts += grid.upright_at(edge, levels, pattern.height / METRE)
    if parts:
        said = "courses whose last unit is cut against the wall it meets"
        yield _cutting(design.figures, leaf, "UPRIGHT", "cutting against another wall", said, parts)


def _bonding(figures: Figures, building: Building, leaf: Leaf, grid: Grid) -> Iterator[Measured]:
    """Ends of this leaf toothed into another wall."""
    bonded = [(met, span) for met in _tees(building, leaf) if (span := _met_over(building, met)) is not None]
    if bonded:
        yield Measured(
            code=f"BOND-END-M/{size(leaf.thickness)}",
            item=f"Bonding end of a leaf {figures.measure(leaf.thickness)} thick into another wall",
            unit="m",
            net=fsum(span.length for _, span in bonded) / METRE,
            where=leaf.id,
            derivation=", ".join(f"into {met.host} {figures.run(span.length)}" for met, span in bonded),
            waste=None,
            parts=tuple(part for met, span in bonded for part in grid.upright_at(met.stem_at, span, span.length / METRE)),
        )


def _tees(building: Building, leaf: Leaf) -> Iterator[Meeting]:
    yield from (m for m in building.meetings if m.kind == "tee" and m.stem == leaf.id and m.connection == "bonded")


def _met_over(building: Building, met: Meeting) -> Span | None:
    """The levels over which two leaves that meet both have masonry, but for their openings."""
    host, stem = building.leaf(met.host), building.leaf(met.stem)
    bottom = max(host.base.level_left_of(met.host_at), stem.base.level_left_of(met.stem_at))
    top = min(host.top.level_left_of(met.host_at), stem.top.level_left_of(met.stem_at))
    return Span(bottom, top) if top - bottom > TOLERANCE else None


def _setting_out(design: Design, leaf: Leaf, grid: Grid) -> Measured:
    """Every place along a leaf that is marked before it is laid, each once, as the running figures of its sheet."""
    named = [("end", at) for at in (leaf.span.start, leaf.span.end)]
    wall = design.building.wall(leaf.wall)
    named += [("reveal", at) for group in wall.groups for at in (group.clear.left, group.clear.right)]
    named += [("side of a wall met", at) for at in _met(design.building, leaf)]
    named += [("step or turn", at) for profile in (leaf.base, leaf.top) for at, _ in profile.turns(leaf.span)]
    named += [("joint", joint.at) for joint in design.plan.on_leaf(leaf.id)]
    found: list[tuple[str, float]] = []
    for name, at in sorted(named, key=lambda pair: (pair[1], pair[0] != "joint")):
        if leaf.span.contains(at) and (name == "joint" or not found or at - found[-1][1] >= SAME_PLACE):
            found.append((name, at))
    of = grouped(found, lambda pair: pair[0])
    return Measured(
        code="SET-OUT-NR",
        item="Setting-out point along a leaf",
        unit="nr",
        net=len(found),
        where=leaf.id,
        derivation=", ".join(counted(len(of[kind]), kind, many) for kind, many in MARKED.items() if kind in of),
        waste=None,
        parts=tuple(Part(grid.panel_at(at), grid.lifts[0][0], 1) for _, at in found),
    )


def _met(building: Building, leaf: Leaf) -> Iterator[float]:
    """Both sides of every wall that stands against a leaf or runs through it."""
    for met in building.meetings:
        if met.kind == "corner":
            continue
        if met.host == leaf.id and _met_over(building, met) is not None:
            half = building.leaf(met.stem).thickness / _square(building, met) / 2
            yield from (met.host_at - half, met.host_at + half)
        if met.kind == "cross" and met.stem == leaf.id:
            yield from (at for gap in leaf.crossings if gap.along.contains(met.stem_at) for at in (gap.left, gap.right))


def _square(building: Building, met: Meeting) -> float:
    """1 where two walls meet at right angles, less where the meeting is longer than the wall is thick."""
    one, other = (building.wall(building.leaf(leaf).wall) for leaf in (met.host, met.stem))
    return abs(cross(direction(one.start, one.end), direction(other.start, other.end)))
