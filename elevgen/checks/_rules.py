"""Rule values for the checks, and what to say where the set has none."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._finding import Place, found
from elevgen.core.geometry import Span
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding
from elevgen.rules.telling import meaning_of


def rule(design: Design, key: str) -> Sourced | None:
    """The value of a key, or None where the set does not cover it."""
    return design.rules.values.get(key)


def known(design: Design, *keys: str) -> tuple[Sourced, ...]:
    """The values of those of the keys that the set covers."""
    return tuple(value for key in keys if (value := rule(design, key)) is not None)


def uncovered(design: Design, place: Place, *keys: str) -> Finding:
    """The finding for a place that cannot be judged because the set lacks the first missing of the keys."""
    key = next((k for k in keys if k not in design.rules.values), keys[0])
    reason = design.rules.not_covered.get(key, "not in this rule set")
    text = f"no value in the rules {design.rules.id!r} for {meaning_of(key, design.figures)} ({key}): {reason}"
    return found("not_checked", place, text)


def materials(leaf: Leaf) -> tuple[str, ...]:
    """The materials the leaf really has between its base and its top, from the bottom up."""
    height = Span(leaf.base.lowest(leaf.span), leaf.top.highest(leaf.span))
    return tuple(dict.fromkeys(zone.unit.material for zone in leaf.zones if zone.levels.overlaps(height)))


class Strictest(NamedTuple):
    """The least value of a per-material rule over the materials of a leaf. `missing` are keys without a value."""

    value: Sourced | None
    missing: tuple[str, ...]


def strictest(design: Design, leaf: Leaf, stem: str) -> Strictest:
    """The strictest value a leaf's materials give for `<stem>.<material>`."""
    keys = [f"{stem}.{material}" for material in materials(leaf)]
    return Strictest(
        min(known(design, *keys), key=lambda v: v.number, default=None), tuple(key for key in keys if rule(design, key) is None)
    )
