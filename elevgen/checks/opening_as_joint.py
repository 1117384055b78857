"""A door, a window, a corner or a tied end that was counted on as a movement joint is named."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf, Opening, Wall
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._overlong import Limit, Piece, every_piece, over, under
from elevgen.checks._rules import uncovered
from elevgen.checks._spacing import allowed
from elevgen.checks._words import listed
from elevgen.core.figures import Figures
from elevgen.core.geometry import Span, at_most, merge, subtract
from elevgen.result import Design, Finding

CODE = "opening-as-joint"
TITLE = "Openings and corners taken for movement joints"
RATIONALE = (
    "Read from opening to opening, or each wall by itself, masonry looks short enough. But it goes on over and under an "
    "opening and round a tied corner, it moves as one piece, and it cracks at the openings, where it is weakest."
)
MANY = 5
"""Openings named one by one in a sentence, up to this number."""


class _Straight(NamedTuple):
    """Masonry of one leaf between movement joints, corners and ends, and the openings in it from its start."""

    leaf: Leaf
    span: Span
    openings: tuple[Opening, ...]

    @property
    def parts(self) -> tuple[Span, ...]:
        """What is left of it when every opening is taken for a joint."""
        return subtract(self.span, [opening.rect.along for opening in self.openings])


def check(design: Design) -> Iterator[Finding]:
    """A note on each piece longer than its spacing no straight part of which is, counted from opening to opening.

    Only where a wall in it has its joints given, or none: where they are placed nothing was counted on. The length
    itself is judged by joint-spacing.
    """
    walls = {wall.id: wall for wall in design.building.walls}
    leaves = {leaf.id: leaf for leaf in design.building.leaves}
    silent = True
    for leaf in leaves.values():
        missing = allowed(design, leaf).missing
        if missing and not walls[leaf.wall].placing:
            silent = False
            yield uncovered(design, at_leaf(leaf), *missing)
    for piece in every_piece(design):
        limit = piece.over
        if limit is None or all(walls[leaves[leaf].wall].placing for leaf in piece.way.leaves):
            continue
        straights = _straights(piece, leaves, walls)
        if all(at_most(part.length, limit.number) for straight in straights for part in straight.parts):
            silent = False
            yield _counted_on(design.figures, piece, leaves, limit, straights)
    if silent:
        yield found("pass", BUILDING, "no opening and no corner is counted on as a movement joint")


def _straights(piece: Piece, leaves: Mapping[str, Leaf], walls: Mapping[str, Wall]) -> list[_Straight]:
    straights = []
    for name in piece.way.leaves:
        wall = walls[leaves[name].wall]
        for span in merge(s.span for s in piece.way.stretches if s.leaf == name):
            inside = sorted((o for o in wall.openings if o.rect.along.overlaps(span)), key=lambda o: (o.rect, o.id))
            straights.append(_Straight(leaves[name], span, tuple(inside)))
    return straights


def _counted_on(
    figures: Figures, piece: Piece, leaves: Mapping[str, Leaf], limit: Limit, straights: Sequence[_Straight]
) -> Finding:
    """Openings were counted on where a straight part is too long with them in it; else only corners and tied ends were."""
    long = [s for s in straights if not at_most(s.span.length, limit.number)]
    openings = tuple(dict.fromkeys(opening.id for straight in long for opening in straight.openings))
    walls = listed(list(dict.fromkeys(s.leaf.wall for s in straights)))
    longest, wall = max(((part.length, s.leaf.wall) for s in straights for part in s.parts), default=(0.0, ""))
    within = f"within {figures.run(limit.number)}" + (f" (the longest is {figures.run(longest)}, in {wall})" if wall else "")
    whole = f"one piece of {'' if piece.way.exact else 'at least '}{figures.run(piece.way.length)}"
    tied = f"but {walls} are bonded or tied together, {whole}: a corner or a tied end is no joint"
    needs = "a movement joint" if at_most(piece.way.length, 2 * limit.number) else "movement joints"
    if not openings:
        text = f"every straight part is {within}, {tied}; it needs {needs}"
    else:
        joined = tied if len(piece.place(figures, leaves).walls) > 1 else f"but the wall is {whole}"
        names = listed(openings) if len(openings) <= MANY else f"the {len(openings)} openings {openings[0]} to {openings[-1]}"
        names += " is no joint" if len(openings) == 1 else " are no joints"
        text = f"{names}: {_goes_on(long)}. From opening to opening every part is {within}, {joined}"
        text += f"; it needs {needs} clear of the openings"
    place = piece.place(figures, leaves)._replace(openings=openings)
    return found("note", place, text, measured=piece.way.length, most=limit.number, source=limit.source, also=limit.also)


def _goes_on(straights: Sequence[_Straight]) -> str:
    """Where the masonry goes on past the openings."""
    holes = [(s.leaf, opening.rect) for s in straights for opening in s.openings]
    sides = [side for side, there in (("over", over), ("under", under)) if any(there(leaf, hole) for leaf, hole in holes)]
    return f"the masonry {listed(sides)} {'it' if len(holes) == 1 else 'them'} is in one piece"
