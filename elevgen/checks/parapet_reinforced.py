"""A parapet is reinforced from foot to top."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._reinforced_height import barest
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import at_most
from elevgen.result import Design, Finding

CODE = "parapet-reinforced"
TITLE = "Reinforcement of parapets"
RATIONALE = "A parapet is in the weather on both sides and nothing holds it at its top: it cracks sooner than the wall below."
KEY = "bed_reinforcement.parapet.spacing"


def check(design: Design) -> Iterator[Finding]:
    """The greatest height without a reinforced bed in each leaf of a parapet, at every place along it; common practice."""
    most = rule(design, KEY)
    leaves = [leaf for leaf in design.building.leaves if design.building.wall(leaf.wall).stands == "parapet"]
    for leaf in leaves:
        if most is None:
            yield uncovered(design, at_leaf(leaf), KEY)
            continue
        worst = barest(design, leaf)
        if worst is not None and not at_most(worst.height, most.number):
            text = f"parapet with {design.figures.measure(worst.height)} without a reinforced bed {worst.where(design.figures)}"
            yield found("warn", at_leaf(leaf), text, measured=worst.height, most=most.number, source=most)
        else:
            text = f"a reinforced bed every {design.figures.measure(most.number)} at most"
            yield found("pass", at_leaf(leaf), text, measured=worst and worst.height, most=most.number, source=most)
    if not leaves:
        yield found("pass", BUILDING, "no parapet")
