"""Joints that must stand inside a leaf whatever the spacing: at steps in its height, and in short returns of clay."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import radians, sin
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, LeafEnd, Wall
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span, at_least, at_most, cross, direction, subtract
from elevgen.core.sourced import Sourced
from elevgen.joints.candidates import Liking, Site, places
from elevgen.joints.spacings import materials
from elevgen.rules.book import RuleReader

HEIGHT, HEIGHT_FRACTION = "movement_joint.change_of_height", "movement_joint.change_of_height.fraction"
SHORT_RETURN = "movement_joint.short_return.clay"

_STRAIGHT = sin(radians(10))
"""Walls that turn by less are one straight wall: their meeting is no return."""


class Must(NamedTuple):
    """A joint that stands at a place (mm), why, and the rules behind it.

    `against` is an upright end of masonry its gap lies along, on the side `side` (-1 before it, 1 past it): however wide the
    joint is built, the gap begins there.
    """

    at: float
    reason: str
    basis: tuple[str, ...]
    against: float | None = None
    side: int = 1

    def centre(self, width: float) -> float:
        """Where a joint of this width stands."""
        return self.at if self.against is None else self.against + self.side * width / 2


class Unmet(NamedTuple):
    """A joint that must stand and has no legal place: the rule, where it is wanted, what was measured against which limit."""

    rule: str
    leaf: str
    where: Span
    measured: float
    limit: float


class _Step(NamedTuple):
    """Where a leaf's height changes at once, by how much (mm), and on which side it is lower (-1 before, 1 past).

    `height` is that of the higher side.
    """

    at: float
    rise: float
    lower: int
    height: float


def musts(here: Site, given: Sequence[float], building: Building, clear: Liking, reader: RuleReader) -> tuple[Must | Unmet, ...]:
    """The joints a leaf must have besides those given (`given` are their places), and those for which it has no place."""
    short = reader.find(SHORT_RETURN)
    found = list(_at_steps(here, given, reader))
    taken = bool(given) or any(isinstance(must, Must) for must in found)
    if short is not None and not taken and _is_short_return(here.leaf, building, short):
        found.append(_in_return(reader.figures, here, clear, short))
    return tuple(found)


def turns(here: Wall, there: Wall) -> bool:
    """Whether two walls that meet end to end make a corner rather than one straight wall."""
    return abs(cross(direction(here.start, here.end), direction(there.start, there.end))) >= _STRAIGHT


def kept_apart(here: Site, at: float) -> Span:
    """Where no other joint may be centred beside one that stands: half a unit is left between them."""
    return Span(at, at).grown(here.width + here.unit.length / 2)


def _at_steps(here: Site, given: Sequence[float], reader: RuleReader) -> Iterator[Must | Unmet]:
    rules = reader.find(HEIGHT), reader.find(HEIGHT_FRACTION)
    asking = [(step, asked) for step in _steps(here.leaf) if (asked := _asked_at(step, *rules)) is not None]
    steps = [step for step, _ in asking]
    taken = list(given)
    for step, least in asking:
        if any(abs(at - step.at) <= here.unit.length / 2 + TOLERANCE for at in given):
            continue
        found = _at_step(reader.figures, here, step, steps, taken, least)
        if isinstance(found, Must):
            taken.append(found.at)
        yield found


class _Asked(NamedTuple):
    """The rule by which a step needs a joint, and the highest step that would not (mm)."""

    key: str
    most: float


def _asked_at(step: _Step, fixed: Sourced | None, fraction: Sourced | None) -> _Asked | None:
    """By a height of its own, or by a part of the higher side's height; None where it needs none."""
    limits = [] if fixed is None else [_Asked(fixed.key, fixed.number)]
    limits += [] if fraction is None else [_Asked(fraction.key, fraction.number * step.height)]
    return next((asked for asked in limits if not at_most(step.rise, asked.most)), None)


def _steps(leaf: Leaf) -> list[_Step]:
    """The steps of base and top inside a leaf, in order; a slope is none."""
    points = {at for profile in (leaf.base, leaf.top) for at, _ in profile.points}
    found = []
    for at in sorted(points):
        if not leaf.span.start + TOLERANCE < at < leaf.span.end - TOLERANCE:
            continue
        base = leaf.base.level_left_of(at), leaf.base.level_right_of(at)
        top = leaf.top.level_left_of(at), leaf.top.level_right_of(at)
        rise = max(abs(top[0] - top[1]), abs(base[0] - base[1]))
        before, past = ((top[k] - base[k], top[k]) for k in (0, 1))
        found.append(_Step(at, rise, 1 if past < before else -1, max(before[0], past[0])))
    return found


def _at_step(
    figures: Figures, here: Site, step: _Step, steps: Sequence[_Step], taken: Sequence[float], least: _Asked
) -> Must | Unmet:
    """The joint at a step, its gap on the lower side; where that is no legal place, in the nearest one further on."""
    ends = [other.at for other in steps if (other.at - step.at) * step.lower > TOLERANCE]
    ends.append(here.leaf.span.end if step.lower > 0 else here.leaf.span.start)
    end = min(ends, key=lambda at: abs(at - step.at))
    first, last = step.at + step.lower * here.width / 2, end - step.lower * here.width / 2
    lower = Span(min(step.at, end), max(step.at, end))
    if (last - first) * step.lower >= 0:
        room = Span(min(first, last), max(first, last)).grown(TOLERANCE)
        legal = [
            f for s in subtract(here.leaf.span, [*here.blocked, *(kept_apart(here, at) for at in taken)]) if (f := s.common(room))
        ]
        nearest = min((min(max(first, s.start), s.end) for s in legal), key=lambda at: abs(at - first), default=None)
        if nearest is not None:
            return _must_at(figures, step, nearest, abs(nearest - first), least)
    return Unmet(least.key, here.leaf.id, lower, step.rise, least.most)


def _must_at(figures: Figures, step: _Step, at: float, moved: float, least: _Asked) -> Must:
    reason = f"the wall steps {figures.run(step.rise)} in height"
    if moved <= 2 * TOLERANCE:
        return Must(at, reason, (least.key,), step.at, step.lower)
    side = "right" if step.lower > 0 else "left"
    return Must(at, f"{reason}; {figures.measure(moved)} to the {side} of the step, the nearest place it can have", (least.key,))


def _is_short_return(leaf: Leaf, building: Building, least: Sourced) -> bool:
    """Whether a leaf has clay in it, is shorter than that and goes on round a corner at both ends."""
    here = building.wall(leaf.wall)

    def goes_round(end: LeafEnd) -> bool:
        return end.kind == "corner" and end.other is not None and turns(here, building.wall(building.leaf(end.other).wall))

    short = not at_least(leaf.span.length, least.number)
    return short and "clay" in materials(leaf) and goes_round(leaf.start_end) and goes_round(leaf.finish_end)


def _in_return(figures: Figures, here: Site, clear: Liking, least: Sourced) -> Must | Unmet:
    """The joint of a short return: hidden in a re-entrant corner, then on the bond, then near that corner or the middle."""
    span = here.leaf.span
    hidden = [stretch.middle for kind, stretch in here.hides if kind == "re-entrant corner"] or [span.middle]

    def worse(at: float) -> float:
        return min(abs(at - corner) for corner in hidden)

    found = min(places(here, clear), key=lambda c: (not c.hidden, not c.on_grid, worse(c.at), c.at), default=None)
    if found is None:
        return Unmet(SHORT_RETURN, here.leaf.id, span, span.length, least.number)
    words = f"return of {figures.measure(span.length)} in clay between two corners, shorter than {figures.measure(least.number)}"
    if not found.on_grid:
        words += "; off the bond, units are cut"
    return Must(found.at, words, (least.key,))
