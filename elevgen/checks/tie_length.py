"""Wall ties are long enough for the cavity."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._cavities import cavities
from elevgen.checks._finding import at_wall, found
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import at_least, at_most
from elevgen.core.measures import millimetres
from elevgen.result import Design, Finding, Severity

CODE = "tie-length"
TITLE = "Length of wall ties"
RATIONALE = "A tie too short for its cavity is not held in one of the leaves."
KEY = "tie.length"


def check(design: Design) -> Iterator[Finding]:
    """The length of each wall's ties against the table of cavity widths."""
    table = rule(design, KEY)
    for cavity in cavities(design):
        if table is None or not table.is_bands or cavity.wall.cavity is None:
            yield uncovered(design, at_wall(cavity.wall), KEY)
            continue
        width = cavity.wall.cavity
        needed = next((length for up_to, length in table.bands if at_most(width, up_to)), None)
        length = cavity.given.length if cavity.given else None
        if needed is None or length is None:
            text = f"no length of tie is given for a cavity of {millimetres(width)} mm"
            yield found("not_checked", at_wall(cavity.wall), text, source=table)
            continue
        text = f"ties {millimetres(length)} mm long across {millimetres(width)} mm"
        severity: Severity = "pass" if at_least(length, needed) else "fail"
        yield found(severity, at_wall(cavity.wall), text, measured=length, least=needed, source=table)
