"""What drawing, workbook and terminal say of their own limits, and of safety where the work calls for it: one list for all three.

Each caution but the first is said only where what it warns of comes in.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from elevgen.building.model import Leaf
from elevgen.core.figures import Figures
from elevgen.coursing.model import LeafCoursing, UnitMass
from elevgen.fittings.model import Lintel
from elevgen.result import Design

AID = (
    "Setting-out aid, not a structural design. Lintels, loads and stability: to be confirmed by a qualified engineer. "
    "Local codes and licensed practice govern."
)
SUPPORT = (
    "Standing walls ({walls}): before one is cut into, an engineer says how it is held. Props and ties first; "
    "they stay until the new work has set."
)
DUST = "Cutting ({what}): wet or with extraction; silica dust harms the lungs. Mask, eye and ear protection."
LIFTING = "Units over {limit} ({units}): lift with two people or a machine."
NOT_KNOWN = "Units of unknown mass ({units}): ask how heavy they are before lifting."
LINTELS = "Lintels over {limit} (up to {heaviest}): two people or a machine; prop until what is built on them has set."
HEIGHT = "Work above {high}: from a scaffold or platform fit for the load."
WIND = "New walls: temporary support against wind."

HIGH = 1500.0
"""Work higher up than this (mm) is done from a scaffold: common practice, no source."""


def cautions(design: Design, leaf: str | None = None) -> tuple[str, ...]:
    """The cautions of a whole building, or of the work on one leaf of it."""
    leaves = tuple(each for each in design.building.leaves if leaf in (None, each.id))
    return AID, *_at_work(design, leaves)


def plan_cautions(design: Design) -> tuple[str, ...]:
    """Those a plan says: what concerns the building as it stands, not the laying of units."""
    return AID, *support_cautions(standing_walls(design, design.building.leaves))


def _at_work(design: Design, leaves: tuple[Leaf, ...]) -> Iterator[str]:
    standing = {wall.id for wall in design.building.walls if wall.existing}
    new = tuple(leaf for leaf in leaves if leaf.wall not in standing)
    names = {leaf.id for leaf in new}
    units = {zone.unit.name for leaf in new for zone in leaf.zones}
    masses = tuple(mass for mass in design.coursing.masses if mass.unit in units)
    old = {leaf.id for leaf in leaves} - names
    sawn = sum(joint.leaf in old and not joint.given for joint in design.plan.joints)
    yield from support_cautions(standing_walls(design, leaves))
    yield from cutting_cautions((laid for laid in design.coursing.leaves if laid.leaf in names), sawn)
    yield from lifting_cautions(design.figures, masses)
    yield from lintel_cautions(design.figures, (lintel for lintel in design.fittings.lintels if lintel.leaf in names), masses)
    if any(_height(leaf) > HIGH for leaf in leaves):
        height = HEIGHT.format(high=design.figures.about(HIGH))
        yield f"{height} {WIND}" if any(_height(leaf) > HIGH for leaf in new) else height


def _height(leaf: Leaf) -> float:
    return leaf.top.highest(leaf.span) - leaf.base.lowest(leaf.span)


def standing_walls(design: Design, leaves: Iterable[Leaf]) -> tuple[str, ...]:
    """Walls that stand already among those of the leaves and among those they meet, in the order of the building."""
    here = {leaf.id: leaf.wall for leaf in leaves}
    touched = set(here.values())
    for meeting in design.building.meetings:
        if meeting.host in here or meeting.stem in here:
            touched |= {design.building.leaf(meeting.host).wall, design.building.leaf(meeting.stem).wall}
    return tuple(wall.id for wall in design.building.walls if wall.existing and wall.id in touched)


def support_cautions(standing: Iterable[str]) -> Iterable[str]:
    """What comes before cutting into these walls; nothing where there are none."""
    if names := ", ".join(standing):
        yield SUPPORT.format(walls=names)


def cutting_cautions(leaves: Iterable[LeafCoursing], sawn: int = 0) -> Iterable[str]:
    """How many pieces are cut in these leaves and joints sawn in standing ones, and how; nothing where none is."""
    number = sum(count.cut for laid in leaves for count in laid.counts)
    what = [f"{n} {name}{'s' if n > 1 else ''}" for n, name in ((number, "piece"), (sawn, "joint")) if n]
    if what:
        yield DUST.format(what=", ".join(what) + (" sawn" if sawn else ""))


def lifting_cautions(figures: Figures, masses: Iterable[UnitMass]) -> Iterable[str]:
    """Which units are too heavy for one person, with how heavy they are; and those nobody has said that of."""
    given = sorted(masses, key=lambda m: m.unit)
    heavy = [f"{m.unit} {'' if m.given else 'up to '}{figures.weight(m.mass or 0.0)}" for m in given if m.heavy]
    unknown = [m.unit for m in given if m.mass is None]
    limit = next((m.limit for m in given if m.limit is not None), None)
    if heavy and limit is not None:
        yield LIFTING.format(limit=figures.weight(limit), units=", ".join(heavy))
    if unknown:
        yield NOT_KNOWN.format(units=", ".join(unknown))


def lintel_cautions(figures: Figures, lintels: Iterable[Lintel], masses: Iterable[UnitMass]) -> Iterable[str]:
    """That lintels of concrete or stone are too heavy for one person; nothing where none is known to be."""
    limit = next((m.limit for m in masses if m.limit is not None), None)
    known = [lintel.mass for lintel in lintels if lintel.mass is not None]
    if limit is not None and known and max(known) > limit:
        yield LINTELS.format(limit=figures.weight(limit), heaviest=figures.weight(max(known), 0))
