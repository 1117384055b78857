"""What fails or warns on a leaf, in words, for its sheet."""

from __future__ import annotations

from elevgen.drawing.facts import LeafFacts
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
    return Table(title, (Column("", 13), Column("", 80)), tuple(rows.values()))


def _here(finding: Finding, facts: LeafFacts) -> str:
    """A place without the leaf or the wall that the sheet is of: `MJ1` for `W1/outer/MJ1`, nothing for the leaf itself."""
    where, sheet = finding.where, facts.leaf.id if finding.leaves else facts.wall.id
    if where == sheet or where.startswith((f"{sheet}/", f"{sheet} ")):
        return where[len(sheet) + 1 :]
    return where
