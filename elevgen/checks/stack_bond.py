"""Units that do not lap are held together by reinforcement in their beds."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import at_leaf, found
from elevgen.checks._rules import rule, uncovered
from elevgen.core.geometry import at_most
from elevgen.core.measures import millimetres
from elevgen.result import Design, Finding, Severity

CODE = "stack-bond"
TITLE = "Reinforcement of stack bond"
RATIONALE = "Without lap every perpend is a straight joint from bottom to top: only steel in the beds makes a wall of it."
KEY = "bond.stack.bed_spacing"
UNLAPPED = "stack"
"""The bond whose units do not lap."""


def check(design: Design) -> Iterator[Finding]:
    """Each leaf in a bond that does not lap: the distance between its reinforced beds against the greatest allowed.

    Leaves that lap pass. What reinforcement carries is for an engineer, which a note says.
    """
    most = rule(design, KEY)
    for leaf in design.building.leaves:
        place = at_leaf(leaf)
        if leaf.bond != UNLAPPED:
            yield found("pass", place, "units lap: no stack bond")
        elif most is None:
            yield uncovered(design, place, KEY)
        elif leaf.reinforced_every is None:
            text = f"stack bond without reinforcement all over: reinforce a bed every {millimetres(most.number)} mm at most"
            yield found("fail", place, text, source=most)
        else:
            enough = at_most(leaf.reinforced_every, most.number)
            text = f"stack bond, a bed reinforced every {millimetres(leaf.reinforced_every)} mm"
            text += ": units do not lap; strength and corners to a qualified engineer" if enough else ""
            severity: Severity = "note" if enough else "fail"
            yield found(severity, place, text, measured=leaf.reinforced_every, most=most.number, source=most)
