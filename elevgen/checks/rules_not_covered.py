"""What the rule set has no value for is said, so that silence is never taken for a pass."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevgen.checks._finding import BUILDING, Place, found
from elevgen.checks._subjects import bearing_on
from elevgen.checks._words import listed
from elevgen.core.figures import Figures
from elevgen.result import Design, Finding
from elevgen.rules.keys import KEYS
from elevgen.rules.subjects import shared_meaning
from elevgen.rules.telling import meaning_of

CODE = "rules-not-covered"
TITLE = "Rules this set does not cover"
RATIONALE = "A rule without a value is a blind spot: the design may be right or wrong there, and nothing in it tells."

_LOAD = "lintel.load."
KINDS = (
    (tuple(f"{_LOAD}{name}." for name in ("triangle", "zone", "spread", "span", "storeys")), "the load triangle over lintels"),
    ((f"{_LOAD}arching.", f"{_LOAD}side."), "arching over lintels"),
    (("movement_joint.parapet.",), "movement joints in parapets"),
    (("dpc.",), "damp-proof courses"),
    (("tray.", "weep."), "cavity trays and weep holes"),
)
"""Rules that are one matter, by how their keys begin, and what it is called where many of them lack a value for one reason."""
MANY = 3


def check(design: Design) -> Iterator[Finding]:
    """One finding for each subject the building has that a rule without a value bears on, with every such rule and why."""
    bare = [key.key for key in KEYS.values() if key.key not in design.rules.values and not key.optional]
    bearing = bearing_on(design, bare)
    for subject, keys in bearing.items():
        yield found("not_checked", Place(subject), f"no value for {'; '.join(_reasons(design, keys))}")
    if not bearing:
        yield found("pass", BUILDING, "the rule set covers every rule that bears on this building")


def _reasons(design: Design, keys: Sequence[str]) -> Iterator[str]:
    """Each reason once, with all the rules that lack a value for it: whole kinds of rule by their name and number."""
    alike: dict[str, list[str]] = {}
    for key in keys:
        alike.setdefault(design.rules.not_covered.get(key, "not in this rule set"), []).append(key)
    for reason, lacking in alike.items():
        yield f"{listed(tuple(_meanings(lacking, design.figures)))} ({reason})"


def _meanings(keys: Sequence[str], figures: Figures) -> Iterator[str]:
    left = list(keys)
    for beginnings, name in KINDS:
        under = [key for key in left if key.startswith(beginnings)]
        if len(under) >= MANY:
            left = [key for key in left if key not in under]
            yield f"{len(under)} rules for {name}"
    materials: dict[str, list[str]] = {}
    for key in left:
        whole = meaning_of(key, figures)
        meaning = shared_meaning(key, whole)
        of_one = meaning != whole
        materials.setdefault(meaning, []).extend([key.rsplit(".", 1)[-1].replace("_", " ")] if of_one else [])
    yield from (f"{meaning} in {listed(names)}" if names else meaning for meaning, names in materials.items())
