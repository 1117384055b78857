"""What the rule set has no value for is said, so that silence is never taken for a pass."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import BUILDING, Place, found
from elevgen.result import Design, Finding
from elevgen.rules.keys import KEYS, MATERIALS

CODE = "rules-not-covered"
TITLE = "Rules this set does not cover"
RATIONALE = "A rule without a value is a blind spot: the design may be right or wrong there, and nothing in it tells."


def check(design: Design) -> Iterator[Finding]:
    """One finding for each key without a value that bears on the building's materials."""
    used: set[str] = {unit.material for unit in design.building.units}
    bare = [key for key in KEYS.values() if key.key not in design.rules.values and not key.optional and _bears_on(key.key, used)]
    for key in bare:
        reason = design.rules.not_covered.get(key.key, "not in this rule set")
        yield found("not_checked", Place(key.key), f"{key.meaning}: {reason}")
    if not bare:
        yield found("pass", BUILDING, "the rule set covers every rule that bears on this building")


def _bears_on(key: str, used: set[str]) -> bool:
    material = key.rsplit(".", 1)[-1]
    return material not in MATERIALS or material in used
