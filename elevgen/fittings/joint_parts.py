"""What each movement joint takes: filler, sealant, backer rod or tape, stop beads in its finish, slip ties."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil

from elevgen.building.model import Leaf, Wall
from elevgen.core.geometry import TOLERANCE, at_least, at_most
from elevgen.fittings.model import JointParts, Tie
from elevgen.fittings.slip_ties import slip_basis
from elevgen.joints.model import MovementJoint
from elevgen.joints.spacings import materials
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure

_SEALANT = ("sealant.width_to_depth", "sealant.depth.min", "sealant.depth.max_to_width")
_ROD = ("backer_rod.oversize", "backer_rod.sizes")
_ALLOWED, _BARRED, _STRIP = "filler.allowed", "filler.barred", "filler.strip_to_width"
BEADS = 2
"""A stop bead each side of the joint on every finished face, the sealant between them (from memory)."""


def joint_parts(
    joint: MovementJoint, wall: Wall, leaf: Leaf, slips: Sequence[Tie] | None, reader: RuleReader
) -> JointParts | None:
    """The parts of one joint over its full height, in mm; None where the rule set has no depth of sealant.

    `slips` are the slip ties placed across it, None where none are known.
    Filler fills the leaf behind the sealant and its rod; sealant lies on every face that stays in sight.
    """
    width = joint.width.built
    depth = sealant_depth(width, reader)
    if depth is None:
        return None
    faces = faces_in_sight(wall, leaf)
    rods = covered(reader, *_ROD)
    rod = backer_rod(width, reader)
    if rod is not None and not at_most(faces * (depth + rod), leaf.thickness):
        rod = None
    ties = len(slips) if wall.slip_ties and slips is not None else None
    basis = (*joint.basis, *covered(reader, *_SEALANT), *rods, *_filler_rules(leaf, reader))
    return JointParts(
        joint=joint.id,
        length=joint.levels.length,
        filler_width=width,
        filler_depth=max(leaf.thickness - faces * (depth + (rod or 0.0)), 0.0),
        sealant_width=width,
        sealant_depth=depth,
        sealant_faces=faces,
        backer_diameter=rod,
        slip_ties=0 if wall.slip_ties is False else ties,
        basis=tuple(dict.fromkeys((*basis, *(slip_basis(reader) if ties is not None else ())))),
        bond_breaker=("tape" if rod is None else "rod") if rods else None,
        filler=allowed_fillers(leaf, reader),
        filler_barred=barred_fillers(leaf, reader),
        filler_strip=filler_strip(width, leaf, reader),
        finish=leaf.finish,
        stop_beads=0.0 if leaf.finish is None else BEADS * faces * joint.levels.length,
    )


def sealant_depth(width: float, reader: RuleReader) -> float | None:
    """Half the width or so, never under the least depth, never deeper than wide; None where neither of the first is covered."""
    ratio, least, most = (figure(reader, key) for key in _SEALANT)
    depths = [depth for depth in (None if ratio is None else width / ratio, least) if depth is not None]
    if not depths:
        return None
    return max(depths) if most is None else min(max(depths), most * width)


def backer_rod(width: float, reader: RuleReader) -> float | None:
    """The thinnest rod sold that is enough wider than the joint to be squeezed in it; None where none is known to be."""
    oversize, sizes = figure(reader, "backer_rod.oversize"), reader.find("backer_rod.sizes")
    if oversize is None or sizes is None:
        return None
    return next((size for size in sizes.sizes if at_least(size, oversize * width)), None)


def faces_in_sight(wall: Wall, leaf: Leaf) -> int:
    """Two for an internal wall of one leaf; else one: the weather side of an outer leaf, the room side of an inner one."""
    return 2 if len(wall.leaves) == 1 and not leaf.exposed else 1


def allowed_fillers(leaf: Leaf, reader: RuleReader) -> tuple[str, ...] | None:
    """What suits every material of the leaf; None where the rule set names nothing for one of them."""
    named = [reader.find(f"{_ALLOWED}.{material}") for material in materials(leaf)]
    lists = [found.words for found in named if found is not None]
    if len(lists) < len(named):
        return None
    barred = barred_fillers(leaf, reader)
    return tuple(word for word in lists[0] if word not in barred and all(word in other for other in lists))


def barred_fillers(leaf: Leaf, reader: RuleReader) -> tuple[str, ...]:
    """What one material of the leaf or another must not have."""
    return tuple(dict.fromkeys(word for found in _found(_BARRED, leaf, reader) for word in reader.get(found).words))


def filler_strip(width: float, leaf: Leaf, reader: RuleReader) -> float | None:
    """How thick a strip is squeezed in, whole mm or sixteenths of an inch; None where one takes it as wide as the joint."""
    ratios = _found(_STRIP, leaf, reader)
    if len(ratios) < len(materials(leaf)):
        return None
    step = reader.figures.step
    return float(ceil((width * min(reader.number(key) for key in ratios) - TOLERANCE) / step) * step)


def _found(stem: str, leaf: Leaf, reader: RuleReader) -> tuple[str, ...]:
    return covered(reader, *(f"{stem}.{material}" for material in materials(leaf)))


def _filler_rules(leaf: Leaf, reader: RuleReader) -> Iterable[str]:
    return (key for stem in (_ALLOWED, _BARRED, _STRIP) for key in _found(stem, leaf, reader))
