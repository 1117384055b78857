"""The bed joints of a leaf, found from its courses as laid."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from elevgen.building.model import Leaf
from elevgen.core.geometry import Span
from elevgen.coursing.model import Course
from elevgen.result import Design


def beds_between(courses: Sequence[Course]) -> list[Span]:
    """The levels of the beds between courses, bottom up; the one the lowest stands in is none of these."""
    return [Span(under.top, over.level) for under, over in pairwise(courses)]


def leaf_beds(design: Design, leaf: Leaf) -> list[Span]:
    """The levels of the beds between the courses of a leaf, bottom up."""
    return beds_between(design.coursing.of(leaf.id).courses)
