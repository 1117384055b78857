"""The smallest loose steel angle that a table allows over each opening: what to ask an engineer about, never a choice."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, Place, at_fitting, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import listed
from elevgen.core.figures import figures
from elevgen.core.geometry import at_least, at_most
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Lintel
from elevgen.result import Design, Finding
from elevgen.rules.key import ANGLE_STOREYS, ANGLES

CODE = "lintel-angle"
TITLE = "Loose steel angles over openings"
RATIONALE = (
    "A loose angle chosen too light sags, and the brickwork on it cracks; tables of angles by span and storeys say which is the "
    "least to begin from."
)
STEM, STOREY = "lintel.angle", "lintel.load.storey_height.min"
OVER = {"none": "less than a storey", "one": "one storey", "two": "two storeys"}
CAUTION = "an engineer must confirm it"


class _Angle(NamedTuple):
    """An angle of the table, the storeys over it, and how far it may span."""

    name: str
    storeys: str
    span: Sourced


def check(design: Design) -> Iterator[Finding]:
    """Every lintel that is a steel angle: the smallest that the rule set's table allows for its widest clear span and the storeys
    over it. A note a leaf and angle; a warning where the table ends before the span or the storeys do."""
    lintels = [lintel for lintel in design.fittings.lintels if lintel.kind == "steel_angle"]
    if not lintels:
        yield found("pass", BUILDING, "no lintel is a loose steel angle")
        return
    storey = rule(design, STOREY)
    if storey is None or not any(rule(design, f"{STEM}.{angle}.{n}") for angle in ANGLES for n in ANGLE_STOREYS):
        missing = STOREY if storey is None else f"{STEM}.{ANGLES[0]}.{ANGLE_STOREYS[0]}"
        for lintel in lintels:
            yield uncovered(design, at_fitting(lintel), missing)
        return
    for leaf in design.building.leaves:
        own = [lintel for lintel in lintels if lintel.leaf == leaf.id]
        yield from _leaf(design, leaf, own, storey.number)


def _leaf(design: Design, leaf: Leaf, lintels: Sequence[Lintel], storey: float) -> Iterator[Finding]:
    alike: dict[_Angle, list[Lintel]] = {}
    for lintel in lintels:
        over = storeys_over(design, leaf, lintel, storey)
        row = _row(design, ANGLE_STOREYS[over]) if over < len(ANGLE_STOREYS) else []
        smallest = next((angle for angle in row if at_most(_span(lintel), angle.span.number)), None)
        if smallest is None:
            yield _past(design, lintel, over, row)
        else:
            alike.setdefault(smallest, []).append(lintel)
    for angle, some in alike.items():
        yield _note(design, leaf, angle, some)


def storeys_over(design: Design, leaf: Leaf, lintel: Lintel, storey: float) -> int:
    """Storeys of masonry over a lintel, never too few: as the heads of the building's openings tell, a storey or more over one
    another, and as many as would go into the masonry there is over it."""
    heads = sorted({opening.rect.top for wall in design.building.walls for opening in wall.openings})
    by_heads, last = 0, lintel.level
    for level in heads:
        if at_least(level - last, storey):
            by_heads, last = by_heads + 1, level
    masonry = leaf.top.highest(lintel.clear) - lintel.level
    by_height = 0
    while at_least(masonry, (by_height + 1) * storey):
        by_height += 1
    return max(by_heads, by_height)


def _row(design: Design, storeys: str) -> list[_Angle]:
    """The angles the table has for so many storeys, the smallest first."""
    known = ((angle, rule(design, f"{STEM}.{angle}.{storeys}")) for angle in ANGLES)
    return [_Angle(angle, storeys, span) for angle, span in known if span is not None]


def _past(design: Design, lintel: Lintel, over: int, row: Sequence[_Angle]) -> Finding:
    measure = figures(design.rules.lengths).measure
    span = _span(lintel)
    if not row:
        text = f"{over} storeys over a loose angle that spans {measure(span)}: the table ends before that; {CAUTION}"
        return found("warn", at_fitting(lintel), text)
    last = max(row, key=lambda angle: angle.span.number)
    text = (
        f"spans {measure(span)} with {OVER[last.storeys]} over it: the largest angle of the table, {_words(last.name)}, goes to "
        f"{measure(last.span.number)}; take another kind of lintel or a narrower opening, and {CAUTION}"
    )
    return found(
        "warn", at_fitting(lintel), text, measured=span, most=last.span.number, source=last.span, also=(rule(design, STOREY),)
    )


def _note(design: Design, leaf: Leaf, angle: _Angle, lintels: Sequence[Lintel]) -> Finding:
    measure = figures(design.rules.lengths).measure
    widest = max(_span(lintel) for lintel in lintels)
    names = listed([lintel.id.removeprefix(f"{leaf.id}/") for lintel in lintels])
    openings = tuple(dict.fromkeys(opening for lintel in lintels for opening in lintel.openings))
    note = f" ({angle.span.note})" if angle.span.note else ""
    text = (
        f"{names}: over {measure(widest)}, {OVER[angle.storeys]} over it, the smallest angle the table allows is "
        f"{_words(angle.name)}, which goes to {measure(angle.span.number)}{note}; {CAUTION}"
    )
    place = Place(leaf.id, (leaf.wall,), (leaf.id,), openings)
    return found("note", place, text, measured=widest, most=angle.span.number, source=angle.span, also=(rule(design, STOREY),))


def _span(lintel: Lintel) -> float:
    return max(clear.length for clear in lintel.clears)


def _words(angle: str) -> str:
    """`two 6 x 3 1/2 in` of `two_6x3_5`."""
    return f"{angle.replace('3_5', '3 1/2').replace('_', ' ').replace('x', ' x ')} in"
