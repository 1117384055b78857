"""Masonry over an opening is carried by a lintel, in each leaf."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.building.model import Leaf, Opening
from elevgen.checks._finding import at_opening, found
from elevgen.checks._masonry import stretches
from elevgen.checks._rules import uncovered
from elevgen.core.geometry import Span, subtract
from elevgen.core.measures import millimetres
from elevgen.fittings.model import Lintel
from elevgen.result import Design, Finding

CODE = "opening-lintel"
TITLE = "A lintel over every opening"
RATIONALE = (
    "Masonry over a hole falls unless something carries it; openings with no masonry between them need one lintel over all."
)

BEARINGS = tuple(f"lintel.bearing.{which}" for which in ("short_span", "short.simple", "short.tray", "long"))


def check(design: Design) -> Iterator[Finding]:
    """Above the head of each opening, wherever there is masonry: a lintel no more than one course up.

    Where lintels are placed and the rules do not say how they bear, none that is missing is held against the building.
    """
    silent = any(key not in design.rules.values for key in BEARINGS)
    lintels: dict[str, list[Lintel]] = {}
    for lintel in design.fittings.lintels:
        lintels.setdefault(lintel.leaf, []).append(lintel)
    for wall in design.building.walls:
        for leaf in design.building.leaves_of(wall.id):
            for opening in wall.openings:
                finding = _judged(leaf, opening, lintels.get(leaf.id, []))
                unplaced = silent and wall.lintels.placing and finding.severity == "fail"
                yield uncovered(design, at_opening(leaf, opening), *BEARINGS) if unplaced else finding


def _judged(leaf: Leaf, opening: Opening, lintels: list[Lintel]) -> Finding:
    place = at_opening(leaf, opening)
    head = opening.rect.top
    spans = [common for s in _over(leaf, head, opening.rect.along) if (common := s.common(opening.rect.along))]
    if not spans:
        return found("pass", place, "no masonry straight over it to carry")
    course = max(zone.unit.gauge for zone in leaf.zones)
    over = [lintel.span for lintel in lintels if head - 1.0 <= lintel.level <= head + course]
    bare = [left for span in spans for left in subtract(span, over)]
    if bare:
        return found("fail", place, f"no lintel over {millimetres(sum(s.length for s in bare))} mm of it")
    return found("pass", place, "carried by a lintel over all its width")


def _over(leaf: Leaf, head: float, along: Span) -> tuple[Span, ...]:
    return stretches(leaf, Span(head, head + 1.0), near=along.grown(1.0))
