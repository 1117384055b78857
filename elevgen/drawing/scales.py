"""The scales drawings are made at, the largest drawing first: those of a metric scale rule, or so many inches to the foot."""

from __future__ import annotations

from elevgen.core.figures import Figures

METRIC = (10, 20, 50, 100, 200, 500, 1000)
"""The scales there are for drawings made smaller (ISO 5455, from memory)."""
TO_THE_FOOT = (12, 24, 48, 96, 192, 384, 768)
"""1 in to the foot, 1/2 in, 1/4 in and on: those of an architect's scale rule that halve (common practice, no source)."""


def scales(figures: Figures) -> tuple[int, ...]:
    """All of them."""
    return TO_THE_FOOT if figures.in_feet else METRIC


def detail_scales(figures: Figures) -> tuple[int, ...]:
    """Those of the first courses round a corner: the usual one, and the one for those that do not fit their paper at it."""
    return scales(figures)[1:3]


def plan_scales(figures: Figures) -> tuple[int, ...]:
    """Those of a plan."""
    return scales(figures)[2:]


def smallest_whole(figures: Figures) -> int:
    """An elevation that does not fit at this is parted rather than drawn smaller: units would be too small to be read."""
    return scales(figures)[2]
