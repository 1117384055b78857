"""What fails or warns on a leaf, and what was not placed in it for want of a rule: in words, for its sheet."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.schedule_ties import ties_on
from elevgen.drawing.tables import Column, Row, Table
from elevgen.result import Finding, Severity

_SEVERITY_WORDS = {"fail": "FAILS", "warn": "Warning"}


def finding_table(facts: LeafFacts, severity: Severity, title: str) -> Table:
    """What fails or warns here, in words; an accepted one with the name of who accepts it."""
    rows: dict[str, Row] = {}
    for finding in facts.findings:
        if finding.severity != severity:
            continue
        where = _here(finding, facts)
        said = f"{where}: {finding.text}" if where and where not in finding.text else finding.text
        known = f"{said} [{finding.doubt}]" if finding.doubt else said
        words = f"{known} Accepted: {finding.waiver}." if finding.waiver else known
        rows.setdefault(words, Row((_SEVERITY_WORDS[severity], words), finding.id))
    unplaced = _unplaced(facts) if severity == "warn" else ()
    return Table(title, (Column("", 13), Column("", 80)), (*unplaced, *rows.values()))


def _unplaced(facts: LeafFacts) -> Iterator[Row]:
    """What a wall like this has and this drawing has not, because the rules do not say where it goes."""
    cavity = len(facts.wall.leaves) > 1
    kinds = (
        ("opening-lintel", facts.openings and not facts.lintels, "Lintels: the rules do not say how far they bear"),
        ("tie-spacing", cavity and not ties_on(facts), "Wall ties: the rules do not say how far apart they stand"),
        (
            "opening-reinforced",
            facts.openings and not facts.reinforced,
            "Reinforcement at openings: the rules do not say in which beds",
        ),
    )
    for code, missing, words in kinds:
        if code in facts.not_checked and missing:
            yield Row(("NOT PLACED", f"{words}. Ask the engineer and list it in the spec."), facts.leaf.id)


def _here(finding: Finding, facts: LeafFacts) -> str:
    """A place without the leaf or the wall that the sheet is of: `MJ1` for `W1/outer/MJ1`, nothing for the leaf itself."""
    where, sheet = finding.where, facts.leaf.id if finding.leaves else facts.wall.id
    if where == sheet or where.startswith((f"{sheet}/", f"{sheet} ")):
        return where[len(sheet) + 1 :]
    return where
