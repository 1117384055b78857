"""Labels there was no room for: a number stands in their place where even that fits, and a table says what it stands for."""

from __future__ import annotations

from collections.abc import Sequence

from elevgen.core.figures import Figures
from elevgen.drawing.board import SMALLEST_TEXT
from elevgen.drawing.labels import Label, Placing
from elevgen.drawing.scene import LeftOut
from elevgen.drawing.tables import Column, Row, Table

NO_NUMBER = "–"
"""In place of the number of a label that has no room even for that."""


def number_left_out(placing: Placing, labels: Sequence[Label]) -> tuple[LeftOut, ...]:
    """Set a number in brackets in place of each label, from left to right; before that the label itself with a leader."""
    found: list[LeftOut] = []
    count = 0
    for label in sorted(labels, key=lambda x: (x.target[0], x.target[1], x.source, x.text)):
        anywhere = label._replace(leader=True, targets=(*label.targets, *(spot.at for spot in label.spots)))
        if not label.leader and placing.place(anywhere):
            continue
        number = f"({count + 1})"
        placed = placing.place(anywhere._replace(text=number, height=SMALLEST_TEXT, bold=True, short=""))
        count += placed
        found.append(LeftOut(number if placed else NO_NUMBER, label.text, *label.target, label.source))
    return tuple(found)


def left_out_table(left_out: Sequence[LeftOut], figures: Figures) -> Table:
    """What the numbers in brackets stand for; a dash where there was no room for a number either."""
    columns = (Column("No.", 9), Column("what is there", 50), Column("at", 16, "right"), Column("level", 18, "right"))
    rows = tuple(Row((x.number, x.text, figures.length(x.at), figures.level(x.level)), x.source) for x in left_out)
    return Table("Not written on the drawing for want of room", columns, rows)
