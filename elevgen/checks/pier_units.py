"""Piers whose own units are neither laid nor counted are named."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import BUILDING, at_wall, found
from elevgen.checks._words import counted, listed
from elevgen.result import Design, Finding

CODE = "pier-units"
TITLE = "Units of piers"
RATIONALE = (
    "A pier stands out of its wall and is bonded into it in every other course. Its units are wanted on site like the wall's: an "
    "order without them falls short."
)


def check(design: Design) -> Iterator[Finding]:
    """Each wall with piers: a note that the wall is laid as if it ran by them. Common practice, no source."""
    silent = True
    for wall in design.building.walls:
        piers = [feature.at for feature in wall.features if feature.kind == "pier"]
        if piers:
            silent = False
            where = listed([design.figures.length(at) for at in piers])
            text = f"{counted(len(piers), 'pier')} at {where}: units that stand out of the wall are not laid or counted here; "
            yield found("note", at_wall(wall), text + "bond them into every other course, and add them to the order")
    if silent:
        yield found("pass", BUILDING, "no piers")
