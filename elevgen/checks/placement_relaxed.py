"""Where no placement of movement joints keeps every rule, the rules that had to give way are named."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.core.measures import millimetres
from elevgen.result import Design, Finding

CODE = "placement-relaxed"
TITLE = "Movement joint rules that could not be kept"
RATIONALE = "Openings can stand so close that no joint fits between; what is placed is the least bad, and somebody must decide."


def check(design: Design) -> Iterator[Finding]:
    """One warning for each rule given way, and a note for a run whose placement is not proven best."""
    for placement in design.plan.placements:
        for relaxed in placement.relaxed:
            source = design.rules.values.get(relaxed.rule)
            text = (
                f"no legal place for a joint keeps {relaxed.rule}: "
                f"{millimetres(relaxed.measured)} against {millimetres(relaxed.limit)}"
            )
            yield Finding(
                "", CODE, "warn", relaxed.where or placement.run, text, relaxed.measured, "", relaxed.limit, "mm", source
            )
        if not placement.optimal:
            text = f"{len(placement.joints)} joints placed; not proven that {placement.lower_bound} would not do"
            yield Finding("", CODE, "note", placement.run, text)
        if placement.optimal and not placement.relaxed:
            text = f"{len(placement.joints)} joints, every rule kept, and fewer will not do"
            yield Finding("", CODE, "pass", placement.run, text)
