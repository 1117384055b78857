"""The design: every stage's output in one frozen value, and the findings the checks make of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from elevgen.building.model import Building, Run
from elevgen.core.figures import Figures, Lengths, figures
from elevgen.core.sourced import OVERRIDE, STATUS_WORDS, Sourced, least_sure
from elevgen.coursing.model import Coursing
from elevgen.fittings.model import Fittings
from elevgen.joints.model import JointPlan
from elevgen.rules.book import RuleBook
from elevgen.rules.telling import meaning_of, told
from elevgen.spec.models import Spec

Severity = Literal["fail", "warn", "note", "not_checked", "pass"]
Operator = Literal["<=", ">=", "==", ""]
SEVERITIES: tuple[Severity, ...] = ("fail", "warn", "not_checked", "note", "pass")
"""Worst first: what was not checked is a blind spot and outranks a note."""


@dataclass(frozen=True, slots=True)
class Finding:
    """What one check found in one place.

    `where` is the place in words. What it is about is known by ids: `leaves`, or `walls` with all their leaves where none
    is named; `openings` and `joints` in them; nothing named: the whole building. `measured` stands in relation
    `operator` to `limit` when the rule is kept. None: nothing to measure. `source` is the rule it is held to, `also` the
    others without which the limit would be another or nothing be asked. `waiver` is the reason and name of somebody who
    accepts it.
    """

    id: str
    code: str
    severity: Severity
    where: str
    text: str
    measured: float | None = None
    operator: Operator = ""
    limit: float | None = None
    unit: str = ""
    source: Sourced | None = None
    waiver: str | None = None
    walls: tuple[str, ...] = field(default=(), kw_only=True)
    leaves: tuple[str, ...] = field(default=(), kw_only=True)
    openings: tuple[str, ...] = field(default=(), kw_only=True)
    joints: tuple[str, ...] = field(default=(), kw_only=True)
    also: tuple[Sourced, ...] = field(default=(), kw_only=True)

    @property
    def rests_on(self) -> tuple[Sourced, ...]:
        """Every rule behind it, the one it is held to first."""
        return self.also if self.source is None else (self.source, *self.also)

    def record(self) -> dict[str, object]:
        """The finding as plain data, with the fields every output of it shares.

        `status` and `known` are of the rule cited; `also` are the keys of those beside it, `least_sure` the status of the least
        surely known of them all.
        """
        weakest = least_sure(self.rests_on)
        return {
            "id": self.id,
            "code": self.code,
            "severity": self.severity,
            "where": self.where,
            "measured": self.measured,
            "operator": self.operator,
            "limit": self.limit,
            "unit": self.unit,
            "document": self.source.document if self.source else None,
            "clause": self.source.clause if self.source else None,
            "text": self.text,
            "waiver": self.waiver,
            "status": self.source.status if self.source else None,
            "known": self.source.known if self.source else None,
            "least_sure": None if weakest is None else weakest.status,
            "also": [value.key for value in self.also],
        }

    @property
    def doubt(self) -> str:
        """`from memory, check` where that is how its rule is known, `partly` where one beside it is; nothing where its text
        says so or all are surer."""
        words, weakest = STATUS_WORDS["memory"], least_sure(self.rests_on)
        if weakest is None or weakest.status != "memory" or words in self.text:
            return ""
        return words if weakest is self.source else f"partly {words}"

    @property
    def citation(self) -> str | None:
        """The rule it is held to and those beside it, each document and clause once; None where it rests on none."""
        cited = dict.fromkeys(value.citation for value in self.rests_on)
        return "; with ".join(cited) or None


@dataclass(frozen=True, slots=True)
class Design:
    """A building designed: nothing in it is drawn or counted yet.

    `rules_used` are the rule values that were read on the way, by key.
    """

    name: str
    spec: Spec
    spec_sha256: str
    rules: RuleBook
    rules_used: tuple[Sourced, ...]
    building: Building
    runs: tuple[Run, ...]
    plan: JointPlan
    coursing: Coursing
    fittings: Fittings
    findings: tuple[Finding, ...]

    @property
    def figures(self) -> Figures:
        """How all that people read is written: as the sheet asks for, otherwise as the rule set's country does."""
        return figures(self.spec.sheet.lengths or self.rules.lengths)

    @property
    def lengths(self) -> Lengths:
        """How lengths are written for people."""
        return "feet" if self.figures.in_feet else "mm"

    @property
    def rules_behind(self) -> tuple[Sourced, ...]:
        """The rule values read on the way and those that findings rest on, passes too, by key."""
        judged = {
            value.key: self.rules.values[value.key] for f in self.findings for value in f.rests_on if self.rules.has(value.key)
        }
        behind = judged | {value.key: value for value in self.rules_used}
        return tuple(behind[key] for key in sorted(behind))

    def remembered(self) -> dict[str, str]:
        """What of the rules behind the design is from memory, by key: what it means and its value, `least lap: 100 mm`."""
        from_memory = (value for value in self.rules_behind if value.status == "memory")
        return {value.key: self._said(value) for value in from_memory}

    def given(self) -> dict[str, str]:
        """What of the rules behind the design the spec gives, by key: `least lap: 150 mm (site manager: ...)`."""
        given = (value for value in self.rules_behind if value.is_given)
        return {value.key: f"{self._said(value)} ({value.document.removeprefix(OVERRIDE)}: {value.note})" for value in given}

    def _said(self, value: Sourced) -> str:
        return f"{meaning_of(value.key, self.figures)}: {told(value, self.lengths)}"
