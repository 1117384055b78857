"""Why a joint stands where it does and not at another place: the first thing in the order of `problem` that tells them apart."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise

from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span, at_most
from elevgen.joints.audit import Remnant, remnants
from elevgen.joints.candidates import Site
from elevgen.joints.hindrance import Around, Openings, hindrance, opening_name
from elevgen.joints.musts import kept_apart
from elevgen.joints.problem import Candidate, Edge, Face, Placed, Problem, Wanted
from elevgen.joints.reasons import Cut
from elevgen.joints.words import hiding_words, length

AS_GOOD = "just as good, either would do"
NOT_PROVEN = "no worse by itself; the placement of this run is not proven best"


class Stand:
    """A joint of a run, and the straight stretch of its face it stands in: from the joint or end before it to that after it."""

    def __init__(self, made: Cut, placed: Placed, neighbours: Sequence[Placed], edges: Sequence[Edge], around: Around) -> None:
        self.made, self.placed, self.neighbours, self.around = made, placed, neighbours, around
        self.face: Face = made.faces[made.edges[placed[0]].face]
        before, after = ([at for _, at in neighbours if (at < placed[1]) == side] for side in (True, False))
        self.room = Span(*before or (self.face.span.start,), *after or (self.face.span.end,))
        first = max(bisect_right(edges, self.room.start, key=lambda e: e.span.start) - 1, 0)
        self.edges = edges[first : bisect_left(edges, self.room.end, key=lambda e: e.span.start)]
        leaf = made.surveyed.leaves[placed[0]]
        self.at = placed[1]
        self.site: Site = made.surveyed.sites[leaf]
        self.openings: Openings = around.openings[around.walls[leaf].id]
        liking = self.liking = made.surveyed.clear[leaf]
        self.clear = max(liking.of_reveals or 0.0, self.site.unit.length + self.site.unit.joint)
        known = next(
            (c for e in self.edges if e.id == placed[0] for c in _within(e, Span(self.at, self.at)) if c.at == self.at), None
        )
        self.candidate: Candidate = known or made.surveyed.off_bond(*placed)

    def off(self, figures: Figures, at: float) -> str:
        """How far a place is from the joint: `1.35 m to the right`, `45 mm to the left`."""
        far, side = abs(at - self.at), "right" if at > self.at else "left"
        return f"{figures.run(far) if far >= 1000 else figures.measure(far, 0)} to the {side}"

    def nearest(self, at: float, within: Span) -> Candidate | None:
        """The candidate nearest to a place in a span, between the neighbours."""
        inside = within.grown(TOLERANCE).common(self.room)
        if inside is None:
            return None
        found = [c for edge in self.edges for c in _closest(edge, at, inside) if self.room.start < c.at < self.room.end]
        return min(found, key=lambda c: (round(abs(c.at - at), 3), c.at), default=None)

    @cached_property
    def uncut(self) -> Problem:
        """The masonry between the other joints."""
        return self.made.uncut(self.placed)

    def pieces(self, at: float) -> tuple[Remnant, ...]:
        """What the joint would leave at another place."""
        name = next(e.id for e in self.edges if e.span.contains(at))
        part = next(p.id for p in self.uncut.edges if p.id.rsplit("@", 1)[0] == name and p.span.start < at < p.span.end)
        return remnants(self.uncut, ((part, at),))

    def surely_short(self, at: float) -> bool:
        """Whether no path can get too long: one piece grows by no more than the joint moves, the other shrinks."""
        here, (name, now) = self.made.beside[self.placed], self.placed
        if len(here) < 2 or not self.made.edges[name].span.contains(at) or not all(piece.short_enough for piece in here):
            return False
        ends = [(name, span.end if at > now else span.start, piece) for piece in here for name, span in piece.stretches]
        return any((edge, end) == self.placed and at_most(p.longest + abs(at - now), p.spacing) for edge, end, p in ends)

    def lacking(self, at: float) -> Wanted | None:
        """What is asked for and would not be there with the joint at another place."""
        wanted = self.made.surveyed.problem.wanted
        return next((w for w in wanted if w.met_at(self.face.id, self.at) and not self._serves(w, at)), None)

    def _serves(self, wanted: Wanted, at: float) -> bool:
        faces = ((self.made.edges[name].face, other) for name, other in self.made.joints if (name, other) != self.placed)
        return wanted.met_at(self.face.id, at) or any(wanted.met_at(face, other) for face, other in faces)

    def panels(self, at: float) -> tuple[Span, Span]:
        return Span(self.room.start, at), Span(at, self.room.end)

    def missed(self, at: float) -> list[float]:
        """How far the joint would be from each corner that wants it nearer."""
        face = self.face
        if face.corner_reach is None:
            return []
        ends = ((face.start, face.span.start, self.room.start), (face.finish, face.span.end, self.room.end))
        off = [abs(at - end) for kind, end, bound in ends if kind == "corner" and abs(end - bound) <= TOLERANCE]
        return [far for far in off if not at_most(far, face.corner_reach)]

    def lengths(self, at: float) -> list[float]:
        """The straight lengths of the stretch with the joint at a place, between joints, ends and meetings."""
        met = (edge.span.start for edge in self.edges if self.room.start < edge.span.start < self.room.end)
        return [v - u for u, v in pairwise(sorted((self.room.start, *met, at, self.room.end)))]

    def beside(self, figures: Figures, at: float) -> str:
        """The straight lengths on both sides of a place."""
        panels = self.panels(at)
        return f"{figures.run(panels[0].length).removesuffix(' m')} and {figures.run(panels[1].length)}"


def stand_of(made: Cut, placed: Placed, on_face: Mapping[str, Sequence[Edge]], around: Around) -> Stand:
    """A joint and its stretch."""
    face = made.edges[placed[0]].face
    joints = made.on_face[face]
    here = bisect_left(joints, placed[1], key=lambda joint: joint[1])
    return Stand(made, placed, [*joints[max(here - 1, 0) : here], *joints[here + 1 : here + 2]], on_face[face], around)


def verdict(figures: Figures, stand: Stand, at: float, candidate: Candidate | None, beside: str = "") -> str:
    """Why the joint is not at that place: what is in the way, the rule it would break, or what is liked less there.

    `beside` names the opening the place was asked for, which is not named again.
    """
    if candidate is None:
        return _in_the_way(figures, stand, at)
    return next(_broken(figures, stand, at), None) or _liked_less(figures, stand, candidate, beside)


def _in_the_way(figures: Figures, stand: Stand, at: float) -> str:
    surveyed = stand.made.surveyed
    for other in stand.neighbours:
        stands = other in surveyed.given or other in surveyed.musts
        if stands and kept_apart(stand.site, other[1]).contains(at):
            return f"too near the joint at {length(figures, other[1])}, which stands"
    return hindrance(at, stand.site, stand.around)


def _broken(figures: Figures, stand: Stand, at: float) -> Iterator[str]:
    """Rules not kept with the joint there, in the order in which they are looked at."""
    here = stand.made.beside[stand.placed]
    too_long = [] if stand.surely_short(at) else [piece for piece in stand.pieces(at) if not piece.short_enough]
    if too_long:
        worst = max(too_long, key=lambda piece: piece.longest - piece.spacing)
        now = max((piece.longest for piece in here if not piece.short_enough), default=None)
        left, now_left = _over(figures, worst.longest, worst.spacing), _instead(figures, now, worst.longest)
        yield f"leaves {left} in one piece, {length(figures, worst.spacing)} allowed{now_left}"
    for panel in stand.panels(at):
        limit = stand.face.panel_limit(panel)
        if limit is not None and not at_most(panel.length, limit):
            yield f"leaves a panel of {_over(figures, panel.length, limit)}, {length(figures, limit)} allowed by its height"
    if lacking := stand.lacking(at):
        yield f"none would be {lacking.words}"
    reach, missed, now_missed = stand.face.corner_reach, stand.missed(at), stand.missed(stand.at)
    if reach is not None and _tenths(f - reach for f in missed) > _tenths(f - reach for f in now_missed):
        far = max(missed)
        now = max(now_missed, default=None)
        now_far = _instead(figures, now, far)
        yield f"the first joint {_over(figures, far, reach)} from the corner, {length(figures, reach)} allowed{now_far}"


def _over(figures: Figures, measured: float, limit: float) -> str:
    """A length that is over a limit, with as many figures as show it."""
    said = length(figures, measured)
    return said if said != length(figures, limit) else figures.measure(measured)


def _instead(figures: Figures, now: float | None, other: float) -> str:
    """What there is where the joint stands, if that is too long as well."""
    return "" if now is None or abs(now - other) <= TOLERANCE else f" ({length(figures, now)} as it stands)"


def _liked_less(figures: Figures, stand: Stand, other: Candidate, beside: str) -> str:
    """The first preference by which the place taken is better."""
    mine = stand.candidate
    if stand.missed(other.at) != stand.missed(stand.at) and len(stand.missed(stand.at)) > 0:
        return NOT_PROVEN
    if other.crowding != mine.crowding:
        return _crowded(figures, stand, other.at, beside) if other.crowding > mine.crowding else NOT_PROVEN
    if other.hidden != mine.hidden:
        hidden = hiding_words(stand.site.hides, stand.at)
        return f"not hidden, as it is {hidden}" if mine.hidden else NOT_PROVEN
    even, uneven = (sum(round(x * 10) ** 2 for x in stand.lengths(at)) for at in (stand.at, other.at))
    if even != uneven:
        less = f"pieces less even ({stand.beside(figures, other.at)}, not {stand.beside(figures, stand.at)})"
        return less if uneven > even else NOT_PROVEN
    if other.on_grid != mine.on_grid:
        return "off the bond, units are cut" if mine.on_grid else NOT_PROVEN
    return AS_GOOD


def _crowded(figures: Figures, stand: Stand, at: float, beside: str) -> str:
    """What a place is too near to, more so than the joint as it stands: `120 mm from window W2, 675 liked`."""
    there, here = _nearest_things(stand, at), _nearest_things(stand, stand.at)
    worse = max(zip(there, here, strict=True), key=lambda pair: max(_lacking(pair[0]), 0.0) - max(_lacking(pair[1]), 0.0))
    (distance, liked, what), (now, _, _) = worse
    as_it_is = f" ({figures.measure(now, 0)} as it stands)" if stand.candidate.crowding else ""
    named = "its side" if what == beside else what
    return f"{figures.measure(distance, 0)} from {named}, {figures.length(liked, 0)} liked{as_it_is}"


_Thing = tuple[float, float, str]
"""How near a thing is to a joint, how near is liked, its name."""


def _lacking(thing: _Thing) -> float:
    return thing[1] - thing[0]


def _nearest_things(stand: Stand, at: float) -> list[_Thing]:
    """By wish that which a joint there is too near to: of opening and corner, and of the corners of a wall so high."""
    clear, half = stand.liking, stand.site.width / 2
    found: list[_Thing] = []
    if clear.of_reveals is not None:
        liked = clear.of_reveals
        near = (o for o in (stand.openings.left_of(at), stand.openings.right_of(at)) if o is not None)
        found += [(max(o.rect.left - at, at - o.rect.right) - half, liked, opening_name(o)) for o in near]
    corners = [abs(at - c.middle) - half for c in stand.site.corners]
    if clear.of_corners is not None:
        found += [(far, clear.of_corners, "the corner") for far in corners]
    by_height = clear.of_corners_by_height
    high = [] if by_height is None else [(far, by_height, "the corner") for far in corners]
    return [min(wish, key=lambda one: (one[0] - one[1], one[2])) for wish in (found, high) if wish]


def _tenths(missed: Iterable[float]) -> int:
    return sum(round(by * 10) for by in missed)


def _closest(edge: Edge, at: float, inside: Span) -> Iterator[Candidate]:
    """The candidates of an edge in a span that are nearest to a place on both sides."""
    first, last = _range(edge, inside)
    near = min(max(bisect_left(edge.candidates, (at,)), first), last)
    yield from edge.candidates[max(near - 1, first) : min(near + 1, last)]


def _within(edge: Edge, inside: Span) -> Sequence[Candidate]:
    first, last = _range(edge, inside.grown(TOLERANCE))
    return edge.candidates[first:last]


def _range(edge: Edge, inside: Span) -> tuple[int, int]:
    return bisect_left(edge.candidates, (inside.start,)), bisect_right(edge.candidates, (inside.end, 10**9))
