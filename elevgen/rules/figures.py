"""Figures out of a rule set, None where it has none."""

from __future__ import annotations

from elevgen.rules.book import RuleReader


def figure(reader: RuleReader, key: str) -> float | None:
    """The number behind a key, or None where the rule set does not cover it."""
    found = reader.find(key)
    return None if found is None else found.number


def banded(reader: RuleReader, key: str, measured: float) -> float | None:
    """The value of the first band that reaches `measured`; None past the last band or where there is no table.

    Raises TypeError when the key holds no bands.
    """
    found = reader.find(key)
    if found is None:
        return None
    return next((value for up_to, value in found.bands if measured <= up_to), None)


def covered(reader: RuleReader, *keys: str) -> tuple[str, ...]:
    """Those of the keys the rule set has: what a fitting may cite."""
    return tuple(key for key in keys if reader.find(key) is not None)
