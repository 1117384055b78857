"""What is to be drawn of one leaf, gathered once: its joints, reinforcement, lintels, ties, findings."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import NamedTuple, TypeVar

from elevgen.bonds import load_bond
from elevgen.building.model import Leaf, Opening, OpeningGroup, Wall
from elevgen.core.figures import Figures, Metric, figures
from elevgen.core.geometry import Rect, Span
from elevgen.coursing.model import LeafCoursing, UnitMass
from elevgen.drawing.met_walls import MetWall, met_walls
from elevgen.fittings.model import BedReinforcement, DampCourse, JointParts, Lintel, Mesh, Tray, WallTies
from elevgen.joints.model import MovementJoint, Panel
from elevgen.result import SEVERITIES, Design, Finding

OnLeaf = TypeVar("OnLeaf", MovementJoint, Panel, BedReinforcement, Lintel, DampCourse, Tray, Mesh)

SHOWN_SEVERITIES = ("fail", "warn")
"""Findings a bricklayer has to know of before starting."""


class ReinforcedBeds(NamedTuple):
    """Reinforcement of one length in the beds on top of courses that follow one another."""

    lengths: tuple[BedReinforcement, ...]

    @property
    def span(self) -> Span:
        return self.lengths[0].span

    @property
    def courses(self) -> str:
        """`24` or `24, 25` or `24-27`."""
        first, last = self.lengths[0].course, self.lengths[-1].course
        if first == last:
            return f"{first}"
        return f"{first}, {last}" if last == first + 1 else f"{first}-{last}"

    @property
    def id(self) -> str:
        return self.lengths[0].id

    @property
    def alike(self) -> tuple[ReinforcedBeds, ...]:
        """Those in a row whose pieces lie alike: laps are staggered from bed to bed."""
        found: list[list[BedReinforcement]] = []
        for bed in self.lengths:
            same = bool(found) and (found[-1][-1].cuts, found[-1][-1].pieces) == (bed.cuts, bed.pieces)
            if same and [(r.leaf, r.leg) for r in found[-1][-1].returns] == [(r.leaf, r.leg) for r in bed.returns]:
                found[-1].append(bed)
            else:
                found.append([bed])
        return tuple(ReinforcedBeds(tuple(row)) for row in found)

    def returns(self, figures: Figures) -> tuple[str, ...]:
        """Where it goes on round corners: `returns 350 into W2`; no length where that differs from bed to bed."""
        legs: dict[str, list[float]] = {}
        for turn in (turn for bed in self.lengths for turn in bed.returns):
            legs.setdefault(turn.leaf.split("/")[0], []).append(turn.leg)
        return tuple(
            f"returns {figures.length(min(leg), 0)} into {wall}" if max(leg) - min(leg) < 1 else f"returns into {wall}"
            for wall, leg in legs.items()
        )


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
    written = drawing_figures(design)
    walls = {w.id: w for w in design.building.walls}
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
            )
        )
    return tuple(facts)


def drawing_figures(design: Design) -> Figures:
    """How lengths are written: as the sheet asks for, otherwise as the rule set's country does."""
    return figures(design.spec.sheet.lengths or design.rules.lengths)


def _by_leaf(things: Iterable[OnLeaf]) -> defaultdict[str, list[OnLeaf]]:
    found: defaultdict[str, list[OnLeaf]] = defaultdict(list)
    for thing in things:
        found[thing.leaf].append(thing)
    return found


def _reinforced(beds: list[BedReinforcement]) -> tuple[ReinforcedBeds, ...]:
    """Lengths of one span in courses that follow one another, taken together; from the bottom up, then left to right."""
    found: list[list[BedReinforcement]] = []
    for bed in sorted(beds, key=lambda b: (b.span, b.course)):
        last = found[-1][-1] if found else None
        round_corners = last and [r.leaf for r in last.returns] == [r.leaf for r in bed.returns]
        if last and round_corners and _same(last.span, bed.span) and bed.course == last.course + 1:
            found[-1].append(bed)
        else:
            found.append([bed])
    return tuple(ReinforcedBeds(tuple(group)) for group in sorted(found, key=lambda g: (g[0].course, g[0].span)))


def _same(a: Span, b: Span) -> bool:
    return round(a.start - b.start, 2) == 0 == round(a.end - b.end, 2)


def _findings_at(found: tuple[Finding, ...], leaf: Leaf) -> tuple[Finding, ...]:
    """Failing and warning findings about this leaf, or about its wall and no leaf of it; worst first."""
    shown = [f for f in found if f.severity in SHOWN_SEVERITIES]
    mine = [f for f in shown if leaf.id in f.leaves or (not f.leaves and leaf.wall in f.walls)]
    return tuple(sorted(mine, key=lambda f: SEVERITIES.index(f.severity)))
