"""Wall ties hold the two leaves together under the top: along verges, along free tops, and near every other top."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import inf
from typing import NamedTuple

from elevgen.checks._cavities import BED, Cavity, cavities
from elevgen.checks._finding import at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._tie_beds import beds_in_common
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span, at_most, subtract
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Tie
from elevgen.result import Design, Finding, Severity

CODE = "tie-top"
TITLE = "Wall ties under the top"
RATIONALE = "Nothing stands on the top to hold the leaves: wind lifts the last courses of a gable or a parapet off their ties."
UP = "tie.spacing.vertical"
VERGE = "tie.verge.horizontal", "tie.verge.vertical"
TOP = "tie.spacing.horizontal", "tie.top.vertical"
FREE = "tie.free_top.horizontal", "tie.free_top.distance"
ROOM = 50.0
"""A tie has room in a bed that goes on this far (mm), half of it on each side."""


class _Top(NamedTuple):
    """A stretch of the top without a step, all of it level or all of it sloping, and what the rules say of the ties under it."""

    span: Span
    lowest: float
    slope: bool
    along: Sourced
    deep: Sourced

    def name(self, figures: Figures) -> str:
        return f"{'verge' if self.slope else 'top'} from {figures.length(self.span.start)} to {figures.length(self.span.end)}"


def check(design: Design) -> Iterator[Finding]:
    """Under each stretch of the top: the longest way along it without a tie near enough below it, its ends included.

    A gap is no fault where no bed of both leaves lies as near the top as asked, and ties stand in the highest there is.
    """
    for cavity in cavities(design):
        if not cavity.ties:
            continue
        for top in _tops(design, cavity):
            yield _judged(design, cavity, top) if isinstance(top, _Top) else uncovered(design, at_wall(cavity.wall), *top)


def _tops(design: Design, cavity: Cavity) -> Iterator[_Top | tuple[str, str]]:
    """The stretches of the top from the start, slopes that follow one another as one; or the keys the rules lack for one."""
    pieces: list[tuple[Span, float, bool]] = []
    joined = False
    for (a, before), (b, after) in pairwise(cavity.outer.top.clipped(cavity.span)):
        if b - a <= TOLERANCE:
            joined = joined and abs(after - before) <= TOLERANCE
            continue
        slope = abs(after - before) > TOLERANCE
        if joined and slope and pieces[-1][2]:
            pieces[-1] = Span(pieces[-1][0].start, b), min(pieces[-1][1], before, after), True
        else:
            pieces.append((Span(a, b), min(before, after), slope))
        joined = True
    for span, lowest, slope in pieces:
        keys = VERGE if slope else TOP if cavity.wall.stands == "building" else FREE
        along, deep = rule(design, keys[0]), rule(design, keys[1])
        yield keys if along is None or deep is None else _Top(span, lowest, slope, along, deep)


def _judged(design: Design, cavity: Cavity, top: _Top) -> Finding:
    place = at_wall(cavity.wall).part(top.name(design.figures))
    deep, along = design.figures.measure(top.deep.number), top.along.number
    near = [tie.at for tie in cavity.ties if _below(cavity, tie) <= top.deep.number + TOLERANCE]
    gap = _widest(cavity, top, near)
    if at_most(gap.length, along):
        text = f"ties {design.figures.measure(gap.length)} apart at most within {deep} of the top"
        return found("pass", place, text, measured=gap.length, most=along, source=top.along, also=(top.deep,))
    levels = [bed.tie for bed in beds_in_common(design, cavity.outer, cavity.inner)]
    highest = [*near, *_in_highest(design, cavity, top, levels)]
    left = _widest(cavity, top, highest)
    kept = at_most(left.length, along)
    gap = gap if kept else left
    text = f"{design.figures.measure(gap.length)} without a tie within {deep} of the top"
    text += f", from {design.figures.measure(gap.start)} along"
    severity: Severity = "warn" if top.deep.status == "practice" else "fail"
    if kept or not _beds_at(cavity, levels, gap.middle, top.deep.number):
        severity, text = "note" if kept else "warn", f"{text}: no bed of both leaves there"
    return found(severity, place, text, measured=gap.length, most=along, source=top.along, also=(top.deep,))


def _in_highest(design: Design, cavity: Cavity, top: _Top, levels: Sequence[float]) -> Iterator[float]:
    """Where ties lie deeper than asked, but within the spacing of the field and with no bed of both leaves over them."""
    up = rule(design, UP)
    for tie in cavity.ties if up else ():
        below = _below(cavity, tie)
        if up and top.deep.number < below <= up.number + TOLERANCE and not _beds_at(cavity, levels, tie.at, below - BED):
            yield tie.at


def _height(cavity: Cavity, at: float) -> float:
    """The level of the lower leaf's top."""
    return min(cavity.outer.top.level_right_of(at), cavity.inner.top.level_right_of(at))


def _below(cavity: Cavity, tie: Tie) -> float:
    """How far under the top a tie lies; infinite for one over it."""
    below = _height(cavity, tie.at) - tie.level
    return below if below > 0 else inf


def _widest(cavity: Cavity, top: _Top, near: Sequence[float]) -> Span:
    """The longest way along the masonry under a top without a tie, ends included."""
    gaps = (gap for span in _masonry(cavity, top) for gap in _gaps(span, sorted(near)))
    return max(gaps, key=lambda gap: gap.length, default=Span(0, 0))


def _masonry(cavity: Cavity, top: _Top) -> tuple[Span, ...]:
    """What of a stretch is masonry of both leaves where its ties lie, cut at movement joints."""
    floor = top.lowest - top.deep.number
    holes = [joint.gap for joint in cavity.joints if joint.levels.end > floor]
    holes += [void.along for leaf in (cavity.outer, cavity.inner) for void in leaf.voids if void.top > floor]
    return subtract(top.span, holes)


def _gaps(span: Span, near: Sequence[float]) -> Iterator[Span]:
    inside = [at for at in near if span.contains(at)]
    yield from (Span(a, b) for a, b in pairwise([span.start, *inside, span.end]))


def _beds_at(cavity: Cavity, levels: Sequence[float], at: float, deep: float) -> bool:
    """Whether a bed of both leaves lies near enough under the top, with masonry there for a tie."""
    top = _height(cavity, at)
    near = (level for level in levels if level + BED < top and at_most(top - level, deep))
    return any(any(span.grown(-ROOM / 2).contains(at) for span in cavity.solid(level)) for level in near)
