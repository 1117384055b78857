"""Bed joints of a leaf."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.geometry import Span
from elevgen.coursing.model import Course


class Bed(NamedTuple):
    """The bed joint between two courses: `under` below it, `over` on it. The bed under the first course is none of these."""

    under: Course
    over: Course

    @property
    def levels(self) -> Span:
        return Span(self.under.top, self.over.level)

    @property
    def middle(self) -> float:
        return self.levels.middle


def beds(courses: Sequence[Course]) -> tuple[Bed, ...]:
    """The beds between courses given bottom up."""
    return tuple(Bed(under, over) for under, over in pairwise(courses))
