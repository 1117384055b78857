"""Walls drawn the wrong way round have their outside within the building, and are named."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Wall
from elevgen.checks._finding import BUILDING, Place, found
from elevgen.checks._plan import stretches_in_plan
from elevgen.checks._words import listed
from elevgen.result import Design, Finding

CODE = "outside-inside"
TITLE = "Outsides of walls turned outwards"
RATIONALE = (
    "The outside of a wall is on the right hand of somebody who walks from its start to its end. "
    "Round a building drawn clockwise the facing leaf, its length, its sealant and its elevations are those of the inside."
)


def check(design: Design) -> Iterator[Finding]:
    """Walls with an enclosure on their right hand and open land on their left; of one leaf, a note: it may be a garden's."""
    turned: dict[str, Wall] = {}
    for stretch in stretches_in_plan(design.building):
        if stretch.right and not stretch.left:
            turned[stretch.wall.id] = stretch.wall
    if not turned:
        yield found("pass", BUILDING, "no wall has its outside turned into what it encloses")
    for leaves in (2, 1):
        if walls := [wall for wall in turned.values() if len(wall.leaves) == leaves]:
            yield _named(walls, cavity=leaves == 2)


def _named(walls: list[Wall], *, cavity: bool) -> Finding:
    names = tuple(wall.id for wall in walls)
    one = len(names) == 1
    text = f"the outside of {listed(names)} is turned into what {'it encloses' if one else 'they enclose'}: "
    text += "the outer leaf stands inside; " if cavity else "right round a garden, wrong round a building; "
    text += f"exchange start and end of {'the wall' if one else 'each wall'} and measure to the outer face"
    return found("warn" if cavity else "note", Place(", ".join(names), names), text)
