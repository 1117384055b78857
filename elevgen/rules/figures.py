"""Figures out of a rule set, None where it has none."""

from __future__ import annotations

from elevgen.rules.book import RuleReader


def figure(reader: RuleReader, key: str) -> float | None:
    """The number behind a key, or None where the rule set does not cover it."""
    found = reader.find(key)
    return None if found is None else found.number


def covered(reader: RuleReader, *keys: str) -> tuple[str, ...]:
    """Those of the keys the rule set has: what a fitting may cite."""
    return tuple(key for key in keys if reader.find(key) is not None)
