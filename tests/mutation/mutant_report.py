"""What a run over the mutants found, as a page; and what an earlier page says was caught."""

from __future__ import annotations

from pathlib import Path

from rule_mutants import Mutant

ONLY_TYPED = "typed twice: "
JUDGES = ("published", "contract")
"""Folders of tests asked before the others."""


def line(mutant: Mutant, result: str) -> str:
    return f"- {mutant.name} [{mutant.known}]: {result or 'alive'}\n"


def caught_before(report: Path | None) -> dict[str, str]:
    """By mutant, the test of an earlier report through which the product's own work caught it."""
    found: dict[str, str] = {}
    for text in report.read_text(encoding="utf-8").splitlines() if report else ():
        mutant, there, result = text.removeprefix("- ").partition("]: ")
        if there and result != "alive" and not result.startswith(ONLY_TYPED):
            found[mutant.rpartition(" [")[0]] = result
    return found


def told(pairs: list[tuple[Mutant, str]], of: int, seconds: float) -> str:
    """The report: counts by rule set first, then what nothing caught, what only a figure typed twice did, and the rest."""
    heads = (
        "Set",
        "Values",
        "Mutants",
        "Caught",
        "%",
        "By the product's work",
        "of them by published and contract tests",
        "Only by a figure typed twice",
        "Alive",
    )
    lines = ["# Rule values made wrong", "", "| " + " | ".join(heads) + " |", "|---" * len(heads) + "|"]
    for country in (*sorted({c for m, _ in pairs for c in m.countries}), "all"):
        for what, default in (("used", True), ("other figures", False)):
            own = [r for m, r in pairs if (m.alternative < 0) == default and (country in m.countries or country == "all")]
            if own:
                lines.append(f"| {country} | {what} | " + " | ".join(counts(own)) + " |")
    lines += ["", f"{len(pairs)} of {of} mutants tried, {seconds:.0f} s", ""]
    for heading, chosen in (
        ("Alive", [p for p in pairs if not p[1]]),
        ("Only by a figure typed twice", [p for p in pairs if p[1].startswith(ONLY_TYPED)]),
        ("Caught", [p for p in pairs if p[1] and not p[1].startswith(ONLY_TYPED)]),
    ):
        lines += [f"## {heading}", "", *(line(*pair).rstrip() for pair in chosen), ""]
    return "\n".join(lines)


def counts(results: list[str]) -> list[str]:
    caught = [r for r in results if r]
    worked = [r for r in caught if not r.startswith(ONLY_TYPED)]
    judged = [r for r in worked if r.split("/")[1] in JUDGES]
    share = f"{100 * len(caught) / len(results):.1f}"
    numbers = (len(worked), len(judged), len(caught) - len(worked), len(results) - len(caught))
    return [str(len(results)), str(len(caught)), share, *map(str, numbers)]
