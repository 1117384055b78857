"""Part of a course cut anew, where its perpends stand in places that should be kept clear of them.

The rest of the course stays as it is: a few units each side of the place are cut in the cheapest way there is (`exact`).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.exact import exact
from elevgen.coursing.stretch import CLASH, End, Ground, Layout, Limits, Lines, Stretch, in_the_way, layout_of, piece_costs

BESIDE = 4
"""So many pieces each side of a place may be cut anew."""
_OPEN = End((), open=True)


class _Part(NamedTuple):
    """Pieces `first` to `last` of a course, both included."""

    first: int
    last: int


def cleared(stretch: Stretch, layout: Layout, limits: Limits) -> Layout:
    """The layout with fewer perpends in the way, where cutting less than they cost does it. `stretch.below` is to be lapped.

    The same layout where nothing helps; its perpends keep their width.
    """
    if stretch.left.raking or stretch.right.raking:
        return layout
    lines = layout.lines()
    wrong = np.flatnonzero(in_the_way(lines, stretch.clear)).tolist()
    pieces = layout.lengths
    for part in reversed(_parts(wrong, len(pieces))):
        pieces[part.first : part.last + 1] = _recut(part, pieces, lines, stretch, layout, limits)
    return layout_of(pieces, layout.perpend, layout.rests)


def _parts(wrong: Sequence[int], count: int) -> list[_Part]:
    """The parts of a course of so many pieces around each perpend (that after piece k is k); those that touch are one."""
    parts: list[_Part] = []
    for k in wrong:
        part = _Part(max(0, k + 1 - BESIDE), min(count - 1, k + BESIDE))
        if parts and part.first <= parts[-1].last + 1:
            parts[-1] = _Part(parts[-1].first, part.last)
        else:
            parts.append(part)
    return parts


def _recut(
    part: _Part, pieces: Sequence[float], lines: Lines, stretch: Stretch, layout: Layout, limits: Limits
) -> Sequence[float]:
    """The pieces of a part, cut anew where that costs less."""
    perpend = layout.perpend
    left = layout.rests[0] if part.first == 0 else float(lines[part.first - 1]) + perpend / 2
    right = stretch.length - layout.rests[1] if part.last == len(pieces) - 1 else float(lines[part.last]) - perpend / 2
    limits = limits._replace(joint=perpend)
    inside = Stretch(
        right - left,
        stretch.left if part.first == 0 else _OPEN,
        stretch.right if part.last == len(pieces) - 1 else _OPEN,
        tuple(b - left for b in stretch.below if left < b < right),
        stretch.repeat,
        stretch.link,
        tuple(c._replace(left=c.left - left, right=c.right - left) for c in stretch.clear if c.right > left and c.left < right),
    )
    old = list(pieces[part.first : part.last + 1])
    before = layout_of(old, perpend)
    cost = piece_costs(inside, limits, before) + _in_ground(inside, limits, before)
    for lap in (limits.lap, limits.lap + 2 * TOLERANCE):
        closer = limits._replace(lap=lap)
        for found, layout in exact(inside, closer, Ground(inside, closer)):
            if found < cost and _in_ground(inside, limits, layout) // CLASH <= found // CLASH:
                return layout.lengths
    return old


def _in_ground(stretch: Stretch, limits: Limits, layout: Layout) -> int:
    """What the perpends of a layout cost by lapping too little or standing in the way, where they really come.

    Whole units put in place of pieces as good as whole move them by a hair, so that a lap that only just did may not do.
    """
    return int(Ground(stretch, limits).cost(layout.lines()).sum())
