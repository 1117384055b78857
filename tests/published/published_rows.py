"""The rows of `examples/published-values.md`: what a document prints, and what the product makes of the same input."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import Any, NamedTuple

from elevgen.core.sourced import STATUSES

PAGE = Path(__file__).resolve().parents[2] / "examples" / "published-values.md"
PUBLISHED = ("read", "quoted")
"""How a figure must be known to be called a published one."""
UNIT_WORDS = {"per_m2": "to the m2", "mm_per_m": "mm/m", "per_MPa": "/MPa", "percent": "%"}
WRITER = "writes-published-values"
"""Name of the plugin under which tests do not ask the page for their rows, since it is being written."""

HEAD = """# Published values reproduced

Every figure of a published document that the tests put through elevgen, and what came out. Written by
`.ci/published-values` from the tests in `tests/published/`; a test fails if its line here is out of date.

How each figure is known: *read* on a page that prints the document itself; *quoted* by somebody else; *memory*: not seen,
no evidence; *derived*: arithmetic from the others; *practice*: common practice, no source. Only what is read or quoted is counted
as published.
"""


class Row(NamedTuple):
    """One value. `kind`: `worked` for what came out of the product's own working, `carried` for a figure it holds as printed."""

    kind: str
    document: str
    check: str
    clause: str
    given: str
    printed: str
    ours: str
    status: str
    differs: str = ""

    @property
    def line(self) -> str:
        """The row as it stands on the page."""
        cells = (self.check, self.clause, self.given, self.printed, self.ours, self.status)
        end = (f" {self.differs} |",) if self.differs else ()
        return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |" + "".join(end)


def shown(value: Any, unit: str = "") -> str:
    """A value in six digits, lists with commas, bands as `up to: value`."""
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple | list):
        return ", ".join("up to {}: {}".format(*map(shown, v)) if isinstance(v, tuple) else shown(v) for v in value)
    text = f"{float(value) + 0.0:.6g}" if isinstance(value, int | float) else str(value).replace("_", " ")
    return f"{text} {UNIT_WORDS.get(unit, unit)}".strip()


def natural(text: str) -> list[Any]:
    return [
        (0, float(part), "") if part.replace(".", "").isdigit() else (1, 0.0, part) for part in re.split(r"(\d+\.?\d*)", text)
    ]


def ordered(rows: Iterable[Row]) -> list[Row]:
    """Each row once: by document, check, what was put in."""
    return sorted(set(rows), key=lambda r: (r.kind != "worked", r.document, *map(natural, r[2:6]), r))


def page(rows: Iterable[Row]) -> str:
    """The whole page."""
    every = ordered(rows)
    worked = [r for r in every if r.kind == "worked"]
    carried = [r for r in every if r.kind == "carried"]
    parts = [HEAD, counts(worked, carried)]
    if differing := [r for r in worked if r.differs]:
        parts.append("## Where elevgen differs, on purpose\n\n" + table(differing, ("Why",)))
    parts.append("## What elevgen works out\n")
    parts += sections([r for r in worked if not r.differs])
    parts.append("## Figures the rule sets hold as printed\n")
    parts += sections(carried)
    return "\n".join(parts)


def counts(worked: list[Row], carried: list[Row]) -> str:
    lines = ["| | " + " | ".join(STATUSES[:4]) + " | documents, read or quoted |", "|---" * 6 + "|"]
    for name, rows in (("worked out", worked), ("held as printed", carried)):
        of = Counter(r.status for r in rows)
        documents = {r.document for r in rows if r.status in PUBLISHED}
        lines.append(f"| {name} | " + " | ".join(str(of[s]) for s in STATUSES[:4]) + f" | {len(documents)} |")
    documents = {r.document for r in worked + carried if r.status in PUBLISHED}
    both = sum(r.status in PUBLISHED for r in worked + carried)
    return "\n".join([*lines, "", f"Published values reproduced: {both}, of {len(documents)} documents.", ""])


def sections(rows: list[Row]) -> Iterable[str]:
    for document in sorted({r.document for r in rows}):
        yield f"### {document}\n\n" + table([r for r in rows if r.document == document])


def table(rows: list[Row], more: tuple[str, ...] = ()) -> str:
    named = ("Check", "Clause or place", "Put in", "Printed", "elevgen", "Known", *more)
    heading = ["| " + " | ".join(named) + " |", "|---" * len(named) + "|"]
    return "\n".join([*heading, *(row.line for row in rows), ""])


def lines_of(text: str) -> frozenset[str]:
    return frozenset(text.splitlines())
