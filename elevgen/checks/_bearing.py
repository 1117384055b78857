"""The bearing a lintel needs, worked out from its spans between supports and what it carries."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._masonry import gaps_at, stretches
from elevgen.checks._rules import rule
from elevgen.core.geometry import Span, at_most, subtract
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Lintel
from elevgen.result import Design

SLIVER = 1.0
"""How far under the lowest of its heads (mm) masonry must go to be a pier, and no course made up over a lower head."""


class Held(NamedTuple):
    """What of a lintel's clear length spans, and which piers hold it up between, from the left."""

    spans: tuple[Span, ...]
    piers: tuple[Span, ...]


def held(design: Design, lintel: Lintel) -> Held:
    """The spans and the piers between its first reveal and its last, measured from the leaf's outline, voids and joints."""
    piers = tuple(common for pier in solid_under(design, lintel) if (common := pier.common(lintel.clear)))
    return Held(subtract(lintel.clear, piers), piers)


def solid_under(design: Design, lintel: Lintel) -> tuple[Span, ...]:
    """The masonry at a lintel's underside that goes down past its lowest head, along all of its leaf."""
    leaf = design.building.leaf(lintel.leaf)
    return stretches(leaf, Span(_lowest_head(design, leaf, lintel) - SLIVER, lintel.level), _gaps(design, lintel))


BY_SPAN = ("lintel.bearing.short_span", "lintel.bearing.long", "lintel.bearing.short.tray", "lintel.bearing.short.simple")


def bearing_needed(design: Design, lintel: Lintel) -> Sourced | None:
    """The least bearing at each support, the stricter of two: None where the rules do not cover the first.

    By the longest span between supports and by whether a cavity tray stands on the lintel; by what the lintel is.
    """
    by_span = _by_span(design, lintel)
    by_kind = rule(design, f"lintel.bearing.kind.{lintel.kind}") if lintel.kind else None
    if by_span is None or by_kind is None:
        return by_span
    return max(by_span, by_kind, key=lambda value: value.number)


def behind_bearing(design: Design, lintel: Lintel) -> tuple[Sourced | None, ...]:
    """The rules that bearing is the strictest of, and what says which of them hold."""
    by_kind = rule(design, f"lintel.bearing.kind.{lintel.kind}") if lintel.kind else None
    return rule(design, "lintel.bearing.short_span"), _by_span(design, lintel), by_kind


def _by_span(design: Design, lintel: Lintel) -> Sourced | None:
    short = rule(design, "lintel.bearing.short_span")
    if short is None:
        return None
    longest = max((span.length for span in held(design, lintel).spans), default=0.0)
    if not at_most(longest, short.number):
        return rule(design, "lintel.bearing.long")
    wall = design.building.wall(lintel.wall)
    carries_tray = len(wall.leaves) == 2 and lintel.leaf == wall.leaves[0]
    return rule(design, "lintel.bearing.short.tray" if carries_tray else "lintel.bearing.short.simple")


def _lowest_head(design: Design, leaf: Leaf, lintel: Lintel) -> float:
    """The lowest head under the lintel, no more than a course down."""
    tops = [o.rect.top for o in design.building.wall(lintel.wall).openings if o.id in lintel.openings]
    course = max(zone.unit.gauge for zone in leaf.zones)
    return max(min([*tops, lintel.level]), lintel.level - course)


def _gaps(design: Design, lintel: Lintel) -> list[Span]:
    return gaps_at((joint for joint in design.plan.joints if joint.leaf == lintel.leaf), lintel.level)
