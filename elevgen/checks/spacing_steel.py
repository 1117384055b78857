"""Masonry whose movement joints may stand apart only with steel in its beds has that much all over."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, inf

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._masonry import face_area
from elevgen.checks._reinforced_height import ALL_OVER, barest
from elevgen.checks._rules import materials, rule, strictest, uncovered
from elevgen.checks._spacing import allowed
from elevgen.checks._steel import steel_a_metre, wire_area
from elevgen.checks._words import steel_words
from elevgen.core.geometry import TOLERANCE, at_least, at_most
from elevgen.core.measures import METRE
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding, Severity

CODE = "spacing-steel"
TITLE = "Steel the joint spacing depends on"
RATIONALE = (
    "The spacing of joints in masonry that shrinks was found for walls with some steel in their beds, which keeps cracks fine; "
    "without it the wall cracks between joints that would have been near enough."
)
STEM = "movement_joint.spacing.steel"
ASKED_BY = (f"{STEM}.",)
RATIO = "movement_joint.panel_ratio"
WIRE, NUMBER = "bed_reinforcement.wire.diameter", "bed_reinforcement.wire.number"


def check(design: Design) -> Iterator[Finding]:
    """Steel for each metre of height in the beds of a leaf, over the greatest height one of them serves, against what is asked.

    Asked of every leaf of the material in a run longer than the spacing, or itself longer than a panel of its height may be: in
    shorter masonry no joint depends on it.
    """
    asking = [(leaf, asked) for leaf in design.building.leaves if (asked := _asked(design, leaf)) is not None]
    for leaf, asked in asking:
        yield _judged(design, leaf, asked)
    if not asking:
        yield found("pass", BUILDING, "no masonry whose spacing of joints depends on steel")


def _asked(design: Design, leaf: Leaf) -> Sourced | None:
    """The most that a material of the leaf asks (mm2/m)."""
    known = (rule(design, f"{STEM}.{material}") for material in materials(leaf))
    return max((value for value in known if value is not None), key=lambda v: v.number, default=None)


def _judged(design: Design, leaf: Leaf, asked: Sourced) -> Finding:
    run = next((run for run in design.runs if leaf.id in run.leaves), None)
    long = run.length if run is not None else leaf.span.length
    if at_most(long, allowed(design, leaf).usual) and at_most(leaf.span.length, _panel(design, leaf)):
        text = f"{design.figures.run(long)} in one piece at most, short enough to need no movement joint"
        return found("pass", at_leaf(leaf), text, source=asked)
    diameter, number = rule(design, WIRE), rule(design, NUMBER)
    if diameter is None or number is None:
        return uncovered(design, at_leaf(leaf), WIRE, NUMBER)
    area = wire_area(diameter.number, number.number)
    there = _steel(design, leaf, area)
    text = steel_words(design.figures, there, asked.number, 1)
    enough = at_least(there, asked.number)
    if not enough:
        text += f" for movement joints as far apart as they may be here: {_what_would_do(design, leaf, area, asked.number)}"
    severity: Severity = "pass" if enough else "warn"
    also = diameter, number
    return found(severity, at_leaf(leaf), text, measured=there, least=asked.number, unit="mm2/m", source=asked, also=also)


def _panel(design: Design, leaf: Leaf) -> float:
    """How long a panel as high as the leaf may be."""
    ratio = strictest(design, leaf, RATIO).value
    return inf if ratio is None else ratio.number * face_area(leaf) / leaf.span.length


def _steel(design: Design, leaf: Leaf, area: float) -> float:
    """Steel to a metre of height, at the barest place; none where no bed is reinforced from end to end."""
    reinforced = any(r.leaf == leaf.id and ALL_OVER & set(r.why) for r in design.fittings.bed_reinforcement)
    bare = barest(design, leaf) if reinforced else None
    return 0.0 if bare is None or not bare.height else steel_a_metre(area, bare.height)


def _what_would_do(design: Design, leaf: Leaf, area: float, asked: float) -> str:
    """The beds to be reinforced with the wires there are, or that these are too thin."""
    most = area * METRE / asked
    gauge = max(zone.unit.gauge for zone in leaf.zones)
    every = floor((most + TOLERANCE) / gauge)
    if every == 0:
        return "thicker wires in every bed would do"
    beds = {1: "every bed joint", 2: "every second bed joint", 3: "every third bed joint"}.get(every, f"one bed joint in {every}")
    return f"reinforce {beds}, no more than {design.figures.measure(every * gauge)} apart"
