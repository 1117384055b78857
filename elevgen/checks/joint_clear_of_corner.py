"""Movement joints keep as far from corners as the wall is high, or the part of its height the rules ask."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._corners import ENDS, End, end_of
from elevgen.checks._ends import corner_at, round_corner
from elevgen.checks._finding import BUILDING, Place, at_leaf, found
from elevgen.checks._masonry import joints_within, turns
from elevgen.checks._rules import rule
from elevgen.checks._spacing import Allowed, allowed
from elevgen.checks._words import listed
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, at_least, at_most
from elevgen.core.sourced import Sourced
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding, Severity

CODE = "joint-clear-of-corner"
TITLE = "Movement joints clear of corners"
RATIONALE = (
    "The return holds a wall upright at its corner: a joint near by leaves a stub on one side and a free end on the other."
)
FRACTION, CLEAR = "movement_joint.corner.height_fraction", "movement_joint.beside_corner.clear"
ASKED_BY = (FRACTION,)


class _Side(NamedTuple):
    """One wall of a corner: the joint nearest to it, how far its gap is from it, how far it is asked to be, and whether any
    place in the leaf is so far from all its corners (mm)."""

    leaf: Leaf
    joint: MovementJoint
    far: float
    asked: float
    possible: bool

    @property
    def kept(self) -> bool:
        return at_least(self.far, self.asked)


class _Corner(NamedTuple):
    """A corner once for both its walls: those with a joint, and how far it is from joint to joint round it where each is as
    far from it as asked (None where the masonry does not go on)."""

    place: Place
    sides: Sequence[_Side]
    apart: float | None
    spacing: Allowed | None

    @property
    def at_odds(self) -> bool:
        """Whether what is asked on both walls and the spacing round the corner cannot both be kept."""
        return self.apart is not None and self.spacing is not None and not at_most(self.apart, self.spacing.usual)


def check(design: Design) -> Iterator[Finding]:
    """Each corner that sticks out, of an inner leaf every corner: from it to the gap of the nearest joint on each of its walls.

    One finding a corner. Where the spacing round it is less than what is asked on both walls, or the wall is too short, no
    place would do: that is noted, and only warned of where a joint leaves less than the stub the rules like. A joint in a
    re-entrant corner is where it is least seen, and the wall beyond holds it.
    """
    fraction = rule(design, FRACTION)
    if fraction is None:
        return
    corners = list(_corners(design, fraction))
    yield from (_judged(design, corner, fraction) for corner in corners)
    if not corners:
        yield found("pass", BUILDING, "no movement joint in a wall that turns a corner")


def _corners(design: Design, fraction: Sourced) -> Iterator[_Corner]:
    joints = joints_within(design)
    spacings = {leaf.id: allowed(design, leaf) for leaf in design.building.leaves}
    told: set[tuple[str, End]] = set()
    for leaf in design.building.leaves:
        for end in ENDS:
            if (leaf.id, end) in told or not _kept_from(design, leaf, end):
                continue
            there = round_corner(design, leaf, end)
            walls = [(leaf, end)] + ([] if there is None else [(there.leaf, there.end)])
            told.update((of.id, at) for of, at in walls)
            sides = [side for of, at in walls if (side := _side(design, of, at, joints, fraction))]
            if sides:
                yield _corner(leaf, end, walls, sides, spacings, fraction)


def _corner(
    leaf: Leaf,
    end: End,
    walls: Sequence[tuple[Leaf, End]],
    sides: Sequence[_Side],
    spacings: Mapping[str, Allowed],
    fraction: Sourced,
) -> _Corner:
    place = at_leaf(leaf).part(f"corner with {end_of(leaf, end).other}")
    place = place._replace(
        walls=tuple(dict.fromkeys(of.wall for of, _ in walls)),
        leaves=tuple(of.id for of, _ in walls),
        joints=tuple(side.joint.id for side in sides),
    )
    if len(walls) < 2:
        return _Corner(place, sides, None, None)
    known = [spacings[of.id] for of, _ in walls if spacings[of.id].usual_source is not None]
    apart = sum(fraction.number * of.height for of, _ in walls)
    return _Corner(place, sides, apart, min(known, key=lambda a: a.usual, default=None))


def _side(design: Design, leaf: Leaf, end: End, joints: Mapping[str, Sequence[MovementJoint]], fraction: Sourced) -> _Side | None:
    on_leaf = joints[leaf.id]
    if not on_leaf or not _kept_from(design, leaf, end):
        return None
    joint = on_leaf[0] if end == "start" else on_leaf[-1]
    edge = joint.gap.start if end == "start" else joint.gap.end
    asked = fraction.number * leaf.height
    corners = sum(_kept_from(design, leaf, e) for e in ENDS)
    return _Side(leaf, joint, abs(edge - corner_at(leaf, end)), asked, at_least(leaf.span.length, corners * asked))


def _kept_from(design: Design, leaf: Leaf, end: End) -> bool:
    return turns(design.building, leaf, end_of(leaf, end)) and (leaf.side == "inner" or _sticks_out(leaf, end))


def _sticks_out(leaf: Leaf, end: End) -> bool:
    """Whether a corner of the leaf is an outer one as seen from outside: its courses go on to a far face at its very end."""
    inwards = 1 if end == "start" else -1
    return (end_of(leaf, end).far - corner_at(leaf, end)) * inwards >= -TOLERANCE


def _judged(design: Design, corner: _Corner, fraction: Sourced) -> Finding:
    """Held to the wall that lacks most."""
    run = design.figures.run
    worst = min(corner.sides, key=lambda side: side.far - side.asked)
    short = [side for side in corner.sides if not side.kept]
    text = f"{listed([f'{side.joint.id} {run(side.far)}' for side in corner.sides])} from the corner"
    if not short:
        return found("pass", corner.place, text, measured=worst.far, least=worst.asked, source=fraction)
    clear = rule(design, CLEAR)
    stubs = [side for side in short if clear is not None and not at_least(side.far, clear.number)]
    hopeless = corner.at_odds or not any(side.possible for side in short)
    severity: Severity = "note" if hopeless and not stubs else "warn"
    because = [*_why(design.figures, corner, short), *_cure(design.figures, corner, stubs, clear, hopeless=hopeless)]
    text += f"; {_asked(design.figures, short, fraction)}: {'; '.join(because)}"
    also: list[Sourced | None] = [clear]
    if corner.at_odds and corner.spacing is not None:
        also += [corner.spacing.usual_source, *corner.spacing.also]
    return found(severity, corner.place, text, measured=worst.far, least=worst.asked, source=fraction, also=also)


def _asked(figures: Figures, short: Sequence[_Side], fraction: Sourced) -> str:
    share = "as far as the wall is high" if fraction.number == 1 else f"{fraction.number:g} of the wall's height"
    least = [figures.run(side.asked) for side in short]
    return f"{' and '.join(dict.fromkeys(least))} is asked, {share}"


def _why(figures: Figures, corner: _Corner, short: Sequence[_Side]) -> Iterator[str]:
    """What stands in the way: the spacing, the length of a wall, or only the other places that count."""
    if corner.at_odds and corner.spacing is not None:
        far = figures.plain(corner.spacing.usual)
        yield f"not to be had on both walls, for round a corner no more than {far} may go without a joint, and that comes first"
        return
    if none := [side.leaf.id for side in short if not side.possible]:
        yield f"no place in {listed(none)} is so far from its corners"
    if given := [side.joint.id for side in short if side.possible and side.joint.given]:
        yield f"move {listed(given)} further along"
    if any(side.possible and not side.joint.given for side in short):
        yield "no better place for all corners and openings together with as few joints"


def _cure(figures: Figures, corner: _Corner, stubs: Sequence[_Side], clear: Sourced | None, *, hopeless: bool) -> Iterator[str]:
    """What to do about it, where it is not said yet."""
    one_more = f"one more joint in {' or '.join(corner.place.leaves)}"
    if stubs and clear is not None:
        names, leave = listed([side.joint.id for side in stubs]), "leaves" if len(stubs) == 1 else "leave"
        yield f"{names} {leave} a stub of less than {figures.measure(clear.number)}: {one_more} would let it stand further off"
    elif hopeless:
        yield "nothing to change in the walls: have it accepted by whoever answers for them, or ask an engineer for more spacing"
    elif any(side.possible and not side.kept and not side.joint.given for side in corner.sides):
        yield f"{one_more}, listed with the others where it shall stand, may do; or have it accepted"
