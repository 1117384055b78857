"""Set-out: the lengths of one stretch of course, given its ends and the perpends it must lap.

Perpends are opened or tightened before anything is cut; a cut makes one broken bond near the middle (`frames`). The layouts of
that kind are few, all are costed, and the cheapest wins; the first found wins a tie. Where even that one laps too little, has
too short a piece, a cut at an end or a perpend where none should be, `exact` looks at every other way to cut the stretch.
All mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from math import ceil, floor

from elevgen.bonds import Pieces
from elevgen.core.geometry import TOLERANCE, at_least
from elevgen.coursing.exact import exact
from elevgen.coursing.frames import alone, broken, unbroken, unbroken_frames
from elevgen.coursing.stretch import CLASH, CUT, END, Candidate, Ground, Layout, Limits, Stretch, effort, layout_of, piece_costs

_NONE: Candidate = 10**18, Layout((), 0.0)


def set_out(stretch: Stretch, limits: Limits) -> Layout:
    """The pieces and perpends that fill a stretch exactly. Never refuses: too short a stretch gets cut pieces."""
    if stretch.left.raking and (not stretch.right.raking or _later(stretch)):
        return set_out(stretch.mirrored(), limits).mirrored()
    if stretch.length + stretch.left.hidden + stretch.right.hidden <= max(stretch.repeated(limits)) + TOLERANCE:
        return next(alone(stretch, limits), Layout(((stretch.length, 1),), limits.joint))
    ground = Ground(stretch, limits)
    if stretch.right.raking:
        best = min(_running_out(stretch, limits, ground), key=_cost)
    else:
        best = min(unbroken(stretch, limits, ground), key=_cost, default=_NONE)
        if best[0] >= CUT:
            best = min(chain((best,), broken(stretch, limits, ground), _in_few(stretch, limits, ground)), key=_cost)
    if best[0] >= END or (stretch.clear and best[0] >= 3 * CUT):
        best = min((best, *exact(stretch, limits, ground)), key=_cost)
        if best[0] >= CLASH and not stretch.right.raking:
            others = {frame.perpend for frame in unbroken_frames(stretch, limits)} - {limits.joint}
            for perpend in sorted(others, key=limits.off_nominal)[:2]:
                best = min((best, *exact(stretch, limits._replace(joint=perpend), ground)), key=_cost)
    return best[1] if best[1].runs else Layout(((stretch.length, 1),), limits.joint)


def _later(stretch: Stretch) -> bool:
    """Whether a stretch with like ends comes after its mirror image, which is then the one set out."""
    here, there = ([round(b, 3) for b in s.below] for s in (stretch, stretch.mirrored()))
    return there < here


def _cost(candidate: Candidate) -> int:
    return candidate[0]


def _in_few(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    """As many equal pieces as a stretch takes that is too short for the rest."""
    hidden = stretch.left.hidden, stretch.right.hidden
    pieces = ceil((stretch.length + sum(hidden) + limits.joint - TOLERANCE) / limits.module)
    if pieces <= 3:
        real = (stretch.length + sum(hidden) - (pieces - 1) * limits.joint) / pieces
        lengths = [real] * pieces
        lengths[0] -= hidden[0]
        lengths[-1] -= hidden[1]
        layout = layout_of(lengths, limits.joint)
        if min(lengths) <= TOLERANCE:
            return
        yield int(ground.cost(layout.lines()).sum()) + piece_costs(stretch, limits, layout), layout


def _running_out(stretch: Stretch, limits: Limits, ground: Ground) -> Iterator[Candidate]:
    """Towards a raking end: whole units at nominal perpends, the last as long as there is room for."""
    repeat, pitch = stretch.repeated(limits), sum(stretch.repeated(limits)) + len(stretch.repeated(limits)) * limits.joint
    for rest, row in _starts(stretch, limits):
        pieces = list(row)
        free = stretch.length - rest - sum(row) - len(row) * limits.joint
        pieces += repeat * max(0, floor((free + limits.joint + TOLERANCE) / pitch))
        used = rest + sum(pieces) + len(pieces) * limits.joint
        for piece in repeat:
            if used + piece > stretch.length + TOLERANCE:
                break
            pieces.append(piece)
            used += piece + limits.joint
        last = stretch.length - used
        if at_least(last, limits.tip):
            layout = layout_of([*pieces, last], limits.joint, (rest, 0.0))
        else:
            layout = layout_of(pieces, limits.joint, (rest, last + limits.joint))
        cost = int(ground.cost(layout.lines()).sum()) + effort(stretch, limits, row, (), limits.joint)
        yield cost, layout


def _starts(stretch: Stretch, limits: Limits) -> Iterator[tuple[float, Pieces]]:
    """(mortar before it, the first pieces); under a rake at both ends the bond below says where units lie."""
    if not stretch.left.raking:
        rows = [row for row in stretch.left.rows if sum(row) + (len(row) - 1) * limits.joint <= stretch.length]
        yield from ((0.0, row) for row in rows or [stretch.left.rows[0][:1]])
        return
    unit = stretch.repeated(limits)[0]
    middle = min(stretch.below, key=lambda b: abs(b - stretch.length / 2), default=stretch.length / 2)
    first = (middle - unit / 2) % (unit + limits.joint) - limits.joint
    if first < limits.tip:
        yield max(0.0, first + limits.joint), (unit,)
    else:
        yield 0.0, (first,)
