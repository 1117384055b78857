"""What rules are about, and whether a building has it: a rule for lintels does not bear on a wall without openings."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from elevgen.checks._plan import stretches_in_plan
from elevgen.checks._rules import materials
from elevgen.result import Design
from elevgen.rules.keys import MATERIALS


class _Matter(NamedTuple):
    """What the rules whose keys begin so are about: the subject they are told under, and whether a design has any of it."""

    subject: str
    keys: tuple[str, ...]
    present: Callable[[Design], bool]


def bearing_on(design: Design, keys: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """The keys that bear on a design, by subject; those of a material only where a leaf is of it."""
    used = {material for leaf in design.building.leaves for material in materials(leaf)}
    by_matter: dict[_Matter, list[str]] = {}
    for key in keys:
        material = key.rsplit(".", 1)[-1]
        if material not in MATERIALS or material in used:
            by_matter.setdefault(_matter(key), []).append(key)
    of_subject: dict[str, tuple[str, ...]] = {}
    for matter in MATTERS:
        if matter in by_matter and matter.present(design):
            of_subject[matter.subject] = (*of_subject.get(matter.subject, ()), *by_matter[matter])
    return of_subject


def _matter(key: str) -> _Matter:
    """The matter with the longest beginning of the key."""
    beginnings = [(len(start), n) for n, matter in enumerate(MATTERS) for start in matter.keys if key.startswith(start)]
    return MATTERS[max(beginnings)[1]]


def _always(design: Design) -> bool:
    return bool(design.building.walls)


def _joints(design: Design) -> bool:
    return bool(design.plan.joints)


def _openings(design: Design) -> bool:
    return any(wall.openings for wall in design.building.walls)


def _cavities(design: Design) -> bool:
    return any(len(wall.leaves) == 2 for wall in design.building.walls)


def _cavity_lintels(design: Design) -> bool:
    return any(len(wall.leaves) == 2 and wall.openings for wall in design.building.walls)


def _joints_cut_reinforcement(design: Design) -> bool:
    return _joints(design) and bool(design.fittings.bed_reinforcement)


def _tied_partitions(design: Design) -> bool:
    return any(meeting.kind == "tee" and meeting.connection == "tied" for meeting in design.building.meetings)


def _damp_courses(design: Design) -> bool:
    return bool(design.fittings.damp_courses)


def _copings(design: Design) -> bool:
    return any(wall.stands != "building" for wall in design.building.walls)


def _abutments(design: Design) -> bool:
    return any(wall.abutments and len(wall.leaves) == 2 for wall in design.building.walls)


def _finishes(design: Design) -> bool:
    return any(leaf.finish for leaf in design.building.leaves)


def _free_standing(design: Design) -> bool:
    """A wall said to be free-standing, or one of one leaf with open land on both its hands all along."""
    enclosing = {s.wall.id for s in stretches_in_plan(design.building) if s.left or s.right}
    return any(
        wall.stands == "free_standing" or (len(wall.leaves) == 1 and wall.id not in enclosing) for wall in design.building.walls
    )


def _parapets(design: Design) -> bool:
    return any(wall.stands == "parapet" for wall in design.building.walls)


def _corners(design: Design) -> bool:
    return any(end.kind == "corner" for leaf in design.building.leaves for end in (leaf.start_end, leaf.finish_end))


def _reinforced_all_over(design: Design) -> bool:
    return any(leaf.reinforced_every is not None for leaf in design.building.leaves)


MATTERS: tuple[_Matter, ...] = (
    _Matter("movement joints", ("movement_joint.",), _always),
    _Matter("movement joints", ("movement.", "sealant.", "backer_rod."), _joints),
    _Matter("movement joints", ("filler.", "movement_joint.tolerance", "movement_joint.left_open"), _joints),
    _Matter("movement joints", ("movement_joint.spacing.reinforced_",), _reinforced_all_over),
    _Matter("movement joints", ("movement_joint.parapet.",), _parapets),
    _Matter("movement joints", ("movement_joint.corner.",), _corners),
    _Matter("movement joints", ("movement_joint.at_opening.",), _openings),
    _Matter("movement joints", ("movement_joint.spacing.with_openings.", "movement_joint.with_openings."), _openings),
    _Matter("movement joints", ("movement_joint.high_wall.",), _joints),
    _Matter("movement joints", ("movement_joint.free_standing.",), _free_standing),
    _Matter("bed reinforcement", ("bed_reinforcement.",), _openings),
    _Matter("bed reinforcement", ("bed_reinforcement.joint_clearance",), _joints_cut_reinforcement),
    _Matter("bed reinforcement", ("bed_reinforcement.parapet.",), _parapets),
    _Matter("wall ties", ("tie.",), _cavities),
    _Matter("wall ties", ("tie.slip.",), _joints),
    _Matter("wall ties", ("tie.partition.",), _tied_partitions),
    _Matter("lintels", ("lintel.",), _openings),
    _Matter("damp-proofing", ("tray.", "weep."), _cavity_lintels),
    _Matter("damp-proofing", ("dpc.",), _damp_courses),
    _Matter("damp-proofing", ("dpc.coping.",), _copings),
    _Matter("damp-proofing", ("cavity.",), _cavities),
    _Matter("damp-proofing", ("tray.abutment.", "tray.step."), _abutments),
    _Matter("finishes", ("finish.",), _finishes),
    _Matter("openings", ("opening.",), _openings),
    _Matter("coursing and bond", ("bond.", "perpend.", "bed.", "joint.", "coursing."), _always),
    _Matter("cutting and lifting", ("cutting.", "lift.", "lifting.", "unit."), _always),
    _Matter("site tolerances", ("tolerance.",), _always),
    _Matter("waste", ("waste.", "pack."), _always),
    _Matter("measuring", ("thumb.",), _always),
)
