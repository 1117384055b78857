"""What the rule set has no value for is said, so that silence is never taken for a pass."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevgen.checks._finding import BUILDING, Place, found
from elevgen.checks._subjects import bearing_on
from elevgen.checks._words import listed
from elevgen.result import Design, Finding
from elevgen.rules.keys import KEYS, MATERIALS
from elevgen.rules.telling import meaning_of

CODE = "rules-not-covered"
TITLE = "Rules this set does not cover"
RATIONALE = "A rule without a value is a blind spot: the design may be right or wrong there, and nothing in it tells."


def check(design: Design) -> Iterator[Finding]:
    """One finding for each subject the building has that a rule without a value bears on, with every such rule and why."""
    bare = [key.key for key in KEYS.values() if key.key not in design.rules.values and not key.optional]
    bearing = bearing_on(design, bare)
    for subject, keys in bearing.items():
        yield found("not_checked", Place(subject), f"no value for {'; '.join(_reasons(design, keys))}")
    if not bearing:
        yield found("pass", BUILDING, "the rule set covers every rule that bears on this building")


def _reasons(design: Design, keys: Sequence[str]) -> Iterator[str]:
    """Why rules have no value, and which lack one for that reason; materials of one rule together."""
    alike: dict[str, dict[str, list[str]]] = {}
    for key in keys:
        material = key.rsplit(".", 1)[-1].replace("_", " ")
        in_material = key.rsplit(".", 1)[-1] in MATERIALS
        meaning = meaning_of(key, design.figures)
        meaning = meaning.removesuffix(f", {material}") if in_material else meaning
        reason = design.rules.not_covered.get(key, "not in this rule set")
        alike.setdefault(reason, {}).setdefault(meaning, []).extend([material] if in_material else [])
    for reason, meanings in alike.items():
        rules = [f"{meaning}{f' ({listed(names)})' if names else ''}" for meaning, names in meanings.items()]
        yield f"{listed(rules)}: {reason}"
