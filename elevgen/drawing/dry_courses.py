"""The first two courses set out dry: where their perpends come, from the setting-out end, and which pieces are not whole.

On a stepped base the first two courses on each of its levels. Places are along the wall line, mm.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import TOLERANCE, Span
from elevgen.coursing.cutpieces import tenths
from elevgen.coursing.model import Pattern, PieceKind, Placement
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.listing import LONGEST_TURN, places, several
from elevgen.drawing.tables import Column, Row, Table

COURSES = 2
_BESIDE = 1.0
"""How near to a stretch's end (mm) that must be which the end is named after."""


class DryPiece(NamedTuple):
    """A piece as it shows, and what it is cut to: what a return hides included, to the tenth of a millimetre above."""

    span: Span
    kind: PieceKind
    length: float


class DryStretch(NamedTuple):
    """A course from one end, joint, reveal or step to the next; `turn` is 0 for the first course on its level."""

    course: int
    turn: int
    span: Span
    begins: str
    ends: str
    perpends: tuple[Span, ...]
    pieces: tuple[DryPiece, ...]
    cut_to: float | None

    @property
    def middles(self) -> tuple[float, ...]:
        return tuple(perpend.middle for perpend in self.perpends)


def dry_courses(facts: LeafFacts) -> tuple[DryStretch, ...]:
    """Level by level from the left, course by course, stretch by stretch."""
    return tuple(stretch for level in _base_levels(facts) for stretch in _on_level(facts, *level))


def _base_levels(facts: LeafFacts) -> tuple[tuple[Span, float], ...]:
    """Each level stretch of the base; the whole face where there is none."""
    points = facts.leaf.base.clipped(facts.leaf.span)
    found: list[tuple[Span, float]] = []
    for (a, low), (b, high) in pairwise(points):
        if abs(low - high) > TOLERANCE or b - a <= TOLERANCE:
            continue
        if found and abs(found[-1][1] - low) <= TOLERANCE and a - found[-1][0].end <= TOLERANCE:
            found[-1] = (Span(found[-1][0].start, b), low)
        else:
            found.append((Span(a, b), low))
    return tuple(found) or ((facts.face.along, facts.face.bottom),)


def _on_level(facts: LeafFacts, over: Span, base: float) -> Iterator[DryStretch]:
    beds = {course.number: course.level - course.bed for course in facts.coursing.courses}
    laid: defaultdict[int, list[Placement]] = defaultdict(list)
    for placement in facts.coursing.placements:
        if placement.span.overlaps(over) and beds[placement.course] >= base - TOLERANCE:
            laid[placement.course].append(placement)
    for turn, course in enumerate(sorted(laid)[:COURSES]):
        for placement in sorted(laid[course], key=lambda p: p.span):
            yield _stretch(facts, placement, turn, over)


def _stretch(facts: LeafFacts, placement: Placement, turn: int, over: Span) -> DryStretch:
    pattern, start = facts.patterns[placement.pattern], placement.span.start
    span = Span(max(start, over.start), min(placement.span.end, over.end))
    perpends = (Span(start + p.at, start + p.at + p.width) for p in pattern.perpends)
    pieces = (_piece(facts, pattern, n, start) for n in range(len(pattern.pieces)))
    return DryStretch(
        course=placement.course,
        turn=turn,
        span=span,
        begins=_name(facts, span.start),
        ends=_name(facts, span.end),
        perpends=tuple(p for p in perpends if span.contains(p.middle)),
        pieces=tuple(p for p in pieces if p.span.overlaps(span)),
        cut_to=pattern.height if pattern.split else None,
    )


def _piece(facts: LeafFacts, pattern: Pattern, number: int, start: float) -> DryPiece:
    piece = pattern.pieces[number]
    shown = Span(start + piece.at, start + piece.at + piece.length)
    return DryPiece(shown, piece.kind, piece.length if piece.kind == "return" else tenths(pattern.real(number), facts.figures))


def _name(facts: LeafFacts, at: float) -> str:
    """What stands where a stretch ends: a joint, an opening, a wall met, the end of the leaf, a step in its base."""
    for joint in facts.joints:
        if min(abs(joint.gap.start - at), abs(joint.gap.end - at)) <= _BESIDE:
            return facts.short(joint.id)
    for opening in facts.openings:
        if min(abs(opening.rect.left - at), abs(opening.rect.right - at)) <= _BESIDE:
            return opening.id
    for met in facts.met:
        if min(abs(met.band.left - at), abs(met.band.right - at)) <= _BESIDE:
            return met.wall
    for end, face in ((facts.leaf.start_end, facts.face.left), (facts.leaf.finish_end, facts.face.right)):
        if abs(face - at) <= _BESIDE:
            return "corner" if end.kind == "corner" else "end"
    return "step" if any(abs(over.start - at) <= _BESIDE for over, _ in _base_levels(facts)) else ""


def dry_table(facts: LeafFacts) -> Table:
    """The first two courses in words: a row a stretch, then the reveals of openings that begin higher up."""
    columns = (
        Column("course", 11),
        Column("from", 17),
        Column("to", 17),
        Column("middles of perpends", 31),
        Column("not whole", 24),
    )
    stretches = dry_courses(facts)
    whole = facts.figures.length
    rows = [
        Row(
            (
                f"{s.course}",
                f"{whole(s.span.start)} {s.begins}",
                f"{whole(s.span.end)} {s.ends}",
                places(facts.figures, s.middles, LONGEST_TURN) or "none",
                _not_whole(facts, s),
            ),
            facts.leaf.id,
        )
        for s in stretches
    ]
    named = {name for s in stretches for name in (s.begins, s.ends)}
    higher = [group for group in sorted(facts.groups, key=lambda g: g.clear.left) if not named.intersection(group.openings)]
    reveals = "; ".join(f"{several(g.openings)} {whole(g.clear.left)} to {whole(g.clear.right)}" for g in higher)
    if rows and reveals:
        rows.append(Row(("mark", "reveals", "above", reveals, ""), facts.leaf.id))
    return Table("First two courses, set out dry", columns, tuple(rows))


def _not_whole(facts: LeafFacts, stretch: DryStretch) -> str:
    """`return 102.5 first; cut 157.6 at 1124`: each piece that is cut or comes round a corner, and where it begins."""
    length = facts.figures.length
    if stretch.cut_to is not None:
        return f"all cut to {length(stretch.cut_to)} high"
    found: defaultdict[tuple[PieceKind, str], list[DryPiece]] = defaultdict(list)
    for piece in stretch.pieces:
        if piece.kind != "full":
            found[piece.kind, length(piece.length)].append(piece)
    said = []
    for (kind, size), pieces in found.items():
        first = [p for p in pieces if p.span.start <= stretch.span.start + TOLERANCE]
        last = [p for p in pieces if p.span.end >= stretch.span.end - TOLERANCE and p not in first]
        between = [p.span.start for p in pieces if p not in first and p not in last]
        where = ["first"] * bool(first) + ([f"at {places(facts.figures, between)}"] if between else []) + ["last"] * bool(last)
        said.append(f"{kind} {size} {' and '.join(where)}")
    return "; ".join(said) or "none"
