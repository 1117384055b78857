"""Where walls change in height, thickness or material, or new masonry meets old, a movement joint stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, Place, at_leaf, found
from elevgen.checks._masonry import through_joints
from elevgen.checks._musts import Met, Step, Stretch, meetings, module, steps, unlike
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import listed
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span, at_most, merge
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding

CODE = "joint-missing"
TITLE = "Movement joints where masonry changes"
RATIONALE = (
    "High masonry beside low, thick beside thin, clay that grows beside blocks that shrink and new beside old each move by "
    "another measure: bonded together they tear apart along the line where they meet, however short the walls are."
)
HEIGHT_FRACTION = "movement_joint.change_of_height.fraction"
HEIGHT, THICKNESS = "movement_joint.change_of_height", "movement_joint.change_of_thickness"
UNLIKE, OLD_TO_NEW = "movement_joint.unlike_materials", "movement_joint.old_to_new"


class _Change(NamedTuple):
    """Something that changes at a place: in words, by how much (None where a word decides), and the repair in words.

    A joint does that stands in one of `joints_at`; one in `beside` is the next best, where the openings `in_way` leave no
    other. `parted`: the two sides do not hold together anyhow. `high`: how high the higher is.
    """

    place: Place
    what: str
    by: float | None
    joints_at: tuple[Stretch, ...]
    parted: bool
    repair: str
    in_way: tuple[str, ...] = ()
    beside: tuple[Stretch, ...] = ()
    high: float = 0.0


def check(design: Design) -> Iterator[Finding]:
    """Each step of a leaf, and each meeting of two leaves for thickness, height, material and age: a joint or a jointed meeting.

    Thickness and height only where one leaf runs on in the line of the other. It only warns inside the building, and where an
    opening is at a step and the joint stands beside it.
    """
    joints = through_joints(design)
    findings = [finding for key, change in _changes(design) if (finding := _judged(design, key, change, joints))]
    yield from findings
    if not findings:
        yield found("pass", BUILDING, "no change of height, thickness, material or age that needs a movement joint")


def _changes(design: Design) -> Iterator[tuple[str, _Change]]:
    """Every change, with the key of the rule it is judged by."""
    for leaf in design.building.leaves:
        for step in steps(leaf):
            yield HEIGHT, _stepped(design, step)
    for met in meetings(design.building):
        host, stem = met.host, met.stem
        if met.in_line:
            words = f"{host.id} and {stem.id} run in line, {design.figures.run(met.step)} different in height"
            yield HEIGHT, _met(design.figures, met, words, met.step)._replace(high=met.high)
            by = abs(host.thickness - stem.thickness)
            thick = f"{design.figures.measure(host.thickness)} and {design.figures.measure(stem.thickness)} thick"
            yield THICKNESS, _met(design.figures, met, f"{host.id} and {stem.id} run in line, {thick}", by)
        kind = rule(design, UNLIKE)
        pair = unlike(str(kind.value) if kind else "any_two", host, stem)
        if pair:
            one, other = (material.replace("_", " ") for material in pair)
            yield (
                UNLIKE,
                _met(design.figures, met, f"{one} of {host.id} meets {other} of {stem.id}, which moves by another measure", None),
            )
        walls = [design.building.wall(leaf.wall) for leaf in (host, stem)]
        if walls[0].existing != walls[1].existing:
            old, new = sorted(walls, key=lambda wall: not wall.existing)
            yield OLD_TO_NEW, _met(design.figures, met, f"{new.id} is new and meets {old.id}, which stands already", None)


def _stepped(design: Design, step: Step) -> _Change:
    leaf, at, near = step.leaf, design.figures.length(step.along.middle), module(step.leaf)
    taken = _openings_at(design, leaf, step.along)
    in_way = tuple(o.id for o in design.building.wall(leaf.wall).openings if taken and o.rect.along.overlaps(taken))
    return _Change(
        at_leaf(leaf).part(f"step at {at}")._replace(openings=in_way),
        f"its {step.edge} steps by {design.figures.run(step.height)}",
        step.height,
        (Stretch(leaf.id, step.along.grown(near)),),
        False,
        "move the step or the opening, or put one just beside it"
        if taken
        else f"put one at the step, {design.figures.measure(step.along.middle)} along the wall",
        in_way,
        (Stretch(leaf.id, taken.grown(near)),) if taken else (),
        step.high,
    )


def _openings_at(design: Design, leaf: Leaf, at: Span) -> Span | None:
    """What openings and the lintels over them take of a leaf round a place, where no joint can stand; None: nothing."""
    holes = [void.along for void in leaf.voids if void not in leaf.crossings]
    lintels = [lintel.span for lintel in design.fittings.lintels if lintel.leaf == leaf.id]
    return next((taken for taken in merge([*holes, *lintels]) if taken.grown(TOLERANCE).contains(at.middle)), None)


def _met(figures: Figures, met: Met, what: str, by: float | None) -> _Change:
    host, stem = met.host, met.stem
    place = Place(f"{host.id} with {stem.id}", (host.wall, stem.wall), (host.id, stem.id))
    beside = " or ".join(stretch.leaf for stretch in met.joints_at)
    if met.meeting.kind == "cross":
        ends = (at for stretch in met.joints_at for at in (stretch.along.start, stretch.along.end))
        place = place.part(f"at {figures.length(min(ends, key=lambda at: abs(at - met.meeting.stem_at)))}")
    repair = f"do not bond or tie the two, have them jointed where they meet, or put a joint into {beside} next to that"
    return _Change(place, what, by, met.joints_at, not met.meeting.continuous, repair)


def _judged(design: Design, key: str, change: _Change, joints: Mapping[str, Sequence[MovementJoint]]) -> Finding | None:
    """Nothing where the change is none to speak of, or the rule asks for no joint."""
    limit = rule(design, key)
    part = rule(design, HEIGHT_FRACTION) if key == HEIGHT else None
    if limit is None and part is None:
        return uncovered(design, change.place, key) if change.by is None or change.by > TOLERANCE else None
    limits = [] if limit is None else [(limit, None if change.by is None else limit.number)]
    limits += [] if part is None else [(part, part.number * change.high)]
    asking = ((source, most) for source, most in limits if source.value != "none" and not _within(change.by, most))
    limit, most = next(asking, (None, None))
    if limit is None:
        return None
    there, beside = _standing(change.joints_at, joints), _standing(change.beside, joints)
    if there or change.parted:
        text = f"{change.what}: {f'{there[0].id} stands there' if there else 'they are jointed, not bonded'}"
        place = change.place._replace(joints=tuple(joint.id for joint in there[:1]))
        return found("pass", place, text, source=limit)
    inside = any(wall.internal for wall in design.building.walls if wall.id in change.place.walls)
    over = ""
    if most is not None:
        far = design.figures
        over = f", over {far.run(most)}" if key == HEIGHT else f": more than {far.measure(most)} apart"
    over += f", {100 * limit.number:.0f} % of its height" if limit is part else ""
    lacking = "no movement joint stands there"
    if change.in_way:
        lacking = f"{listed(change.in_way)} {'is' if len(change.in_way) == 1 else 'are'} in the way of a movement joint"
    text = f"{change.what}{over}, and {lacking}: {f'{beside[0].id} stands beside it' if beside else change.repair}"
    place = change.place._replace(joints=tuple(joint.id for joint in beside[:1]))
    return found("warn" if inside or beside else "fail", place, text, measured=change.by, most=most, source=limit)


def _within(by: float | None, most: float | None) -> bool:
    return by is not None and most is not None and at_most(by, most)


def _standing(stretches: Sequence[Stretch], joints: Mapping[str, Sequence[MovementJoint]]) -> list[MovementJoint]:
    return [joint for stretch in stretches for joint in joints[stretch.leaf] if stretch.along.contains(joint.at)]
