"""A leaf said to be reinforced every so far up is so all over: its movement joints stand further apart for that."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, at_leaf, found
from elevgen.checks._reinforced_height import Bare, barest, has_bed
from elevgen.core.geometry import at_most
from elevgen.result import Design, Finding

CODE = "reinforcement-all-over"
TITLE = "Reinforcement all the way up"
RATIONALE = (
    "Reinforced beds share a crack out over the wall, and only then may movement joints stand further apart; where beds are "
    "left out the wall is as any other, and its joints are too far apart."
)


def check(design: Design) -> Iterator[Finding]:
    """The greatest height of masonry without a reinforced bed, at every place along a leaf, against what the spec says of it.

    From bed to bed, and to the base, the top, heads and sills. Stretches shorter than a unit are left out, as beside a joint.
    """
    asked = [leaf for leaf in design.building.leaves if leaf.reinforced_every is not None]
    for leaf in asked:
        yield _judged(design, leaf, barest(design, leaf))
    if not asked:
        yield found("pass", BUILDING, "no leaf is to be reinforced all the way up")


def _judged(design: Design, leaf: Leaf, worst: Bare | None) -> Finding:
    every = leaf.reinforced_every
    assert every is not None
    if worst is None or at_most(worst.height, every):
        text = f"a reinforced bed no more than {design.figures.measure(every)} up from the last, all over"
        return found("pass", at_leaf(leaf), text, measured=worst.height if worst else None)
    text = f"{design.figures.measure(worst.height)} without a reinforced bed {worst.where(design.figures)}, "
    text += f"{design.figures.measure(every)} is asked: "
    bed = (
        "reinforce a bed there"
        if has_bed(design, leaf, worst.levels)
        else "there is no bed between, ask for no less than a course"
    )
    text += f"{bed}, or have joints as in a wall without"
    return found("fail", at_leaf(leaf), text, measured=worst.height)
