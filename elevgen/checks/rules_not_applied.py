"""Rules the set has a value for and nothing here looks at are said with their values, for whoever can look."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import BUILDING, Place, found
from elevgen.checks._rules import rule
from elevgen.checks._subjects import bearing_on
from elevgen.core.figures import Figures
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding
from elevgen.rules.telling import meaning_of

CODE = "rules-not-applied"
TITLE = "Rules to be seen to by others"
RATIONALE = (
    "A rule with a value that nothing reads is as blind a spot as one without: "
    "the spec does not hold what it is about, or the drawing does not go into it, and whoever builds must see to it."
)
UNREAD: tuple[str, ...] = ()
"""Rules no stage and no other check reads."""


def check(design: Design) -> Iterator[Finding]:
    """One finding for each subject the building has that such a rule bears on. A rule a stage has read is applied."""
    used = {value.key for value in design.rules_used}
    held = {key: value for key in UNREAD if key not in used and (value := rule(design, key))}
    bearing = bearing_on(design, held)
    for subject, keys in bearing.items():
        rules = "; ".join(f"{meaning_of(key, design.figures)}: {_said(design.figures, held[key])}" for key in keys)
        yield found("not_checked", Place(subject), f"not looked at: {rules}", source=held[keys[0]])
    if not bearing:
        yield found("pass", BUILDING, "every rule held that bears on this building was looked at")


def _said(figures: Figures, value: Sourced) -> str:
    """A value with its unit and where it is from."""
    number = value.value if isinstance(value.value, str) else figures.length(value.number, 2)
    unit = "" if value.unit == "ratio" else f" {value.unit}"
    return f"{number}{unit}, {value.citation}"
