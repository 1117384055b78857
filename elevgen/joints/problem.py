"""The placement problem stripped of masonry: straight edges, faces, places where a joint may stand, and the limits.

Lengths are mm. Positions on an edge, its face and its candidates share one coordinate (`at` along the leaf), so nothing
is shifted on the way in or out.

The joints that must stand whatever the spacing, given ones among them, are put in before; what they leave falls into parts.
Each piece that joints leave is held to the strictest of its own faces (with branches: to the strictest of its part). The cost
of an answer, compared item by item (the first difference decides):

1. how far the corner rule is missed (mm, added up; the other rules are kept wherever a candidate allows it),
2. number of joints,
3. crowding: how much nearer to an opening or a corner than liked each joint stands (steps of 50 mm, added up),
4. joints not hidden,
5. evenness: the sum of the squared straight lengths between joints, corners, ends and meetings,
6. joints off the bond's grid.

Where no candidate lies in a stretch that is too long, the stretch cannot be made legal: every candidate bordering it
becomes a joint, so that it is as short as it can be, and what remains is solved exactly.

Where a joint is asked for near something (`Wanted`) one stands, before any of this is compared.

The candidates are places on the bond's grid and the ends of free stretches. The number of joints ranks above the bond, so
it is also held against every place of the free stretches: where fewer joints would do off the bond, the places that make
them do become candidates too. They are not offered otherwise: a few millimetres of evenness are not worth cut units.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import inf
from typing import Literal, NamedTuple

from elevgen.building.model import Profile
from elevgen.core.geometry import TOLERANCE, Span, at_most

HAIR = 2 * TOLERANCE
"""No more than so much of a face (mm) is none of it: a joint stands at its very end."""

FaceEnd = Literal["corner", "free", "stem", "joint"]


class Candidate(NamedTuple):
    """A place a joint may stand. `given`: a joint stands here already, whatever the solver thinks of it.

    `crowding`: how much nearer to an opening or a corner than liked, in steps of 50 mm.
    """

    at: float
    crowding: int = 0
    hidden: bool = False
    on_grid: bool = True
    given: bool = False


class Edge(NamedTuple):
    """A straight stretch of one face from node `a` at `span.start` to node `b` at `span.end`; candidates in order inside it.

    `free`: where a joint may stand whatever the bond, in order; both ends of each are candidates. Empty: only at candidates.
    """

    id: str
    face: str
    a: str
    b: str
    span: Span
    candidates: tuple[Candidate, ...] = ()
    free: tuple[Span, ...] = ()


class Face(NamedTuple):
    """A straight face: what it ends against, the distance within which a corner wants its first joint, the longest panel.

    `corner_reach` None: no such rule. `panel` gives the longest panel the height at each place allows; a panel must
    respect the least of them over its whole length. None: no such rule. `spacing`: the longest continuous path that may
    remain in masonry the face is part of, by its own material; infinite: none of its own.
    """

    id: str
    span: Span
    start: FaceEnd = "corner"
    finish: FaceEnd = "corner"
    corner_reach: float | None = None
    panel: Profile | None = None
    spacing: float = inf

    def panel_limit(self, over: Span) -> float | None:
        return None if self.panel is None else self.panel.lowest(over)

    def panels(self) -> Span:
        """The least and the greatest length a panel of the face may have somewhere."""
        return Span(inf, inf) if self.panel is None else Span(self.panel.lowest(self.span), self.panel.highest(self.span))

    def short_enough(self, over: Span) -> bool:
        """True when the stretch keeps the panel rule."""
        limit = self.panel_limit(over)
        return limit is None or at_most(over.length, limit)


class Wanted(NamedTuple):
    """One joint at least is asked for in these stretches of faces, which follow on each other: the rule, and in words.

    `limit`: how near something a joint is asked for (mm), `side`: on which side of it, -1 before, 1 past it, 0 either.
    """

    stretches: tuple[tuple[str, Span], ...]
    rule: str
    words: str
    limit: float
    side: int = 0

    def met_at(self, face: str, at: float) -> bool:
        """Whether a joint there is one of those asked for."""
        return any(name == face and span.start - TOLERANCE <= at <= span.end + TOLERANCE for name, span in self.stretches)


class Problem(NamedTuple):
    """Edges joined at their nodes, and the longest continuous path that may remain between joints.

    `spacing` is that of the strictest face, and of faces that have none. Masonry cut off from that face is held to the strictest
    of its own. `wanted`:
    where a joint is asked for whatever the lengths; each has a candidate.
    """

    edges: tuple[Edge, ...]
    faces: tuple[Face, ...]
    spacing: float
    wanted: tuple[Wanted, ...] = ()

    def face(self, face_id: str) -> Face:
        return next(f for f in self.faces if f.id == face_id)


def strictest_face(faces: Iterable[Face]) -> Face:
    """Of these faces, that which allows the shortest path; of several the first by name."""
    return min(faces, key=lambda f: (f.spacing, f.id))


def spacing_of(faces: Iterable[Face], otherwise: float) -> float:
    """The longest path that may remain in masonry of these faces; `otherwise` where none has a spacing of its own."""
    found = strictest_face(faces).spacing
    return otherwise if found == inf else found


Placed = tuple[str, float]
"""Edge id and position of a joint."""


class Solution(NamedTuple):
    """Where the joints go.

    `optimal`: fewer joints cannot do wherever they stand, and no answer from the candidates is better by the cost above.
    `lower_bound`: fewer joints than this cannot do wherever they stand; below their number where that much is not proven.
    """

    joints: tuple[Placed, ...]
    optimal: bool
    lower_bound: int
