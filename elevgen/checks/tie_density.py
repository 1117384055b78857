"""There are enough wall ties to the square metre."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._cavities import cavities
from elevgen.checks._rules import not_checked, rule
from elevgen.result import Design, Finding, Severity

CODE = "tie-density"
TITLE = "Number of wall ties"
RATIONALE = "Spacing alone does not show ties left out round openings; the count over the area does."
KEY = "tie.density"


def check(design: Design) -> Iterator[Finding]:
    """Ties counted over the masonry both leaves have, compared to the one decimal the figure is published with."""
    least = rule(design, KEY)
    for cavity in cavities(design):
        if least is None:
            yield not_checked(design, CODE, cavity.wall.id, KEY)
            continue
        area = cavity.area() / 1e6
        density = len(cavity.ties) / area
        enough = round(density, 1) >= least.number
        text = f"{len(cavity.ties)} ties over {area:.2f} m2, {density:.2f} to the square metre"
        severity: Severity = "pass" if enough else "fail"
        yield Finding("", CODE, severity, cavity.wall.id, text, density, ">=", least.number, "per m2", least)
