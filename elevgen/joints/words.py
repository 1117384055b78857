"""Why a joint stands where it does, in words a bricklayer understands."""

from __future__ import annotations

from collections.abc import Sequence

from elevgen.building.model import Building, Run, RunNode, Wall
from elevgen.core.figures import Figures
from elevgen.core.geometry import TOLERANCE, Span

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
NEAR = 3000.0
"""An opening further off than this (mm) says nothing about a joint's place."""


def run_words(figures: Figures, run: Run, building: Building) -> str:
    """`run of 53.2 m round four corners`; where walls go on in one line it is a meeting, which takes the building to tell."""
    straight = {n.id for n in run.nodes if n.kind == "corner" and _straight(n, building)}
    corners = sum(1 for n in run.nodes if n.kind == "corner" and n.id not in straight)
    meetings = sum(1 for n in run.nodes if n.kind in ("tee", "cross") or n.id in straight)
    text = f"run of {figures.run(run.length, 1)}"
    if corners:
        text += f" round {count(corners)} corner{'s' if corners > 1 else ''}"
    if meetings:
        text += f"{' and' if corners else ''} through {count(meetings)} meeting{'s' if meetings > 1 else ''} with other walls"
    return text


def _straight(node: RunNode, building: Building) -> bool:
    """Whether leaves that end at a node go on in one line there."""
    ends = [(leaf, end) for leaf in map(building.leaf, dict(node.at)) for end in (leaf.start_end, leaf.finish_end)]
    here = [end for leaf, end in ends if end.kind == "corner" and end.other in dict(node.at)]
    return bool(here) and all(abs(end.far - end.near) <= TOLERANCE for end in here)


def count(number: int) -> str:
    """A small number as a word."""
    return _NUMBERS[number] if number < len(_NUMBERS) else str(number)


def length(figures: Figures, value: float) -> str:
    """A length in metres, no more figures than it needs (`12 m`, `7.5 m`)."""
    return figures.plain(value)


def opening_words(figures: Figures, wall: Wall, gap: Span) -> str | None:
    """How far the joint stands clear of the nearest opening, on whatever storey: `1.35 m clear of window W2`."""
    distances = sorted((max(o.rect.left - gap.end, gap.start - o.rect.right), o.id, o.kind) for o in wall.openings)
    if not distances or distances[0][0] > NEAR:
        return None
    clear, name, kind = distances[0]
    if clear < -TOLERANCE:
        return f"goes through {kind} {name}"
    return f"{figures.run(clear)} clear of {kind} {name}"


def hiding_words(hides: Sequence[tuple[str, Span]], at: float) -> str | None:
    """`behind the downpipe`."""
    before = {
        "downpipe": "behind the",
        "column": "beside the",
        "pier": "beside the",
        "recess": "in the",
        "re-entrant corner": "hidden in the",
    }
    kind = next((kind for kind, span in hides if span.contains(at)), None)
    return None if kind is None else f"{before[kind]} {kind}"
