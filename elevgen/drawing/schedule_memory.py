"""Which of the rules behind a sheet are only remembered, to be looked up by whoever builds from it, and which the spec gives."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import get_args

from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.tables import Column, Row, Table
from elevgen.spec.fields import Material

MATERIALS: tuple[str, ...] = get_args(Material)
ALWAYS = ("bed.", "bond.", "perpend.", "joint.", "coursing.", "opening.", "tolerance.", "lifting.", "unit.")
"""What keys of rules begin with that bear on any leaf."""


def memory_table(facts: LeafFacts) -> Table:
    """The rules from memory that bear on this leaf, with their values."""
    return _of_rules("From memory, check in your own copy", facts, facts.remembered)


def given_table(facts: LeafFacts) -> Table:
    """The figures somebody gives in place of rules that bear on this leaf: who, why, and what they stand in place of."""
    return _of_rules("Given for this job in place of rules", facts, facts.given)


def _of_rules(title: str, facts: LeafFacts, rules: Mapping[str, str]) -> Table:
    words = "; ".join(words for key, words in rules.items() if _bears_on(facts, key))
    rows = (Row((f"{words[0].upper()}{words[1:]}.",), facts.leaf.id),) if words else ()
    return Table(title, (Column("", 93),), rows)


def _bears_on(facts: LeafFacts, key: str) -> bool:
    """Whether the leaf has what a rule is about; a rule for one material bears on leaves of it."""
    of = key.rsplit(".", 1)[-1]
    if of in MATERIALS and of not in {zone.unit.material for zone in facts.leaf.zones} and not key.startswith("lintel."):
        return False
    return key.startswith((*ALWAYS, *_present(facts)))


def _present(facts: LeafFacts) -> Iterator[str]:
    """What keys of rules begin with whose subject this leaf has."""
    if facts.joints:
        yield from ("movement_joint.", "movement.", "sealant.", "backer_rod.", "filler.")
    if facts.reinforced:
        yield "bed_reinforcement."
    if facts.ties:
        yield "tie."
    if facts.lintels:
        yield "lintel."
    if facts.trays:
        yield from ("tray.", "weep.")
    if facts.damp_courses:
        yield "dpc."
    if facts.leaf.finish:
        yield "finish."
