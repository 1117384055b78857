"""There are enough wall ties to the square metre."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from elevgen.checks._cavities import Cavity, cavities
from elevgen.checks._finding import at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.core.measures import millimetres
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding, Severity

CODE = "tie-density"
TITLE = "Number of wall ties"
RATIONALE = "Spacing alone does not show ties left out round openings; the count over the area does."
KEY = "tie.density"
GRID = ("tie.spacing.horizontal", "tie.spacing.vertical")
PANEL = 4.0
"""A panel with less masonry than this (m2) has about ten ties: one more or less would decide, so it is let off one tie."""


def check(design: Design) -> Iterator[Finding]:
    """Ties counted over the masonry both leaves have, compared to the one decimal the figure is published with.

    Over the whole wall, and over each panel between movement joints; the thinnest of those large enough is reported. A small
    panel is held to the figure less one tie, and warned of by itself. Where the rules have no grid to place ties by, there are
    none to count.
    """
    least = rule(design, KEY)
    no_grid = any(rule(design, key) is None for key in GRID)
    for cavity in cavities(design):
        if least is None:
            yield uncovered(design, at_wall(cavity.wall), KEY)
        elif no_grid and cavity.wall.ties.placing and not cavity.ties:
            yield uncovered(design, at_wall(cavity.wall), *GRID)
        else:
            yield from _judged(cavity, least)


class _Part(NamedTuple):
    """A stretch of a wall: its masonry in m2, and the ties in it."""

    span: Span
    area: float
    ties: int

    @property
    def density(self) -> float:
        return self.ties / self.area

    def said(self) -> str:
        return f"{counted(self.ties, 'tie')} over {self.area:.2f} m2, {self.density:.2f} to the square metre"

    def along(self) -> str:
        return f", from {millimetres(self.span.start)} to {millimetres(self.span.end)} mm along the wall"


def _judged(cavity: Cavity, least: Sourced) -> Iterator[Finding]:
    place = at_wall(cavity.wall)
    whole = _counted(cavity, cavity.span)
    if whole.area <= 0:
        yield found("pass", place, "no masonry of both leaves to tie")
        return
    cuts = sorted({joint.at for joint in cavity.joints if cavity.span.contains(joint.at)})
    spans = [Span(a, b) for a, b in pairwise([cavity.span.start, *cuts, cavity.span.end]) if b - a > TOLERANCE]
    panels = [part for part in (_counted(cavity, span) for span in spans) if part.area > 0]
    small = [part for part in panels if part.area < PANEL]
    thinnest = min([whole, *(part for part in panels if part not in small)], key=lambda part: part.density)
    severity: Severity = "pass" if round(thinnest.density, 1) >= least.number else "fail"
    text = thinnest.said() + ("" if thinnest is whole else thinnest.along())
    yield found(severity, place, text, measured=thinnest.density, least=least.number, unit="per m2", source=least)
    for part in small if cuts else ():
        if round((part.ties + 1) / part.area, 1) < least.number:
            words = f"{part.said()}{part.along()}, a small panel short of more than one tie"
            yield found("warn", place, words, measured=part.density, least=least.number, unit="per m2", source=least)


def _counted(cavity: Cavity, span: Span) -> _Part:
    return _Part(span, cavity.area(span) / 1e6, sum(1 for tie in cavity.ties if span.contains(tie.at)))
