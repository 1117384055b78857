"""Other places a joint might have stood, and why each was not taken.

Each is judged by moving this one joint there and measuring again what lies between its neighbours (`verdicts`). Which
places: the nearest that would hide it, the next perpend where it stands off the bond, beside the openings to either side,
and the middle of its stretch.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Opening
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.candidates import perpends
from elevgen.joints.hindrance import Around, opening_name
from elevgen.joints.model import Rejected
from elevgen.joints.problem import Candidate, Edge, Placed
from elevgen.joints.reasons import Cut
from elevgen.joints.verdicts import Stand, stand_of, verdict
from elevgen.joints.words import hiding_words

MOST = 3
"""Places kept for each joint."""


class _Asked(NamedTuple):
    """A place somebody would ask about: in words, the candidate there or None, and the opening it is beside."""

    words: str
    at: float
    candidate: Candidate | None
    beside: str = ""


def edges_by_face(made: Cut) -> Mapping[str, Sequence[Edge]]:
    """The edges of each face, in order."""
    found: dict[str, list[Edge]] = {}
    for edge in made.edges.values():
        found.setdefault(edge.face, []).append(edge)
    return {face: sorted(edges, key=lambda e: e.span) for face, edges in found.items()}


def rejected(
    figures: Figures, made: Cut, placed: Placed, on_face: Mapping[str, Sequence[Edge]], around: Around
) -> tuple[Rejected, ...]:
    """Up to three other places for a placed joint, those a foreman would ask about first, each with why it was not taken."""
    stand = stand_of(made, placed, on_face, around)
    found: dict[float, Rejected] = {}
    for asked in _asked(figures, stand):
        at = round(asked.at, 1)
        if abs(asked.at - stand.at) > 2 * TOLERANCE and at not in found:
            found[at] = Rejected(asked.at, f"{asked.words}: {verdict(figures, stand, asked.at, asked.candidate, asked.beside)}")
            if len(found) == MOST:
                break
    return tuple(found.values())


def _asked(figures: Figures, stand: Stand) -> Iterator[_Asked]:
    yield from _hidden(figures, stand)
    if not stand.candidate.on_grid:
        yield from _next_perpend(figures, stand)
    openings = _neighbours(stand)
    yield from _beside_opening(figures, stand, openings[:1])
    yield from _middle(figures, stand)
    yield from _beside_opening(figures, stand, openings[1:])


def _hidden(figures: Figures, stand: Stand) -> Iterator[_Asked]:
    """The nearest place that would hide the joint."""
    if stand.candidate.hidden:
        return
    hides = [hide for hide in stand.site.hides if hide[1].overlaps(stand.room) and not _used(stand, hide[1])]
    if hides:
        kind, span = min(hides, key=lambda hide: (abs(hide[1].middle - stand.at), hide))
        found = stand.nearest(span.middle, span)
        at = min(max(span.middle, stand.room.start), stand.room.end) if found is None else found.at
        yield _Asked(f"{hiding_words([(kind, span)], span.middle)} at {figures.run(at)}", at, found)


def _used(stand: Stand, hide: Span) -> bool:
    """Whether a joint next to this one is hidden there."""
    return any(hide.contains(at) for _, at in stand.neighbours)


def _next_perpend(figures: Figures, stand: Stand) -> Iterator[_Asked]:
    """The perpend of the bond next to a joint that stands off it."""
    step = stand.site.unit.length + stand.site.unit.joint
    near = Span(stand.at - step, stand.at + step).common(stand.room)
    on_bond = [] if near is None else perpends(stand.site.leaf, stand.site.unit, near, stand.site.gap)
    at = min(on_bond, key=lambda at: (round(abs(at - stand.at), 2), at), default=None)
    if at is not None:
        yield _Asked(f"at the next perpend, {stand.off(figures, at)}", at, stand.nearest(at, Span(at, at)))


def _neighbours(stand: Stand) -> list[Opening]:
    """The nearest opening on either side of the joint, before its neighbours; the nearer one first."""
    left, right = stand.openings.left_of(stand.at), stand.openings.right_of(stand.at)
    found = [] if left is None or left.rect.right <= stand.room.start else [left]
    found += [] if right is None or right.rect.left >= stand.room.end else [right]
    return sorted(found, key=lambda o: (round(_clear(o, stand.at), 1), o.id))


def _clear(opening: Opening, at: float) -> float:
    return max(opening.rect.left - at, at - opening.rect.right)


def _beside_opening(figures: Figures, stand: Stand, openings: Sequence[Opening]) -> Iterator[_Asked]:
    """As near to the side of an opening as a joint can stand; right at it where something is in the way."""
    half, reach = stand.site.width / 2, stand.clear
    for o in openings:
        right = o.rect.left >= stand.at
        side = o.rect.left - half if right else o.rect.right + half
        near = Span(side - reach, side) if right else Span(side, side + reach)
        found = stand.nearest(side, near)
        if found is None or abs(found.at - stand.at) <= 2 * TOLERANCE:
            found = stand.nearest(side, Span(side, side))
        at = side if found is None else found.at
        yield _Asked(f"{stand.off(figures, at)}, beside {opening_name(o)}", at, found, opening_name(o))


def _middle(figures: Figures, stand: Stand) -> Iterator[_Asked]:
    """The middle of the straight stretch, or the perpend next to it."""
    middle, reach = stand.room.middle, stand.site.unit.length + stand.site.unit.joint
    found = stand.nearest(middle, Span(middle, middle).grown(reach))
    at = middle if found is None else found.at
    yield _Asked(f"at {figures.run(at)}, in the middle of the stretch", at, found)
