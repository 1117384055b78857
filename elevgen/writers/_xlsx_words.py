"""Words for codes that people read in the workbook."""

from __future__ import annotations

from elevgen.core.measures import millimetres
from elevgen.core.sourced import Sourced
from elevgen.result import Finding, Severity

SEVERITY_WORDS: dict[Severity, str] = {
    "fail": "Fails",
    "warn": "Warning",
    "not_checked": "Not checked",
    "note": "Note",
    "pass": "Passes",
}
OPERATOR_WORDS = {">=": "at least", "<=": "at most", "==": "exactly", "": ""}


def value_words(value: Sourced) -> str | float:
    """A rule value for a cell: a number as it is, a table of bands or a list as text."""
    if value.is_bands:
        return "; ".join(f"up to {limit:g}: {held:g}" for limit, held in value.bands)
    if isinstance(value.value, tuple):
        return ", ".join(item if isinstance(item, str) else f"{item:g}" for item in value.value)
    return value.value


def quantity_words(number: float | None, unit: str) -> str | None:
    """A number with its unit as people say it: `225 mm`, `2.5 per m2`, `3 to 1`; None stays None."""
    if number is None:
        return None
    shown = millimetres(number, 1 if unit == "mm" else 2)
    return {"ratio": f"{shown} to 1", "nr": shown}.get(unit, f"{shown} {unit}".strip())


def limit_words(finding: Finding) -> str | None:
    """What a finding asks for: `at least 225 mm`."""
    said = quantity_words(finding.limit, finding.unit)
    return None if said is None else f"{OPERATOR_WORDS[finding.operator]} {said}".strip()
