"""Movement joints and what fills them: filler, backer rod or tape, sealant, stop beads, slip ties."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from elevgen.core.figures import Figures
from elevgen.core.geometry import Span
from elevgen.core.measures import METRE
from elevgen.fittings.model import JointParts, WallTies
from elevgen.joints.model import MovementJoint
from elevgen.result import Design
from elevgen.takeoff.items import Measured, counted, grouped, size
from elevgen.takeoff.model import Part
from elevgen.takeoff.places import Grid

CONTAINERS = (310, 600)
"""Cartridge and foil pack that sealant is sold in, millilitres (common practice, no source)."""


def joint_items(design: Design, on: Mapping[str, Grid]) -> Iterator[Measured]:
    """Every joint item of every leaf, in leaf order; `on`: where each leaf's panels and lifts lie."""
    parts = {part.joint: part for part in design.fittings.joint_parts}
    for leaf in design.building.leaves:
        joints = design.plan.on_leaf(leaf.id)
        mine = tuple(parts[joint.id] for joint in joints if joint.id in parts)
        up = _Upright(on[leaf.id], {joint.id: joint.levels for joint in joints})
        yield from _joints(design.figures, leaf.id, leaf.thickness, joints, up)
        for filling in (_filler, _backer_rod, _tape, _sealant, _stop_beads):
            yield from filling(design.figures, leaf.id, mine, up)
        yield from _slip_ties(leaf.id, joints, design.fittings.ties, up)


class _Upright(NamedTuple):
    """Where the joints of a leaf stand, for what is in them to be shared out to the lifts they pass."""

    grid: Grid
    levels: Mapping[str, Span]

    def parts(self, amounts: Iterable[tuple[str, float]]) -> tuple[Part, ...]:
        """So much in each joint, by lift."""
        return tuple(part for joint, amount in amounts for part in self.grid.upright(self.levels[joint], amount))


def _joints(
    figures: Figures, where: str, thickness: float, joints: tuple[MovementJoint, ...], up: _Upright
) -> Iterator[Measured]:
    for width, alike in grouped(joints, lambda joint: size(joint.width.built)).items():
        yield Measured(
            code=f"JT-MOVE-M/{width}x{size(thickness)}",
            item=f"Forming movement joint {figures.measure(alike[0].width.built)} wide "
            f"through a leaf {figures.measure(thickness)} thick",
            unit="m",
            net=sum(joint.levels.length for joint in alike) / METRE,
            where=where,
            derivation=f"{counted(len(alike), 'joint')}, full height",
            waste=None,
            parts=up.parts((joint.id, joint.levels.length) for joint in alike),
        )


def _filler(figures: Figures, where: str, parts: tuple[JointParts, ...], up: _Upright) -> Iterator[Measured]:
    filled = (part for part in parts if part.filler_depth > 0)
    for (width, depth), alike in grouped(filled, lambda part: (size(part.filler_width), size(part.filler_depth))).items():
        strip = alike[0].filler_strip
        yield Measured(
            code=f"JT-FILL-M/{width}x{depth}" + (f"/STRIP{size(strip)}" if strip else ""),
            item=f"Joint filler {figures.measure(alike[0].filler_width)} thick, {figures.measure(alike[0].filler_depth)} deep"
            + (f", from a {figures.measure(strip)} strip" if strip else ""),
            unit="m",
            net=sum(part.length for part in alike) / METRE,
            where=where,
            derivation=f"{counted(len(alike), 'joint')}, full height",
            waste="filler",
            parts=up.parts((part.joint, part.length) for part in alike),
        )


def _backer_rod(figures: Figures, where: str, parts: tuple[JointParts, ...], up: _Upright) -> Iterator[Measured]:
    backed = [(size(part.backer_diameter), part) for part in parts if part.backer_diameter is not None]
    for diameter, pairs in grouped(backed, lambda pair: pair[0]).items():
        alike = tuple(part for _, part in pairs)
        yield _behind_sealant(
            f"JT-ROD-M/{diameter}", f"Backer rod {figures.measure(alike[0].backer_diameter or 0.0)} diameter", where, alike, up
        )


def _tape(figures: Figures, where: str, parts: tuple[JointParts, ...], up: _Upright) -> Iterator[Measured]:
    taped = tuple(part for part in parts if part.bond_breaker == "tape" and part.sealant_faces)
    for width, alike in grouped(taped, lambda part: size(part.sealant_width)).items():
        yield _behind_sealant(
            f"JT-TAPE-M/{width}",
            f"Bond-breaker tape {figures.measure(alike[0].sealant_width)} wide behind sealant",
            where,
            alike,
            up,
        )


def _behind_sealant(code: str, item: str, where: str, parts: tuple[JointParts, ...], up: _Upright) -> Measured:
    """What runs behind the sealant, on every face that has it."""
    net = sum(part.length * part.sealant_faces for part in parts) / METRE
    return Measured(
        code=code,
        item=item,
        unit="m",
        net=net,
        where=where,
        derivation=_faces(parts),
        waste="filler",
        parts=up.parts((part.joint, part.length * part.sealant_faces) for part in parts),
    )


def _sealant(figures: Figures, where: str, parts: tuple[JointParts, ...], up: _Upright) -> Iterator[Measured]:
    sealed = (part for part in parts if part.sealant_faces)
    for (width, depth), alike in grouped(sealed, lambda part: (size(part.sealant_width), size(part.sealant_depth))).items():
        yield Measured(
            code=f"JT-SEAL-M/{width}x{depth}",
            item=f"Pointing movement joint with sealant {figures.measure(alike[0].sealant_width)} wide, "
            f"{figures.measure(alike[0].sealant_depth)} deep",
            unit="m",
            net=sum(part.length * part.sealant_faces for part in alike) / METRE,
            where=where,
            derivation=_faces(alike),
            waste=None,
            parts=up.parts((part.joint, part.length * part.sealant_faces) for part in alike),
        )
    if any(part.sealant_faces for part in parts):
        yield Measured(
            code="JT-SEAL-L",
            item="Joint sealant, volume in place",
            unit="l",
            net=sum(part.sealant_litres for part in parts),
            where=where,
            derivation=_per_metre(figures, parts),
            waste="sealant",
            parts=up.parts((part.joint, part.sealant_litres) for part in parts),
        )


def _stop_beads(figures: Figures, where: str, parts: tuple[JointParts, ...], up: _Upright) -> Iterator[Measured]:
    beaded = tuple(part for part in parts if part.stop_beads)
    for finish, alike in grouped(beaded, lambda part: part.finish or "").items():
        yield Measured(
            code=f"JT-BEAD-M/{finish.upper()}",
            item=f"Stop bead in {finish} beside a movement joint",
            unit="m",
            net=sum(part.stop_beads for part in alike) / METRE,
            where=where,
            derivation=f"{counted(len(alike), 'joint')}, both sides, full height",
            waste="finishes",
            parts=up.parts((part.joint, part.stop_beads) for part in alike),
        )


def _slip_ties(where: str, joints: tuple[MovementJoint, ...], ties: tuple[WallTies, ...], up: _Upright) -> Iterator[Measured]:
    placed = [tie for of_wall in ties for tie in of_wall.ties if tie.kind == "slip" and tie.leaf == where]
    if placed:
        crossed = sum(1 for joint in joints if any(joint.gap.contains(tie.at) for tie in placed))
        yield Measured(
            code="TIE-NR/SLIP",
            item="Slip tie across a movement joint",
            unit="nr",
            net=len(placed),
            where=where,
            derivation=f"in {counted(crossed, 'joint')}",
            waste="ties",
            parts=tuple(Part(None, up.grid.lift_at(tie.level), 1) for tie in placed),
        )


def _per_metre(figures: Figures, parts: tuple[JointParts, ...]) -> str:
    """What a metre or a foot of sealant takes, and how far a container goes: `100 ml a metre of face, 3.1 m from 310 ml`."""
    sizes = sorted({(part.sealant_width, part.sealant_depth) for part in parts if part.sealant_faces})
    each = "a metre of face" if not figures.in_feet else "a foot of face"

    def takes(area: float) -> str:
        return figures.few(area, "ml/m", 3).split("/")[0]

    return "; ".join(
        f"{_by(figures, width, depth)} takes {takes(width * depth)} {each}"
        + "".join(
            f", {figures.run(length_filled(ml * METRE, width, depth), 1)} from {figures.few(ml, 'ml', 1)}" for ml in CONTAINERS
        )
        for width, depth in sizes
    )


def _by(figures: Figures, *lengths: float) -> str:
    return ("x" if not figures.in_feet else " x ").join(map(figures.length, lengths))


def length_filled(volume: float, width: float, depth: float) -> float:
    """How long a bead a container of sealant makes, without waste; lengths and volume in any one unit."""
    return volume / (width * depth)


def _faces(parts: tuple[JointParts, ...]) -> str:
    faces = sum(part.sealant_faces for part in parts)
    return f"{counted(len(parts), 'joint')}, {counted(faces, 'face')} sealed, full height"
