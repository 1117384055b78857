"""What is to be drawn of one leaf, gathered once: its joints, reinforcement, lintels, ties, findings."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple, TypeVar

from elevgen.bonds import load_bond
from elevgen.building.model import Leaf, Opening, OpeningGroup, Wall
from elevgen.core.figures import Figures, Metric
from elevgen.core.geometry import Rect, Span
from elevgen.coursing.model import CutPiece, LeafCoursing, Pattern, SlopeCut, UnitMass
from elevgen.drawing.listing import number_rows, numbers, varying
from elevgen.drawing.met_walls import MetWall, met_walls
from elevgen.fittings.model import BedReinforcement, DampCourse, JointParts, Lintel, Mesh, SiteTolerance, Tray, WallTies
from elevgen.joints.model import MovementJoint, Panel
from elevgen.result import SEVERITIES, Design, Finding

OnLeaf = TypeVar("OnLeaf", MovementJoint, Panel, BedReinforcement, Lintel, DampCourse, Tray, Mesh)

SHOWN_SEVERITIES = ("fail", "warn")
"""Findings a bricklayer has to know of before starting."""


class ReinforcedBeds(NamedTuple):
    """Reinforcement of one length for one purpose, in beds on top of several courses; from the lowest up."""

    lengths: tuple[BedReinforcement, ...]

    @property
    def span(self) -> Span:
        return self.lengths[0].span

    @property
    def numbers(self) -> tuple[int, ...]:
        """The courses whose beds on top are reinforced."""
        return tuple(bed.course for bed in self.lengths)

    @property
    def courses(self) -> str:
        """`24` or `24, 25` or `24-27` or `3, 6, 9 … 24`."""
        return numbers(self.numbers)

    @property
    def id(self) -> str:
        return self.lengths[0].id

    @property
    def series(self) -> tuple[ReinforcedBeds, ...]:
        """Those one label can speak for: beds that follow one another, or stand the same number of courses apart."""
        of_course = {bed.course: bed for bed in self.lengths}
        return tuple(ReinforcedBeds(tuple(of_course[n] for n in row)) for row in number_rows(self.numbers))

    def laps(self, figures: Figures) -> str:
        """Where its laps begin, bed by bed where they are staggered; how many where nobody has said where."""
        found: defaultdict[str, list[int]] = defaultdict(list)
        for bed in self.lengths:
            starts = ", ".join(figures.length(lap.start, 0) for lap in bed.lap_at)
            found[starts or (f"{bed.laps}" if bed.laps else "none")].append(bed.course)
        return varying(found)

    def returns(self, figures: Figures) -> tuple[str, ...]:
        """Where it goes on round corners, and how far: `returns 350 into W2`, or `returns into W2 350 on 6; 575 on 7`."""
        legs: dict[str, defaultdict[str, list[int]]] = {}
        for bed in self.lengths:
            for turn in bed.returns:
                legs.setdefault(turn.leaf.split("/")[0], defaultdict(list))[figures.length(turn.leg, 0)].append(bed.course)
        return tuple(
            f"returns {varying(leg)} into {wall}" if len(leg) == 1 else f"returns into {wall} {varying(leg)}"
            for wall, leg in legs.items()
        )

    @property
    def round_corners(self) -> tuple[str, ...]:
        """The walls it goes on into."""
        return tuple(dict.fromkeys(turn.leaf.split("/")[0] for bed in self.lengths for turn in bed.returns))


class LeafFacts(NamedTuple):
    """One leaf with everything that stands in it. `face` bounds it: along the wall and in level."""

    leaf: Leaf
    wall: Wall
    coursing: LeafCoursing
    face: Rect
    groups: tuple[OpeningGroup, ...]
    joints: tuple[MovementJoint, ...]
    joint_parts: dict[str, JointParts]
    panels: tuple[Panel, ...]
    reinforced: tuple[ReinforcedBeds, ...]
    lintels: tuple[Lintel, ...]
    ties: WallTies | None
    damp_courses: tuple[DampCourse, ...]
    met: tuple[MetWall, ...]
    findings: tuple[Finding, ...]
    figures: Figures = Metric()
    masses: tuple[UnitMass, ...] = ()
    trays: tuple[Tray, ...] = ()
    mesh: tuple[Mesh, ...] = ()
    patterns: Mapping[str, Pattern] = MappingProxyType({})
    cut_pieces: tuple[CutPiece, ...] = ()
    slope_cuts: tuple[SlopeCut, ...] = ()
    across: tuple[tuple[str, LeafCoursing], ...] = ()
    """The other leaves of its wall, by the side they are on."""
    tolerance: SiteTolerance | None = None
    not_checked: frozenset[str] = frozenset()
    """The codes of the checks that lack a rule somewhere in the building."""
    remembered: Mapping[str, str] = MappingProxyType({})
    """What of the rules used is from memory, by key, in words."""
    given: Mapping[str, str] = MappingProxyType({})
    """What of them the spec gives in place of the rule set's, by key, in words."""

    @property
    def title(self) -> str:
        """What the view is called: `W1 South, outer leaf`."""
        name = f"{self.wall.id} {self.wall.name}".strip()
        return f"{name}, {self.leaf.side} leaf" if len(self.wall.leaves) > 1 else name

    @property
    def openings(self) -> tuple[Opening, ...]:
        """The openings of its wall that are in this leaf."""
        return tuple(o for o in self.wall.openings if o.rect.along.overlaps(self.leaf.span))

    def short(self, thing: str) -> str:
        """An id without the name of this leaf before it."""
        return thing.removeprefix(f"{self.leaf.id}/")

    @property
    def seen_from(self) -> str:
        return "seen from its right-hand side" if self.wall.internal else "seen from outside"

    @property
    def bond(self) -> str:
        """The bond in words, and how thick the leaf is where that is not what the bond is usually built in."""
        bond = load_bond(self.leaf.bond)
        thick = "" if self.leaf.build == bond.THICKNESS else f", {self.leaf.build.replace('_', ' ')} thick"
        return f"{bond.TITLE}{thick}"


def leaf_facts(design: Design) -> tuple[LeafFacts, ...]:
    """Every leaf of a design, in the order of the building."""
    joints = _by_leaf(design.plan.joints)
    panels = _by_leaf(design.plan.panels)
    beds = _by_leaf(design.fittings.bed_reinforcement)
    lintels = _by_leaf(design.fittings.lintels)
    damp = _by_leaf(design.fittings.damp_courses)
    trays = _by_leaf(design.fittings.trays)
    mesh = _by_leaf(design.fittings.mesh)
    ties = {t.wall: t for t in design.fittings.ties}
    parts = {p.joint: p for p in design.fittings.joint_parts}
    coursing = {c.leaf: c for c in design.coursing.leaves}
    met = met_walls(design.building)
    patterns = MappingProxyType({pattern.id: pattern for pattern in design.coursing.patterns})
    written = design.figures
    remembered, given = design.remembered(), design.given()
    not_checked = frozenset(f.code for f in design.findings if f.severity == "not_checked")
    walls = {w.id: w for w in design.building.walls}
    tolerances = {t.leaf: t for t in design.fittings.tolerances}
    in_wall: defaultdict[str, list[Leaf]] = defaultdict(list)
    for leaf in design.building.leaves:
        in_wall[leaf.wall].append(leaf)
    facts = []
    for leaf in design.building.leaves:
        wall = walls[leaf.wall]
        mine = tuple(sorted(joints[leaf.id], key=lambda j: j.at))
        face = Rect(leaf.span.start, leaf.base.lowest(leaf.span), leaf.span.end, leaf.top.highest(leaf.span))
        groups = tuple(g for g in wall.groups if g.clear.along.overlaps(leaf.span))
        facts.append(
            LeafFacts(
                leaf=leaf,
                wall=wall,
                coursing=coursing[leaf.id],
                face=face,
                groups=groups,
                joints=mine,
                joint_parts={j.id: parts[j.id] for j in mine if j.id in parts},
                panels=tuple(panels[leaf.id]),
                reinforced=_reinforced(beds[leaf.id]),
                lintels=tuple(sorted(lintels[leaf.id], key=lambda x: (x.level, x.span))),
                ties=ties.get(wall.id),
                damp_courses=tuple(damp[leaf.id]),
                met=met.get(leaf.id, ()),
                findings=_findings_at(design.findings, leaf),
                figures=written,
                masses=tuple(mass for mass in design.coursing.masses if mass.unit in {z.unit.name for z in leaf.zones}),
                trays=tuple(sorted(trays[leaf.id], key=lambda t: (t.span, t.level))),
                mesh=tuple(mesh[leaf.id]),
                patterns=patterns,
                cut_pieces=tuple(piece for piece in design.coursing.cutting.pieces if piece.leaf == leaf.id),
                slope_cuts=tuple(slope for slope in design.coursing.cutting.slopes if slope.leaf == leaf.id),
                across=tuple((other.side, coursing[other.id]) for other in in_wall[wall.id] if other.id != leaf.id),
                tolerance=tolerances.get(leaf.id),
                not_checked=not_checked,
                remembered=remembered,
                given=given,
            )
        )
    return tuple(facts)


def _by_leaf(things: Iterable[OnLeaf]) -> defaultdict[str, list[OnLeaf]]:
    found: defaultdict[str, list[OnLeaf]] = defaultdict(list)
    for thing in things:
        found[thing.leaf].append(thing)
    return found


def _reinforced(beds: list[BedReinforcement]) -> tuple[ReinforcedBeds, ...]:
    """Lengths of one span, for one purpose and round the same corners taken together; from the bottom up, then left to right."""
    found: defaultdict[tuple[object, ...], list[BedReinforcement]] = defaultdict(list)
    for bed in sorted(beds, key=lambda b: (b.course, b.span)):
        leaves = tuple(turn.leaf for turn in bed.returns)
        span = round(bed.span.start, 1), round(bed.span.end, 1)
        found[(*span, leaves, bed.serves, bed.why, bed.ends_at)].append(bed)
    return tuple(ReinforcedBeds(tuple(group)) for group in found.values())


def _findings_at(found: tuple[Finding, ...], leaf: Leaf) -> tuple[Finding, ...]:
    """Failing and warning findings about this leaf, or about its wall and no leaf of it; worst first."""
    shown = [f for f in found if f.severity in SHOWN_SEVERITIES]
    mine = [f for f in shown if leaf.id in f.leaves or (not f.leaves and leaf.wall in f.walls)]
    return tuple(sorted(mine, key=lambda f: SEVERITIES.index(f.severity)))
