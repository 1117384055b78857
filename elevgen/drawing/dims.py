"""Dimensions along the bottom and up the side: running figures from the setting-out end, strings end to end, heights."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import inf
from typing import NamedTuple

from elevgen.building.model import OpeningGroup
from elevgen.core.geometry import TOLERANCE, Span, merge
from elevgen.drawing.board import CUT_CLEAR, DIMENSION_LIFT, TEXT_SIZE, Board
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import DESCENT
from elevgen.drawing.narrow import Stretch, apart, draw_narrow, draw_strokes, figure_width, place_between, place_narrow
from elevgen.drawing.profiles import profile_levels
from elevgen.drawing.scene import Dimension, Line, Polyline, Role, Symbol

RUNNING_GAP = 3.4
"""Least distance between running figures, paper mm."""
RUNNING_TOP, RUNNING_TEXT, FIRST_LINE, LINE_PITCH = 1.5, 5.5, 22.5, 8.0
"""Below the wall: where the running ticks start, where their figures start, the first dimension line, the next ones; paper mm."""
HEIGHTS_AT = 5.4
"""How far beyond the gauge rod the string of heights stands, paper mm."""
NAME_SIZE, NAME_PITCH, NAME_ROOM = 1.8, 2.7, 13.0
"""Names of dimension strings: text, from line to line, and how wide they may be; paper mm."""
_STROKES, _UNDER_ROWS = 1.8, 4.4
"""What a figure over its stretch leaves for the end strokes; from the lowest row of figures to the next line; paper mm."""
_UNDER_FLAGS = 2.4
"""How far figures of heights may stand over the top: flags come next; paper mm."""
_UNDER_RUNNING = 4.6
"""From the lowest running figure to the first dimension line, paper mm: room for the text on that."""


class Figure(NamedTuple):
    """A place on the wall that is set out: how far from the setting-out end, what it is."""

    at: float
    source: str
    joint: bool = False


def setting_out(facts: LeafFacts) -> tuple[Figure, ...]:
    """Every place a bricklayer marks along the wall: ends, reveals, joints, walls met, steps; in order, each once."""
    figures = [Figure(j.at, j.id, joint=True) for j in facts.joints]
    figures += [Figure(facts.face.left, facts.leaf.id), Figure(facts.face.right, facts.leaf.id)]
    for group in facts.groups:
        figures += [Figure(group.clear.left, group.id), Figure(group.clear.right, group.id)]
    for met in facts.met:
        figures += [Figure(met.band.left, met.wall), Figure(met.band.right, met.wall)]
    for profile in (facts.leaf.base, facts.leaf.top):
        figures += [Figure(at, facts.leaf.id) for at, _ in profile.turns(facts.leaf.span)]
    found: list[Figure] = []
    for figure in sorted(figures, key=lambda f: (f.at, not f.joint)):
        inside = facts.face.left - TOLERANCE <= figure.at <= facts.face.right + TOLERANCE
        if inside and not (found and figure.at - found[-1].at < 0.05 and not figure.joint):
            found.append(figure)
    return tuple(found)


def draw_running(board: Board, facts: LeafFacts) -> float:
    """Running figures from the start of the wall line, turned upright, drawn apart where they would meet.

    Returns the level of the first dimension line under them.
    """
    figures = setting_out(facts)
    places = running_places(board, [f.at for f in figures])
    bottom = facts.face.bottom
    lowest = bottom
    tick, knee, text = bottom - board.mm(RUNNING_TOP), bottom - board.mm(3.5), bottom - board.mm(RUNNING_TEXT)
    for figure, place in zip(figures, places, strict=True):
        role = Role.MOVEMENT_JOINT if figure.joint else Role.DIMENSION
        line = ((figure.at, tick), (figure.at, knee), (place, text + board.mm(0.6)))
        board.add(Polyline(Role.DIMENSION, line, source=figure.source))
        at = (place + board.mm(TEXT_SIZE / 2), text)
        box = board.text(
            role, at, facts.figures.length(figure.at), align="right", rotation=90.0, bold=figure.joint, source=figure.source
        )
        lowest = min(lowest, box.bottom)
    start = (0.0, bottom - board.mm(RUNNING_TOP))
    if facts.face.left - TOLERANCE <= 0.0 <= facts.face.right:
        board.add(Symbol(Role.DIMENSION, "arrow", start, 2.0, 180.0, facts.wall.id, "setting-out end"))
    return min(bottom - board.mm(FIRST_LINE), lowest - board.mm(_UNDER_RUNNING))


def running_places(board: Board, at: Sequence[float]) -> tuple[float, ...]:
    """Where running figures stand: drawn apart, each on its own side of every match line."""
    bounds = (-inf, *board.cuts, inf)
    found: list[float] = []
    for start, end in pairwise(bounds):
        here = [x for x in at if start <= x < end]
        limits = Span(start, end).grown(-board.mm(CUT_CLEAR))
        wide = board.mm(TEXT_SIZE)
        found += apart(here, [wide] * len(here), board.mm(RUNNING_GAP) - wide, limits)
    return tuple(found)


def draw_strings(board: Board, facts: LeafFacts, at: float) -> float:
    """Every string, from the wall outwards, the first at level `at`. Returns the level under the last line and its figures."""
    source, lowest = facts.leaf.id, at
    for name, places in strings(facts):
        lines = board.fonts.wrap(name, board.mm(NAME_SIZE), board.mm(NAME_ROOM))
        for n, line in enumerate(lines):
            y = at + board.mm(NAME_PITCH * ((len(lines) - 1) / 2 - n))
            board.text(Role.DIMENSION, (facts.face.left - board.mm(1.2), y), line, NAME_SIZE, "right", "middle", source=source)
        deep = draw_string(board, facts, places, at)
        lowest = at - (deep + board.mm(DESCENT * TEXT_SIZE) if deep else 0.0)
        at -= max(board.mm(LINE_PITCH), deep + board.mm(_UNDER_ROWS))
    return lowest


def strings(facts: LeafFacts) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """What is dimensioned end to end, name and places: rows of openings, walls met, steps, panels, overall; none twice."""
    leaf = facts.leaf
    named = [(name, [x for span in reveals for x in (span.start, span.end)]) for name, reveals in opening_rows(facts)]
    named.append(("walls met", [x for met in facts.met for x in (met.band.left, met.band.right)]))
    named.append(("base", [at for at, _ in leaf.base.turns(leaf.span)]))
    named.append(("top", [at for at, _ in leaf.top.turns(leaf.span)]))
    named.append(("panels", list(_between_panels(facts))))
    found: dict[tuple[float, ...], str] = {}
    for name, places in named:
        whole = _end_to_end(facts, places)
        if len(whole) > 2:
            found[whole] = f"{found[whole]}, {name}" if whole in found else name
    return (*((name, places) for places, name in found.items()), ("overall", _end_to_end(facts, ())))


def _between_panels(facts: LeafFacts) -> Iterator[float]:
    """Where one panel ends and the next begins: joints, and both sides of a gate. A joint in the wall's end parts nothing."""
    ends = (facts.face.left, facts.face.right)
    yield from (j.at for j in facts.joints if not any(j.gap.grown(TOLERANCE).contains(end) for end in ends))
    yield from (at for gap in facts.leaf.breaks for at in (gap.start, gap.end))


def _end_to_end(facts: LeafFacts, places: Iterable[float]) -> tuple[float, ...]:
    """The places on the face in order, its ends before and after them; those that fall together once."""
    left, right = facts.face.left, facts.face.right
    found = [left]
    for at in sorted(places):
        if at - found[-1] > TOLERANCE and right - at > TOLERANCE:
            found.append(at)
    return (*found, right)


def opening_rows(facts: LeafFacts) -> tuple[tuple[str, tuple[Span, ...]], ...]:
    """The reveals of each row of openings with its name, lowest first; rows with the same reveals are one."""
    rows = [merge(group.clear.along for group in band) for band in bands(facts.groups)]
    alike = dict.fromkeys(rows)
    if len(alike) < 2:
        return tuple(("openings", reveals) for reveals in alike)
    words = ("lower row", "upper row") if len(rows) == 2 else tuple(f"row {n}" for n in range(1, len(rows) + 1))
    return tuple(
        (f"openings, {', '.join(word for word, row in zip(words, rows, strict=True) if row == reveals)}", reveals)
        for reveals in alike
    )


def bands(groups: Sequence[OpeningGroup]) -> tuple[tuple[OpeningGroup, ...], ...]:
    """Opening groups that share levels, together; lowest band first."""
    found: list[list[OpeningGroup]] = []
    top = float("-inf")
    for group in sorted(groups, key=lambda g: (g.clear.bottom, g.clear.left)):
        if found and group.clear.bottom < top - TOLERANCE:
            found[-1].append(group)
        else:
            found.append([group])
        top = max(top, group.clear.top)
    return tuple(tuple(band) for band in found)


def draw_string(board: Board, facts: LeafFacts, places: Sequence[float], line_at: float) -> float:
    """Dimensions end to end on one line. Figures wider than their stretch stand in rows below it; returns how far they reach."""
    stretches = [Stretch(Span(a, b), facts.figures.length(b - a)) for a, b in pairwise(places)]
    short = [s for s in stretches if not _holds_uncut(board, s)]
    above = line_at + board.mm(2.6)
    for span, text in (s for s in stretches if _holds_uncut(board, s)):
        board.dimension(
            Dimension(Role.DIMENSION, (span.start, above), (span.end, above), "x", line_at, text, TEXT_SIZE, facts.leaf.id)
        )
    return draw_narrow(board, "x", line_at, short, Span(facts.face.left, inf), facts.leaf.id)


def string_figures(board: Board, facts: LeafFacts, places: Sequence[float]) -> Iterator[Span]:
    """What the figures of a string take along the wall, with their stalks: those over their stretch and those beyond the line."""
    stretches = [Stretch(Span(a, b), facts.figures.length(b - a)) for a, b in pairwise(places)]
    for stretch in stretches:
        if _holds(board, stretch):
            yield Span(stretch.span.middle, stretch.span.middle).grown(figure_width(board, stretch) / 2)
    for placed in place_narrow(board, [s for s in stretches if not _holds(board, s)], Span(facts.face.left, inf)):
        half = figure_width(board, placed.stretch) / 2
        yield Span(min(placed.at - half, placed.stretch.span.middle), max(placed.at + half, placed.stretch.span.middle))


def _holds(board: Board, stretch: Stretch) -> bool:
    """True when a figure stands over its own stretch, clear of the strokes at both ends."""
    return figure_width(board, stretch) + board.mm(_STROKES) <= stretch.span.length


def _holds_uncut(board: Board, stretch: Stretch) -> bool:
    """True when it does so and no match line runs through it."""
    middle = Span(stretch.span.middle, stretch.span.middle)
    return _holds(board, stretch) and not board.is_cut(middle.grown(figure_width(board, stretch) / 2))


def heights(facts: LeafFacts) -> tuple[float, ...]:
    """The levels of the string of heights: base, sills, heads, top, and where base and top step or turn; each once."""
    face, leaf = facts.face, facts.leaf
    levels = {*profile_levels(leaf.base, leaf.span), *profile_levels(leaf.top, leaf.span), face.bottom, face.top}
    levels |= {y for g in facts.groups for y in (g.clear.bottom, g.clear.top) if face.bottom < y < face.top}
    found: list[float] = []
    for y in sorted(levels):
        if not found or y - found[-1] > 1.0:
            found.append(y)
    return tuple(found)


def draw_heights(board: Board, facts: LeafFacts, beside: float) -> None:
    """Heights beyond what stands beside the right-hand end as far as `beside`.

    The figures of short stretches stand before the line where it is free there, in rows beyond it where not.
    """
    x, source = beside + board.mm(HEIGHTS_AT), facts.leaf.id
    levels = heights(facts)
    stretches = [Stretch(Span(a, b), facts.figures.length(b - a)) for a, b in pairwise(levels)]
    short = [s for s in stretches if not _holds(board, s)]
    near = x - board.mm(2.6)
    limits = Span(facts.face.bottom - board.mm(8.0), facts.face.top + board.mm(_UNDER_FLAGS))
    strokes = [Span(y, y).grown(board.mm(_STROKES / 2)) for y in levels] + [Span(limits.end, inf)]
    figures = []
    for span, text in (s for s in stretches if _holds(board, s)):
        board.dimension(Dimension(Role.DIMENSION, (near, span.start), (near, span.end), "y", x, text, TEXT_SIZE, source))
        half = board.fonts.width(text, board.mm(TEXT_SIZE)) / 2
        figures.append(Span(span.middle, span.middle).grown(half))
    placed = place_between(board, short, strokes, figures)
    if placed is None:
        draw_narrow(board, "y", x, short, limits, source)
        return
    draw_strokes(board, "y", x, short, source)
    base, knee = x - board.mm(DIMENSION_LIFT), x - board.mm(DIMENSION_LIFT + TEXT_SIZE / 2)
    for stretch, at in placed:
        board.text(Role.DIMENSION, (base, at), stretch.text, align="centre", rotation=90.0, source=source)
        reach = board.fonts.width(stretch.text, board.mm(TEXT_SIZE)) / 2 + board.mm(0.3)
        end = at - reach if at > stretch.span.middle else at + reach
        board.add(Line(Role.DIMENSION, (x, stretch.span.middle), (knee, end), source))


def below(facts: LeafFacts) -> float:
    """How far the dimensions reach below the wall, paper mm."""
    return FIRST_LINE + (len(strings(facts)) - 1) * LINE_PITCH
