"""Words for codes that people read in the workbook."""

from __future__ import annotations

from elevgen.core.figures import METRIC, Figures
from elevgen.core.measures import millimetres
from elevgen.core.sourced import Sourced
from elevgen.result import Finding, Severity
from elevgen.rules.telling import told

SEVERITY_WORDS: dict[Severity, str] = {
    "fail": "Fails",
    "warn": "Warning",
    "not_checked": "Not checked",
    "note": "Note",
    "pass": "Passes",
}
OPERATOR_WORDS = {">=": "at least", "<=": "at most", "==": "exactly", "": ""}


def value_words(value: Sourced, figures: Figures = METRIC) -> str | float:
    """A rule value for a cell, in the unit it is shown in: a number as it is, a table of bands or a list as text."""
    if value.unit == "mm" and figures.in_feet:
        return told(value, "feet")
    if value.is_bands:
        return "; ".join(f"up to {limit:g}: {held:g}" for limit, held in value.bands)
    if isinstance(value.value, int | float) and figures.in_feet:
        return float(f"{figures.unit(value.unit).of(value.value):.6g}")
    if isinstance(value.value, tuple):
        return ", ".join(item if isinstance(item, str) else f"{item:g}" for item in value.value)
    return figures.unit(value.value).name if isinstance(value.value, str) else value.value


def unit_words(unit: str, figures: Figures = METRIC) -> str:
    """The unit of a rule value as it is shown; feet and inches have theirs in the figure."""
    return "ft, in" if unit == "mm" and figures.in_feet else figures.unit(unit).name


def quantity_words(number: float | None, unit: str, figures: Figures = METRIC) -> str | None:
    """A number with its unit as people say it: `225 mm`, `2.5 per m2`, `3 to 1`; None stays None."""
    if number is None:
        return None
    if unit == "mm":
        return figures.measure(number)
    shown = millimetres(number, 2)
    places = 4 if unit == "mm2/m" and figures.in_feet else 2
    return {"ratio": f"{shown} to 1", "nr": shown}.get(unit) or figures.few(number, unit, places).strip()


def limit_words(finding: Finding, figures: Figures = METRIC) -> str | None:
    """What a finding asks for: `at least 225 mm`."""
    said = quantity_words(finding.limit, finding.unit, figures)
    return None if said is None else f"{OPERATOR_WORDS[finding.operator]} {said}".strip()
