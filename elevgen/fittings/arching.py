"""Arching over lintels as American documents have it: the second method, shown for comparison.

TEK 17-1B; TM 5-809-3; Taly, Design of Reinforced Masonry Structures, examples 4.26 and 4.27. Any units that agree.
"""

from __future__ import annotations

from math import radians, tan

from elevgen.core.geometry import Span
from elevgen.fittings.beam import Line


def effective_span(clear: float, centres: float, depth: float | None = None) -> float:
    """Taly: between centres of bearings. TEK 17-1B, where the depth is known: clear span and depth, no more than that."""
    return centres if depth is None else min(clear + depth, centres)


def height_needed(effective: float, angle: float, above_apex: float) -> float:
    """How much wall over the lintel arching asks for: the triangle on the effective span, and so much over its point."""
    return effective / 2 * tan(radians(angle)) + above_apex


def cone_width(height: float, angle: float) -> float:
    """How wide a load at one point has spread when it has come down so far, in a cone whose sides stand at `angle`: 1.155 h."""
    return 2 * height / tan(radians(angle))


def cone_load(at: float, load: float, height: float, angle: float, over: Span) -> Line | None:
    """A load at one point, spread in its cone: what of it comes down on a span. None where nothing does."""
    width = cone_width(height, angle)
    return Line(at - width / 2, at + width / 2, load / width, load / width).within(over)


def peak_pressure(reaction: float, area: float) -> float:
    """The greatest pressure under a bearing that is pressed from nothing at its far end to most at the reveal (TM 5-809-3)."""
    return 2 * reaction / area
