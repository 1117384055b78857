"""Bed reinforcement in a table: on which courses, from where to where, where it laps, what it is for."""

from __future__ import annotations

from elevgen.drawing.facts import LeafFacts, ReinforcedBeds
from elevgen.drawing.listing import several
from elevgen.drawing.tables import Column, Row, Table
from elevgen.fittings.reinforced_words import REINFORCED_FOR


def reinforcement_table(facts: LeafFacts) -> Table:
    """Reinforcement in the beds on top of courses: a row for all beds alike, near one another or not."""
    columns = (
        Column("on course", 17),
        Column("from", 13, "right"),
        Column("to", 13, "right"),
        Column("length", 12, "right"),
        Column("laps from", 19),
        Column("at", 23),
    )
    length = facts.figures.length
    rows = tuple(
        Row(
            (
                beds.courses,
                length(beds.span.start, 0),
                length(beds.span.end, 0),
                facts.figures.run(beds.span.length),
                beds.laps(facts.figures),
                _what_for(facts, beds),
            ),
            beds.id,
        )
        for beds in facts.reinforced
    )
    return Table(_title(facts), columns, rows)


def _what_for(facts: LeafFacts, beds: ReinforcedBeds) -> str:
    bed = beds.lengths[0]
    reasons = [words for why, words in REINFORCED_FOR.items() if why in bed.why]
    ends = [f"ends at {leaf}" for leaf in bed.ends_at]
    return "; ".join(filter(None, (several(bed.serves), *reasons, *beds.returns(facts.figures), *ends)))


def _title(facts: LeafFacts) -> str:
    """How long its laps are and how wide it may be, so that it has its cover."""
    lengths = [bed for group in facts.reinforced for bed in group.lengths]
    laps = sorted({bed.lap for bed in lengths if bed.laps})
    widths = [bed.width_most for bed in lengths if bed.width_most is not None]
    said = [f"laps {' and '.join(map(facts.figures.length, laps))}"] if laps else []
    said += [f"up to {facts.figures.length(min(widths))} wide"] if widths else []
    return "Bed reinforcement" + (f", {', '.join(said)}" if said else "")
