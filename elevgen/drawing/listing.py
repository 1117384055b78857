"""Lists said short: course numbers, places along a wall, names; what differs from course to course."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from elevgen.core.figures import Figures

NOT_CALCULATED = "–"
LONGEST_TURN = 4
"""Steps of a bond that repeat by turns: three stretchers and a header at most."""
_SAME_STEP = 0.06
"""Steps no further apart than this (mm) are written alike, to a tenth of a millimetre."""


def counted(count: int, what: str) -> str:
    """`1 lap`, `2 laps`."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def several(ids: tuple[str, ...]) -> str:
    """Up to two ids by name, more than that by the first and how many."""
    return ", ".join(ids) if len(ids) < 3 else f"{ids[0]} +{len(ids) - 1}"


def in_rows(ids: tuple[str, ...]) -> str:
    """Ids by name, those that follow on each other as the first to the last: `MJ1, MJ4 to MJ7`."""
    rows: list[list[str]] = []
    for name in ids:
        last = rows[-1][-1] if rows else ""
        stem, number = last.rstrip("0123456789"), last[len(last.rstrip("0123456789")) :]
        if number and name == f"{stem}{int(number) + 1}":
            rows[-1].append(name)
        else:
            rows.append([name])
    return ", ".join(f"{row[0]} to {row[-1]}" if len(row) > 2 else ", ".join(row) for row in rows)


def number_rows(numbers: Iterable[int]) -> tuple[tuple[int, ...], ...]:
    """Whole numbers in rows of one step, from the smallest on: neighbours, or four and more the same step apart."""
    left = sorted(set(numbers))
    found: list[tuple[int, ...]] = []
    while left:
        row = left[:1]
        if len(left) > 1:
            step = left[1] - left[0]
            while len(row) < len(left) and left[len(row)] == row[-1] + step:
                row.append(left[len(row)])
            if step > 1 and len(row) < 4:
                row = left[:1]
        found.append(tuple(row))
        left = left[len(row) :]
    return tuple(found)


def numbers(given: Iterable[int]) -> str:
    """Course numbers: `24`, `24, 25`, `24-27`, `3, 6, 9 … 24`, but four of them in full."""
    said = []
    for row in number_rows(given):
        if len(row) < 3 or (len(row) == 4 and row[1] > row[0] + 1):
            said += [f"{n}" for n in row]
        elif row[1] == row[0] + 1:
            said.append(f"{row[0]}-{row[-1]}")
        else:
            said.append(f"{row[0]}, {row[1]}, {row[2]} … {row[-1]}")
    return ", ".join(said)


def varying(courses_of: Mapping[str, Sequence[int]]) -> str:
    """What is the same on all courses, said once; else each with its courses: `3812 on 6; 1726 on 12`."""
    if len(courses_of) < 2:
        return "".join(courses_of)
    return "; ".join(f"{words} on {numbers(courses)}" for words, courses in courses_of.items())


class Places(NamedTuple):
    """Places along a line (mm) whose steps repeat after `turn` of them; one place alone has no turn."""

    at: tuple[float, ...]
    turn: int

    @property
    def steps(self) -> tuple[float, ...]:
        """Each step of a turn, its mean over all turns."""
        steps = [b - a for a, b in pairwise(self.at)]
        return tuple(sum(steps[n :: self.turn]) / len(steps[n :: self.turn]) for n in range(self.turn))


def place_rows(places: Sequence[float], longest_turn: int = LONGEST_TURN) -> tuple[Places, ...]:
    """Places in order in rows that can be said short, the most places in each row; steps repeat by turns of so many at most."""
    found: list[Places] = []
    at = 0
    while at < len(places):
        rows = ((_row(places, at, turn), turn) for turn in range(1, longest_turn + 1))
        # Of two that reach as far the plainer one.
        row, turn = max(rows, key=lambda x: (len(x[0]), -x[1]))
        found.append(Places(row, turn) if len(row) > 1 else Places(tuple(places[at : at + 1]), 0))
        at += len(found[-1].at)
    return tuple(found)


def _row(places: Sequence[float], begin: int, turn: int) -> tuple[float, ...]:
    """The places from one on whose steps repeat after so many; none where that saves no words."""
    end = begin + turn
    while end + 1 < len(places) and _repeats(places, end, turn):
        end += 1
    row = tuple(places[begin : end + 1])
    return row if len(row) > max(3, 2 * turn) else ()


def _repeats(places: Sequence[float], k: int, turn: int) -> bool:
    return abs((places[k + 1] - places[k]) - (places[k + 1 - turn] - places[k - turn])) <= _SAME_STEP


def places(figures: Figures, given: Sequence[float], longest_turn: int = 1) -> str:
    """Places as read off a tape, whole: `225, then every 900 to 5625`, `112, then by turns 225 and 112.5 to 3262`."""
    said: list[str] = []
    for row in place_rows(given, longest_turn):
        first = figures.length(row.at[0], 0)
        if row.turn == 0:
            said.append(first)
            continue
        steps = [figures.length(step) for step in row.steps]
        how = f"every {steps[0]}" if row.turn == 1 else f"by turns {', '.join(steps[:-1])} and {steps[-1]}"
        said.append(f"{first}, then {how} to {figures.length(row.at[-1], 0)}")
    return "; ".join(said)
