"""Words for codes that people read in the workbook."""

from __future__ import annotations

from elevgen.core.sourced import Sourced
from elevgen.result import Severity

SEVERITY_WORDS: dict[Severity, str] = {
    "fail": "Fails",
    "warn": "Warning",
    "not_checked": "Not checked",
    "note": "Note",
    "pass": "Passes",
}


def value_words(value: Sourced) -> str | float:
    """A rule value for a cell: a number as it is, a table of bands as text."""
    if isinstance(value.value, tuple):
        return "; ".join(f"up to {limit:g}: {held:g}" for limit, held in value.value)
    return value.value


def keys(basis: tuple[str, ...]) -> str:
    """Rule keys on one line."""
    return ", ".join(basis)
