"""What is cut in a leaf: of which unit, how long, how high, how many, where."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from elevgen.coursing.cutpieces import tenths
from elevgen.coursing.model import Laid
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.listing import counted, numbers, places
from elevgen.drawing.tables import Column, Row, Table

FEW = 2
"""Sizes cut no more than so many times share a row with others of their unit and height."""
MOST_PLACES = 4
"""So many sets of courses a row names the places of; what is left over is counted."""


class CutSize(NamedTuple):
    """Pieces cut alike: unit, how they are laid, length along the wall and height, mm."""

    unit: str
    laid: Laid
    length: float
    height: float


def cut_table(facts: LeafFacts) -> Table:
    """Every size that is cut, the most pieces first, then what is cut to a slope. Pieces are counted as `Cutting` has them."""
    columns = (
        Column("unit", 24),
        Column("length", 12, "right"),
        Column("height", 11, "right"),
        Column("no.", 10, "right"),
        Column("on course: where they begin", 45),
    )
    sizes: Counter[CutSize] = Counter()
    for piece in facts.cut_pieces:
        sizes[CutSize(piece.unit, piece.laid, piece.length, piece.height)] += piece.number
    where = _where(facts)
    length = facts.figures.length
    ranked = sorted(sizes.items(), key=lambda item: (-item[1], item[0]))
    rows = [
        Row((_unit(size), length(size.length), length(size.height), f"{number}", where.get(size, "")), facts.leaf.id)
        for size, number in ranked
        if number > FEW
    ]
    few: defaultdict[tuple[str, float], list[CutSize]] = defaultdict(list)
    for size, number in ranked:
        if number <= FEW:
            few[_unit(size), size.height].append(size)
    for (unit, height), alike in few.items():
        number = sum(sizes[size] for size in alike)
        by_length = sorted(alike, key=lambda size: size.length)
        said = "; ".join(f"{length(size.length)} on {where.get(size, '')}" for size in by_length)
        reach = " to ".join(dict.fromkeys((length(by_length[0].length), length(by_length[-1].length))))
        rows.append(Row((unit, reach, length(height), f"{number}", said), facts.leaf.id))
    return Table("Cuts", columns, (*rows, *_sloping(facts)))


def _unit(size: CutSize) -> str:
    return f"{size.unit}, closer" if size.laid == "closer" else size.unit


def _sloping(facts: LeafFacts) -> Iterator[Row]:
    """A row for each unit that is cut to the slope of the top: no two of these pieces need be alike."""
    for unit in sorted({slope.unit for slope in facts.slope_cuts}):
        cuts = [slope for slope in facts.slope_cuts if slope.unit == unit]
        longest = f"to {facts.figures.length(max(cut.long for cut in cuts))}"
        number = f"{sum(cut.number for cut in cuts)}"
        yield Row((unit, longest, "slope", number, f"{numbers(cut.course for cut in cuts)}: at the slope"), facts.leaf.id)


def _where(facts: LeafFacts) -> dict[CutSize, str]:
    """Where each size is, from the patterns laid: courses in which it stands at the same places together."""
    at: defaultdict[CutSize, defaultdict[int, list[float]]] = defaultdict(lambda: defaultdict(list))
    hidden: Counter[CutSize] = Counter()
    whole_courses: defaultdict[CutSize, set[int]] = defaultdict(set)
    for placement in facts.coursing.placements:
        pattern = facts.patterns.get(placement.pattern)
        if pattern is None:
            continue
        for n, piece in enumerate((*pattern.pieces, *pattern.unseen)):
            if piece.kind == "return" or (piece.kind == "full" and not pattern.split):
                continue
            length, height = (tenths(x, facts.figures) for x in (pattern.real(n), pattern.height))
            size = CutSize(pattern.unit, piece.laid, length, height)
            if n >= len(pattern.pieces):
                hidden[size] += piece.deep
            elif pattern.split:
                whole_courses[size].add(placement.course)
            else:
                at[size][placement.course].append(placement.span.start + piece.at)
    found = {size: _places(facts, courses) for size, courses in at.items()}
    for size, split in whole_courses.items():
        found[size] = "; ".join(filter(None, (found.get(size), f"{numbers(split)}: cut in height")))
    for size, number in hidden.items():
        found[size] = "; ".join(filter(None, (found.get(size), f"{number} out of sight in a return")))
    return found


def _places(facts: LeafFacts, courses: dict[int, list[float]]) -> str:
    """`4, 6, 8 … 18: 1340, 2810`: courses with the same places together, those with most pieces first."""
    of_place: defaultdict[int, list[int]] = defaultdict(list)
    for course, found in courses.items():
        for at in found:
            of_place[round(at)].append(course)
    together: defaultdict[tuple[int, ...], list[float]] = defaultdict(list)
    for place in sorted(of_place):
        together[tuple(sorted(of_place[place]))].append(float(place))
    ranked = sorted(together.items(), key=lambda item: (-len(item[0]) * len(item[1]), item[0]))
    said = [f"{numbers(on)}: {places(facts.figures, sorted(found))}" for on, found in ranked[:MOST_PLACES]]
    more = sum(len(on) * len(found) for on, found in ranked[MOST_PLACES:])
    return "; ".join((*said, counted(more, "more place")) if more else said)
