"""A leaf reinforced all over has as much steel in its beds as the rules ask."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._reinforced_height import ALL_OVER, barest
from elevgen.checks._rules import rule
from elevgen.checks._steel import steel_a_metre, wire_area
from elevgen.checks._words import steel_words
from elevgen.core.geometry import at_least
from elevgen.result import Design, Finding, Severity

CODE = "reinforcement-area"
TITLE = "Steel in a leaf reinforced all over"
RATIONALE = "Too little steel in the beds yields at the first crack and then holds nothing; documents set a least area."
WIRE, NUMBER = "bed_reinforcement.wire.diameter", "bed_reinforcement.wire.number"
FRACTION, PER_HEIGHT = "bed_reinforcement.area.fraction", "bed_reinforcement.area.per_height"


def check(design: Design) -> Iterator[Finding]:
    """Area of the wires in a bed over the greatest height it serves, against part of the leaf's section or an area a metre.

    Judged by what the rule set has (EN 1996-1-1 8.2.3, from memory; IRC R606.12.3.2; TEK 10-3); where it has neither nothing is
    asked.
    """
    leaves = [
        leaf
        for leaf in design.building.leaves
        if any(r.leaf == leaf.id and ALL_OVER & set(r.why) for r in design.fittings.bed_reinforcement)
    ]
    judged = [finding for leaf in leaves for finding in _judged(design, leaf)]
    yield from judged
    if not judged:
        words = "no least area of steel is asked" if leaves else "no leaf is reinforced all over"
        yield found("pass", BUILDING, words)


def _judged(design: Design, leaf: Leaf) -> Iterator[Finding]:
    diameter, number, bare = rule(design, WIRE), rule(design, NUMBER), barest(design, leaf)
    if diameter is None or number is None or bare is None or not bare.height:
        return
    a_metre = steel_a_metre(wire_area(diameter.number, number.number), bare.height)
    for key, thickness in ((FRACTION, leaf.thickness), (PER_HEIGHT, None)):
        least = rule(design, key)
        if least is None:
            continue
        asked = least.number * 1000 * thickness if thickness is not None else least.number
        enough = at_least(a_metre, asked)
        text = steel_words(design.figures, a_metre, asked)
        text += "" if enough else ": reinforce nearer beds or thicker; for an engineer"
        severity: Severity = "pass" if enough else "note"
        also = diameter, number
        yield found(severity, at_leaf(leaf), text, measured=a_metre, least=asked, unit="mm2/m", source=least, also=also)
