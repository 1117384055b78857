"""Movement joints in tables: where, how wide, what seals them, why."""

from __future__ import annotations

from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.listing import NOT_CALCULATED, in_rows
from elevgen.drawing.tables import Column, Row, Table
from elevgen.joints.width_words import width_words


def joint_table(facts: LeafFacts) -> Table:
    """Movement joints: where, from which level to which, how wide, what seals them."""
    columns = (
        Column("Joint", 11),
        Column("at", 13, "right"),
        Column("from", 13, "right"),
        Column("to", 13, "right"),
        Column("width", 10, "right"),
        Column("sealant", 17, "right"),
        Column("height", 14, "right"),
    )
    rows = []
    for joint in facts.joints:
        parts = facts.joint_parts.get(joint.id)
        sealant = (
            f"{facts.figures.length(parts.sealant_width)} × {facts.figures.length(parts.sealant_depth)}"
            if parts
            else NOT_CALCULATED
        )
        cells = (
            facts.short(joint.id),
            facts.figures.length(joint.at),
            facts.figures.level(joint.levels.start),
            facts.figures.level(joint.levels.end),
            facts.figures.length(joint.width.built),
            sealant,
            facts.figures.length(joint.levels.length),
        )
        rows.append(Row(cells, joint.id))
    return Table("Movement joints", columns, tuple(rows))


def reason_table(facts: LeafFacts) -> Table:
    """Why each movement joint is where it is."""
    rows = tuple(Row((facts.short(j.id), j.reason), j.id) for j in facts.joints)
    return Table("Why the joints are there", (Column("", 11), Column("", 82)), rows)


def width_table(facts: LeafFacts) -> Table:
    """Why each movement joint is as wide as it is: by rule of thumb and by calculation, joints alike together."""
    alike: dict[str, list[str]] = {}
    for joint in facts.joints:
        alike.setdefault(f"{facts.figures.measure(joint.width.built)}: {width_words(facts.figures, joint.width)}", []).append(
            joint.id
        )
    rows = tuple(Row((in_rows(tuple(map(facts.short, ids))), words), ids[0]) for words, ids in alike.items())
    return Table("How wide the joints are, and why", (Column("", 15), Column("", 78)), rows)
