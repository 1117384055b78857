"""What can go wrong, said once and clearly.

A building that breaks a rule is never one of these: that is a finding.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

JsonPath = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a spec: where, what was given, what is allowed, what was perhaps meant.

    `line` and `column` count from 1 in the user's file; None until the file has been looked at.
    """

    path: JsonPath
    message: str
    given: str = ""
    allowed: str = ""
    nearest: str = ""
    line: int | None = None
    column: int | None = None

    @property
    def where(self) -> str:
        """The JSON path as people write it: `walls[0].openings[1].width`."""
        text = ""
        for step in self.path:
            text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else step
        return text or "(the whole file)"


class ElevgenError(Exception):
    """Base of every error this package raises on purpose."""


class SpecError(ElevgenError):
    """The spec cannot be built from: every fault found, in file order."""

    def __init__(self, faults: tuple[Fault, ...], source: str = "") -> None:
        self.faults = faults
        self.source = source
        super().__init__(f"{source or 'spec'}: {len(faults)} fault(s): " + "; ".join(f"{f.where}: {f.message}" for f in faults))


class RuleDataError(ElevgenError):
    """A rule file is wrong: which file, which key, and why."""

    def __init__(self, file: str, key: str, reason: str) -> None:
        self.file, self.key, self.reason = file, key, reason
        super().__init__(f"{file}: {key}: {reason}")


class RuleNotCovered(ElevgenError):  # noqa: N818 - the name the house uses
    """The rule set has no value for a key. Becomes `not_checked`, never a pass."""

    def __init__(self, rule_set: str, key: str) -> None:
        self.rule_set, self.key = rule_set, key
        super().__init__(f"rule set {rule_set!r} has no value for {key!r}")


@dataclass(frozen=True, slots=True)
class RateFault:
    """One thing wrong in a file of the user's figures: where in it (sheet, row, column), what was given, what is allowed."""

    where: str
    message: str
    given: str = ""
    allowed: str = ""
    nearest: str = ""


class RatesError(ElevgenError):
    """A price book or an earlier workbook cannot be used: every fault found, in the order of the file."""

    def __init__(self, faults: tuple[RateFault, ...], source: str) -> None:
        self.faults = faults
        self.source = source
        super().__init__(f"{source}: {len(faults)} fault(s): " + "; ".join(f"{f.where}: {f.message}" for f in faults))


class OutputError(ElevgenError):
    """A file could not be written; the old set is untouched."""

    def __init__(self, path: Path, reason: str) -> None:
        self.path, self.reason = path, reason
        super().__init__(f"{path}: {reason}")
