"""Every wall tie lies in a bed joint of both leaves."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from elevgen.building.model import Leaf
from elevgen.checks._cavities import Cavity, cavities
from elevgen.checks._finding import at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.geometry import Span
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding

CODE = "tie-in-beds"
TITLE = "Wall ties in the beds of both leaves"
RATIONALE = "A tie cannot be built into the middle of a unit; where the leaves' beds do not meet it is bent or left out."
KEY = "tie.beds.tolerance"


def check(design: Design) -> Iterator[Finding]:
    """Each level with ties against the beds of both leaves, and each tie against masonry there."""
    tolerance = rule(design, KEY)
    for cavity in cavities(design):
        if tolerance is None:
            yield uncovered(design, at_wall(cavity.wall), KEY)
        elif cavity.ties:
            yield _judged(design, cavity, tolerance)


def _judged(design: Design, cavity: Cavity, tolerance: Sourced) -> Finding:
    place = at_wall(cavity.wall)
    beds = [_beds(design, leaf, tolerance.number) for leaf in (cavity.outer, cavity.inner)]
    off = loose = 0
    for level, row in cavity.rows():
        if not all(any(bed.contains(level) for bed in of_leaf) for of_leaf in beds):
            off += len(row)
        solid = cavity.solid(level)
        loose += sum(1 for tie in row if not any(span.contains(tie.at) for span in solid))
    if loose:
        text = f"{counted(loose, 'tie')} in an opening, a joint or past the masonry"
        return found("fail", place, text, measured=float(loose), most=0.0, unit="nr")
    if off:
        text = f"{off} of {counted(len(cavity.ties), 'tie')} not in a bed of both leaves: change a level or a unit"
        return found("warn", place, text, measured=float(off), most=0.0, unit="nr", source=tolerance)
    text = f"{counted(len(cavity.ties), 'tie')}, each in a bed of both leaves"
    return found("pass", place, text, measured=0.0, most=0.0, unit="nr", source=tolerance)


def _beds(design: Design, leaf: Leaf, tolerance: float) -> list[Span]:
    courses = design.coursing.of(leaf.id).courses
    return [Span(under.top, over.level).grown(tolerance / 2) for under, over in pairwise(courses)]
