"""How far finished masonry may be out of level and out of plumb, for whoever sets it out and whoever checks it."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Building
from elevgen.core.geometry import at_most
from elevgen.fittings.model import SiteTolerance
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure

LEVEL, PLUMB = "tolerance.level", "tolerance.plumb"


def site_tolerances(building: Building, reader: RuleReader) -> Iterator[SiteTolerance]:
    """What each leaf that is to be built may be out by; of walls that stand already nothing is asked. Lengths in mm."""
    standing = {wall.id for wall in building.walls if wall.existing}
    for leaf in building.leaves:
        if leaf.wall not in standing:
            length, height = leaf.span.length, leaf.top.highest(leaf.span) - leaf.base.lowest(leaf.span)
            basis = tuple(key for stem, far in ((LEVEL, "length"), (PLUMB, "height")) for key in _keys(stem, far))
            yield SiteTolerance(
                *(leaf.id, length, level_tolerance(reader, length), height, plumb_tolerance(reader, height)),
                covered(reader, *basis),
            )


def level_tolerance(reader: RuleReader, length: float) -> float | None:
    """How far a bed of that length may be out of level, mm; None where the rule set does not say."""
    return _tolerance(reader, *_keys(LEVEL, "length"), distance=length)


def plumb_tolerance(reader: RuleReader, height: float) -> float | None:
    """How far a wall of that height may be out of plumb, mm; None where the rule set does not say."""
    return _tolerance(reader, *_keys(PLUMB, "height"), distance=height)


def _keys(stem: str, far: str) -> tuple[str, str, str]:
    return f"{stem}.per_metre", f"{stem}.{far}", f"{stem}.beyond"


def _tolerance(reader: RuleReader, per_metre: str, far: str, beyond: str, *, distance: float) -> float | None:
    """In proportion up to the distance for which that holds, one figure past it.

    Where no such distance is told the one figure is the most it comes to.
    """
    each, until, most = (figure(reader, key) for key in (per_metre, far, beyond))
    in_proportion = None if each is None else each * distance / 1000
    if until is not None:
        return in_proportion if at_most(distance, until) else most
    return most if in_proportion is None else in_proportion if most is None else min(in_proportion, most)
