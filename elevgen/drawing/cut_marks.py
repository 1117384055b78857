"""Cut pieces marked with their length: inside each where the scale has room, else once for those that stand over one another."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Rect, Span
from elevgen.coursing.cutpieces import tenths
from elevgen.coursing.model import Placement
from elevgen.drawing.board import SMALLEST_TEXT, Board, Room, text_box
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.inside import FIGURE_SIZES, free, write, written_inside
from elevgen.drawing.labels import Label, Spot
from elevgen.drawing.scene import Role, Text

LEAST_STACK = 3
"""So many like cuts over one another get a mark of their own; fewer are in the table."""
_APART = 2
"""Courses from one cut of a stack to the next: they alternate."""
_SAME_PLACE = 1.0
"""Cuts no further aside than this (mm) stand over one another."""


class CutOnFace(NamedTuple):
    """A cut piece as it shows, and what it is cut to, to the tenth of a millimetre above."""

    course: int
    box: Rect
    length: float


def cuts_on_face(facts: LeafFacts) -> Iterator[CutOnFace]:
    """Every piece cut to a length, course by course; those of courses cut in height, or to a slope, are not among them."""
    for placement in facts.coursing.placements:
        pattern = facts.patterns.get(placement.pattern)
        if pattern is None or pattern.split:
            continue
        for n, piece in enumerate(pattern.pieces):
            if piece.kind == "cut":
                left, top = placement.span.start + piece.at, placement.level + pattern.height
                yield CutOnFace(
                    placement.course,
                    Rect(left, placement.level, left + piece.length, top),
                    tenths(pattern.real(n), facts.figures),
                )


class CutMarks(NamedTuple):
    """The cut pieces a mark fits inside, and labels for stacks of others; for after all other labels."""

    inside: tuple[CutOnFace, ...]
    labels: tuple[Label, ...]


def cut_marks(board: Board, facts: LeafFacts, soft: Room) -> CutMarks:
    """The marks of a leaf's cuts. Where one fits inside its piece, other labels are asked to leave that free."""
    inside: list[CutOnFace] = []
    small: list[CutOnFace] = []
    for cut in cuts_on_face(facts):
        best = next(_marks(board, facts, cut), None)
        if best is None:
            small.append(cut)
            continue
        inside.append(cut)
        soft.take(text_box(best, board.fonts, board.scale))
    openings = [o.rect for o in facts.openings]
    labels = [_stack_label(board, facts, stack, openings, ()) for stack in stacks(small) if len(stack) >= LEAST_STACK]
    labels += [_height_label(board, facts, placement) for placement in _longest_split(facts)]
    return CutMarks(tuple(inside), tuple(labels))


def write_inside(board: Board, facts: LeafFacts, marks: CutMarks) -> tuple[Label, ...]:
    """Write the marks whose pieces nothing has covered. Returns labels for stacks of which no piece has its length in it."""
    written: set[CutOnFace] = set()
    for cut in marks.inside:
        text = free(board, _marks(board, facts, cut))
        if text is not None:
            write(board, text)
            written.add(cut)
    bare = [stack for stack in stacks(list(marks.inside)) if len(stack) >= LEAST_STACK and not written.intersection(stack)]
    openings = [o.rect for o in facts.openings]
    labels = (_stack_label(board, facts, stack, openings, [c.box for c in marks.inside if c not in stack]) for stack in bare)
    return tuple(label._replace(leader=True) for label in labels)


def _marks(board: Board, facts: LeafFacts, cut: CutOnFace) -> Iterator[Text]:
    """What may be written inside a cut piece, the best first."""
    words = (facts.figures.length(cut.length, places) for places in (1, 0))
    return written_inside(board, cut.box, words, Role.MARK, FIGURE_SIZES, facts.leaf.id)


def stacks(cuts: list[CutOnFace]) -> tuple[tuple[CutOnFace, ...], ...]:
    """Cuts of one length that stand over one another in courses that alternate, or follow on each other."""
    alike: defaultdict[float, list[CutOnFace]] = defaultdict(list)
    for cut in sorted(cuts, key=lambda cut: (cut.box.along.middle, cut.course)):
        alike[round(cut.length, 1)].append(cut)
    found: list[tuple[CutOnFace, ...]] = []
    for length in sorted(alike):
        for place in _parted(alike[length], lambda a, b: b.box.along.middle - a.box.along.middle > _SAME_PLACE):
            rising = sorted(place, key=lambda cut: cut.course)
            found += _parted(rising, lambda a, b: b.course - a.course > _APART)
    return tuple(found)


def _parted(cuts: Sequence[CutOnFace], apart: Callable[[CutOnFace, CutOnFace], bool]) -> list[tuple[CutOnFace, ...]]:
    """The cuts in their order, parted wherever two that follow on each other are apart."""
    ends = [n for n, (a, b) in enumerate(pairwise(cuts), start=1) if apart(a, b)]
    return [tuple(cuts[a:b]) for a, b in pairwise((0, *ends, len(cuts)))]


def _stack_label(
    board: Board, facts: LeafFacts, stack: tuple[CutOnFace, ...], openings: Sequence[Rect], others: Sequence[Rect]
) -> Label:
    """Upright on the stack, or just beside it, on none of the other cuts."""
    box = stack[0].box
    levels = Span(box.bottom, stack[-1].box.top)
    aside = board.mm(SMALLEST_TEXT)
    beside = (box.along.middle, box.right + aside, box.left - aside)
    near = [o for o in openings if o.left < box.right + 2 * aside and box.left - 2 * aside < o.right]
    spots = tuple(
        Spot((x, levels.start + levels.length * share), "centre", "middle", 90.0)
        for share in (0.5, 0.25, 0.75)
        for x in beside
        if _masonry(facts, near, Span(x - aside, x + aside), levels)
        and not any(o.along.overlaps(Span(x - aside / 2, x + aside / 2)) and o.levels.overlaps(levels) for o in others)
    )
    words = facts.figures.length(stack[0].length)
    target = (box.along.middle, levels.middle)
    return Label(words, Role.MARK, spots, target, 7, SMALLEST_TEXT, source=facts.leaf.id, leader=False)


def _masonry(facts: LeafFacts, openings: Sequence[Rect], along: Span, levels: Span) -> bool:
    """True where the leaf is built all over a place, none of the openings in it: a mark there belongs to what is beside it."""
    if any(o.along.overlaps(along) and o.levels.overlaps(levels) for o in openings):
        return False
    inside = facts.face.left <= along.start and along.end <= facts.face.right
    return inside and facts.leaf.top.lowest(along) >= levels.end - TOLERANCE


def _longest_split(facts: LeafFacts) -> Iterator[Placement]:
    """The longest stretch of every course whose units are cut in height."""
    found: dict[int, Placement] = {}
    for placement in facts.coursing.placements:
        pattern = facts.patterns.get(placement.pattern)
        longest = found.get(placement.course)
        if pattern is not None and pattern.split and (longest is None or placement.span.length > longest.span.length):
            found[placement.course] = placement
    yield from found.values()


def _height_label(board: Board, facts: LeafFacts, placement: Placement) -> Label:
    height = facts.patterns[placement.pattern].height
    span, middle = placement.span, placement.level + height / 2
    spots = tuple(Spot((span.start + span.length * share, middle)) for share in (0.5, 0.3, 0.7, 0.15, 0.85))
    words = f"course {placement.course} cut to {facts.figures.length(height)} high"
    return Label(words, Role.MARK, spots, (span.middle, middle), 5, SMALLEST_TEXT, source=facts.leaf.id)
