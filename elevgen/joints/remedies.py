"""The cheapest changes that would let a rule be kept that no placement of joints can keep, found by trying.

In the order of what they cost. Reinforced beds come first: rows of steel laid with the bricks, nothing on the drawings moves.
A corner or meeting built as a joint costs a joint from top to bottom, slip ties, and somebody who says that the walls still
stand. Moving an opening changes the plan: rooms, windows in line, lintels, what was applied for.

Each is made in the spec and tried there (`trials`): it is named only if the trouble is gone and no other has come.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import chain, combinations, islice
from json import dumps
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span, at_most, subtract
from elevgen.core.measures import MM_PER_INCH, millimetres, parse_length
from elevgen.joints.audit import Broken, Remnant, joined, remnants
from elevgen.joints.candidates import Site
from elevgen.joints.hindrance import Around
from elevgen.joints.model import Remedy
from elevgen.joints.musts import Unmet
from elevgen.joints.problem import Problem
from elevgen.joints.spacings import built_zones, leaf_spacing
from elevgen.joints.survey import Surveyed, leaf_of
from elevgen.joints.trials import Trials, Trouble, trouble_of
from elevgen.joints.words import count, length
from elevgen.rules.book import RuleReader
from elevgen.spec.models import JunctionModel, OpeningModel, Spec, WallModel

ROWS = (450.0, 225.0)
"""Distances between reinforced beds the rule sets have spacings for (mm), the fewer rows first."""
STEP, A_LITTLE, FURTHEST = 25.0, 225.0, 600.0
"""Openings are moved in steps of this (mm): up to a brick's length where something else helps too, else no further than that."""
INCH_STEP = float(MM_PER_INCH)
"""The step where lengths are in feet and inches."""
MEETINGS = 8
"""Meetings of a piece that are tried as joints, each and two together."""
FEW, CONFIRMED = 12, 24
"""Moves of an opening that promise a place and are then tried in the whole: where something else helps too, and else."""


class _Case(NamedTuple):
    """A rule that was not kept, where it was found, and the leaves it is about."""

    rule: Broken | Unmet
    trouble: Trouble
    surveyed: Surveyed
    around: Around
    trials: Trials
    leaves: tuple[Leaf, ...]
    before: Spec
    piece: Problem | None

    def helps(self, after: Spec, what: tuple[str, ...]) -> bool:
        return self.trials.helps(self.before, after, what, self.trouble)

    def spans(self, leaf_id: str) -> list[Span]:
        return [span for name, span in self.trouble.stretches if name == leaf_id]


def remedies(
    figures: Figures, rule: Broken | Unmet, surveyed: Surveyed, around: Around, trials: Trials
) -> tuple[Remedy, ...] | None:
    """At most one of each kind, the cheapest first, openings moved only a little where something else helps.

    None where the joints of all the walls are given and nothing was placed.
    """
    trouble = trouble_of(rule)
    names = sorted({leaf for leaf, _ in trouble.stretches})
    if not any(around.walls[name].placing for name in names):
        return None
    leaves = tuple(surveyed.limits[name].leaf for name in names)
    before = trials.part({leaf.wall for leaf in leaves})
    case = _Case(rule, trouble, surveyed, around, trials, leaves, before, _piece(rule, surveyed))
    found = tuple(first for kind in (_reinforced(figures, case), _jointed(case)) for first in islice(kind, 1))
    return (*found, *islice(_moved(figures, case, *((A_LITTLE, FEW) if found else (FURTHEST, CONFIRMED))), 1))


def _piece(rule: Broken | Unmet, surveyed: Surveyed) -> Problem | None:
    """The piece a path is too long in, by itself."""
    if isinstance(rule, Unmet) or rule.rule != "spacing":
        return None
    edges = {edge.id: edge for edge in surveyed.problem.edges}
    faces = {face.id: face for face in surveyed.problem.faces}
    return joined([Remnant(rule.measured, rule.stretches, (), rule.limit, rule.face)], ("", 0.0), edges, faces, rule.limit)


def _reinforced(figures: Figures, case: _Case) -> Iterator[Remedy]:
    """Reinforced beds in the leaves whose spacing is too short."""
    if isinstance(case.rule, Unmet) or case.rule.rule == "panel":
        return
    reader = RuleReader(case.trials.book)
    for rows in ROWS:
        short = [leaf for leaf in case.leaves if not _allows(leaf, case, reader)]
        models = dict.fromkeys(_model_name(leaf, case) for leaf in short)
        gain = [replace(leaf, reinforced_every=rows) for leaf in short if leaf.reinforced_every != rows]
        if (
            not short
            or len(gain) < len(short)
            or _every(gain, rows) == 0
            or not all(_allows(leaf, case, reader) for leaf in gain)
        ):
            continue
        changed = {name: case.before.leaves[name].model_copy(update={"reinforced_every": rows}) for name in models}
        what = tuple(f"leaves.{name}.reinforced_every = {rows:g}" for name in models)
        if case.helps(case.before.model_copy(update={"leaves": {**case.before.leaves, **changed}}), what):
            allowed = min(_spacing(leaf, case, reader) for leaf in gain)
            beds = f"{_beds(_every(gain, rows))} (at most {figures.measure(rows, 3)} apart)"
            words = (
                f"reinforce {beds} of every leaf built as {_listed(models)}: joints may then be {length(figures, allowed)} apart"
            )
            yield Remedy("reinforced beds", words, what)


def _allows(leaf: Leaf, case: _Case, reader: RuleReader) -> bool:
    """Whether the spacing of a leaf allows what was measured."""
    assert isinstance(case.rule, Broken)
    part = case.rule.limit / case.surveyed.spacing_of(case.rule.face).number if case.rule.rule == "corner" else 1.0
    return at_most(case.rule.measured, _spacing(leaf, case, reader) * part)


def _spacing(leaf: Leaf, case: _Case, reader: RuleReader) -> float:
    found = leaf_spacing(leaf, case.around.walls[leaf.id], reader)
    return 0.0 if found is None else found.number


def _model_name(leaf: Leaf, case: _Case) -> str:
    """The name by which the spec has the leaf."""
    kind = case.before.wall_types[case.around.walls[leaf.id].type]
    return kind.outer if leaf.side == "outer" or kind.inner is None else kind.inner


def _every(leaves: Sequence[Leaf], rows: float) -> int:
    """Every how many courses a bed is reinforced that beds come no further apart; 0 where a course is higher than that."""
    return int((rows + TOLERANCE) // max(zone.unit.gauge for leaf in leaves for zone in built_zones(leaf)))


def _beds(every: int) -> str:
    """`every second bed joint`."""
    words = {1: "every bed joint", 2: "every second bed joint", 3: "every third bed joint"}
    return words.get(every, f"one bed joint in {count(every)}")


def _jointed(case: _Case) -> Iterator[Remedy]:
    """One meeting of the piece built as a joint, or two."""
    if not isinstance(case.rule, Broken) or case.rule.rule == "panel":
        return
    junctions = list(dict.fromkeys(islice(_meetings(case), MEETINGS)))
    for made in chain(combinations(junctions, 1), combinations(junctions, 2)):
        what = tuple(_written(junction) for junction, _ in made)
        if case.helps(case.before.model_copy(update={"junctions": (*case.before.junctions, *(j for j, _ in made))}), what):
            places = [f"the {kind} of {one} and {other}" for (one, other), _, kind in ((j.walls, j, k) for j, k in made)]
            leaf = f" in the {made[0][0].leaf} leaf" if made[0][0].leaf else ""
            words = f"make {_listed(places)}{leaf} {'a movement joint' if len(made) == 1 else 'movement joints'}"
            yield Remedy("jointed meeting", words, what)


def _meetings(case: _Case) -> Iterator[tuple[JunctionModel, str]]:
    """The meetings inside the piece, or the corner a joint is too far from, as junctions that are joints; what each is called."""
    whole = case.piece is not None
    for m in case.trials.building.meetings:
        met = _reaches(case, m.host, m.host_at), _reaches(case, m.stem, m.stem_at)
        if m.continuous and (all(met) if whole else any(met) and m.kind == "corner"):
            host, stem = (case.trials.building.leaf(name) for name in (m.host, m.stem))
            walls = case.around.walls[host.id], case.around.walls[stem.id]
            side = stem.side if len(walls[1].leaves) > 1 else host.side if len(walls[0].leaves) > 1 else None
            kind = "corner" if m.kind == "corner" else "meeting"
            yield JunctionModel(walls=(walls[0].id, walls[1].id), leaf=side, connection="jointed"), kind


def _reaches(case: _Case, leaf_id: str, at: float) -> bool:
    """Whether the piece reaches a place of a leaf; at an end, where a meeting is told by either face, to within a thickness."""
    leaf = next((one for one in case.leaves if one.id == leaf_id), None)
    return leaf is not None and any(span.grown(leaf.thickness).contains(at) for span in case.spans(leaf_id))


def _written(junction: JunctionModel) -> str:
    leaf = f" {junction.leaf}" if junction.leaf else ""
    return f"junctions + {junction.walls[0]} {junction.walls[1]}{leaf} = jointed"


def _moved(figures: Figures, case: _Case, furthest: float, tries: int) -> Iterator[Remedy]:
    """The opening, or openings one over the other, that have to move least; no further than so much, in so many tries."""
    walls = [w for w in case.before.walls if w.placing and any(leaf.wall == w.id for leaf in case.leaves)]
    columns = [(wall, column) for wall in walls for column in _columns(wall)]
    confirmed = 0
    step = INCH_STEP if figures.in_feet else STEP
    for n in range(1, int(furthest / step) + 1):
        for wall, column in columns:
            for by in (-n * step, n * step):
                if confirmed < tries and _clear_of_others(wall, column, by) and _promises(case, wall.id, column, by):
                    confirmed += 1
                    move = _move(figures, column, by)
                    if case.helps(_with_moved(case.before, wall, column, by), move.what):
                        yield move


def _columns(wall: WallModel) -> list[tuple[OpeningModel, ...]]:
    """Openings one over the other, between the same two sides, which move together."""
    found: dict[tuple[float, float], list[OpeningModel]] = {}
    for o in wall.openings:
        found.setdefault((o.at, o.width), []).append(o)
    return [tuple(found[key]) for key in sorted(found)]


def _clear_of_others(wall: WallModel, column: Sequence[OpeningModel], by: float) -> bool:
    """Whether openings that move come to lie in no other."""
    others = [o for o in wall.openings if o not in column]
    return not any(
        Span(m.at + by, m.at + by + m.width).overlaps(Span(o.at, o.at + o.width))
        and Span(m.sill, m.sill + m.height).overlaps(Span(o.sill, o.sill + o.height))
        for m in column
        for o in others
    )


def _promises(case: _Case, wall_id: str, column: Sequence[OpeningModel], by: float) -> bool:
    """Whether places for joints appear that mend what is wrong, with the openings and their lintels that far along."""
    moving = {o.id for o in column}
    places = []
    for leaf in case.leaves:
        if leaf.wall == wall_id:
            free = subtract(leaf.span, _shifted(case.surveyed.sites[leaf.id], case, moving, by))
            found = ((span, f.common(span.grown(-2 * TOLERANCE))) for span in case.spans(leaf.id) for f in free)
            places += [(leaf.id, span, place) for span, place in found if place is not None]
    return bool(places) and _mend(case, places)


def _shifted(site: Site, case: _Case, moving: set[str], by: float) -> list[Span]:
    """Where no joint may be centred once the openings have moved; those they are one group with are then taken singly."""
    leaf, half = site.leaf, site.width / 2
    wall = case.around.walls[leaf.id]
    groups = [group for group in wall.groups if not moving.isdisjoint(group.openings)]
    members = {name for group in groups for name in group.openings}
    lintels = [d for d in case.around.demands.get(leaf.id, ()) if not members.isdisjoint(d.openings)]
    voids = [v.along for v in leaf.voids for g in groups if g.clear.left <= v.left and v.right <= g.clear.right]
    gone = {span.grown(half) for span in (*voids, *(d.keep_out for d in lintels))}
    come, shortest = [], _shortest_bearing(case)
    for o in wall.openings:
        if o.id in members:
            asked = ((d.bearing or 0.0, len(d.openings)) for d in lintels if o.id in d.openings)
            bearing = max((own if openings == 1 else min(own, shortest) for own, openings in asked), default=0.0)
            come.append(o.rect.along.shifted(by if o.id in moving else 0.0).grown(bearing + half))
    return [*(span for span in site.blocked if span not in gone), *come]


def _shortest_bearing(case: _Case) -> float:
    """The shortest bearing of the rule set: what openings that part may come to need (mm)."""
    found = (case.trials.book.values.get(f"lintel.bearing.short.{kind}") for kind in ("simple", "tray"))
    return min((value.number for value in found if value is not None), default=0.0)


def _mend(case: _Case, places: Sequence[tuple[str, Span, Span]]) -> bool:
    """Whether joints in free places (leaf, stretch, place in it) mend what is wrong."""
    rule = case.rule
    if isinstance(rule, Unmet):
        return True
    if case.piece is None:
        return any(at_most(min(place.start - span.start, span.end - place.end), rule.limit) for _, span, place in places)
    named = {(leaf_of(e.id.rsplit("@", 1)[0]), e.span): e.id for e in case.piece.edges}
    free = [{(named[leaf, span], place.start), (named[leaf, span], place.end)} for leaf, span, place in places]
    cuts = sorted(set().union(*free))
    return all(piece.short_enough or set(piece.joints) in free for piece in remnants(case.piece, cuts))


def _with_moved(spec: Spec, wall: WallModel, column: Sequence[OpeningModel], by: float) -> Spec:
    openings = tuple(o.model_copy(update={"at": o.at + by}) if o in column else o for o in wall.openings)
    moved = wall.model_copy(update={"openings": openings})
    return spec.model_copy(update={"walls": tuple(moved if w is wall else w for w in spec.walls)})


def _move(figures: Figures, column: Sequence[OpeningModel], by: float) -> Remedy:
    names = _listed([f"{o.kind} {o.id}" for o in column])
    words = f"move {names} {figures.measure(abs(by))} to the {'right' if by > 0 else 'left'}, seen from outside"
    return Remedy("moved opening", words, tuple(f"openings.{o.id}.at = {_as_given(figures, o.at + by)}" for o in column))


def _as_given(figures: Figures, value: float) -> str:
    """A length as a spec may have it: in feet and inches where those are exact, else in millimetres."""
    text = figures.length(value)
    exact = figures.in_feet and abs(parse_length(text) - value) <= TOLERANCE
    return dumps(text) if exact else millimetres(value, 3)


def _listed(names: Iterable[str]) -> str:
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last
