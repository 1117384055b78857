"""There are enough wall ties to the square metre."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from elevgen.checks._cavities import Cavity, cavities
from elevgen.checks._finding import at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import Span
from elevgen.core.measures import millimetres
from elevgen.result import Design, Finding, Severity

CODE = "tie-density"
TITLE = "Number of wall ties"
RATIONALE = "Spacing alone does not show ties left out round openings; the count over the area does."
KEY = "tie.density"
PANEL = 4.0
"""A panel with less masonry than this (m2) has about ten ties: one more or less would decide, so it is not judged by itself."""


def check(design: Design) -> Iterator[Finding]:
    """Ties counted over the masonry both leaves have, compared to the one decimal the figure is published with.

    Over the whole wall, and over each panel between movement joints that is large enough; the thinnest is reported.
    """
    least = rule(design, KEY)
    for cavity in cavities(design):
        if least is None:
            yield uncovered(design, at_wall(cavity.wall), KEY)
            continue
        whole = _counted(cavity, cavity.span)
        cuts = [at for at in sorted(joint.at for joint in cavity.joints) if cavity.span.contains(at)]
        panels = [_counted(cavity, Span(a, b)) for a, b in pairwise([cavity.span.start, *cuts, cavity.span.end])]
        thinnest = min([whole, *(p for p in panels if p.area >= PANEL)], key=lambda part: part.density)
        enough = round(thinnest.density, 1) >= least.number
        text = f"{thinnest.ties} ties over {thinnest.area:.2f} m2, {thinnest.density:.2f} to the square metre"
        if thinnest is not whole:
            text += f", from {millimetres(thinnest.span.start)} to {millimetres(thinnest.span.end)} mm along the wall"
        severity: Severity = "pass" if enough else "fail"
        place = at_wall(cavity.wall)
        yield found(severity, place, text, measured=thinnest.density, least=least.number, unit="per m2", source=least)


class _Part(NamedTuple):
    """A stretch of a wall: its masonry in m2, and the ties in it."""

    span: Span
    area: float
    ties: int

    @property
    def density(self) -> float:
        return self.ties / self.area


def _counted(cavity: Cavity, span: Span) -> _Part:
    return _Part(span, cavity.area(span) / 1e6, sum(1 for tie in cavity.ties if span.contains(tie.at)))
