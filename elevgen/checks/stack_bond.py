"""Units that do not lap are held together by reinforcement in their beds."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import at_leaf, found
from elevgen.checks._reinforced_height import barest
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import at_most
from elevgen.result import Design, Finding

CODE = "stack-bond"
TITLE = "Reinforcement of stack bond"
RATIONALE = "Without lap every perpend is a straight joint from bottom to top: only steel in the beds makes a wall of it."
KEY = "bond.stack.bed_spacing"
UNLAPPED = "stack"
"""The bond whose units do not lap."""


def check(design: Design) -> Iterator[Finding]:
    """Each leaf in a bond that does not lap: the greatest height of masonry without a reinforced bed against what is allowed.

    Measured at every place along the leaf. Leaves that lap pass. What it carries is for an engineer, which a note says.
    """
    most = rule(design, KEY)
    for leaf in design.building.leaves:
        place = at_leaf(leaf)
        if leaf.bond != UNLAPPED:
            yield found("pass", place, "units lap: no stack bond")
            continue
        if most is None:
            yield uncovered(design, place, KEY)
            continue
        worst = barest(design, leaf)
        if worst is not None and not at_most(worst.height, most.number):
            text = f"stack bond, {design.figures.measure(worst.height)} without a reinforced bed {worst.where(design.figures)}: "
            text += f"reinforce a bed every {design.figures.measure(most.number)} at most"
            yield found("fail", place, text, measured=worst.height, most=most.number, source=most)
        else:
            text = f"stack bond, a bed reinforced every {design.figures.measure(most.number)} at most: units do not lap; "
            text += "strength and corners to a qualified engineer"
            yield found("note", place, text, measured=worst and worst.height, most=most.number, source=most)
