"""The page of published values: enough of them, and nothing called published that was not seen.

That each line is up to date every test says of its own; that none is left over, `.ci/published-values --check`.
"""

from __future__ import annotations

import re

from published_rows import PAGE, PUBLISHED

from elevgen.core.sourced import STATUSES

WORKED = "## What elevgen works out"


def documents_and_rows() -> list[tuple[str, list[str]]]:
    """The cells of each row of what is worked out, beside its document."""
    text = PAGE.read_text(encoding="utf-8")
    part = text[text.index(WORKED) : text.index("## Figures the rule sets hold")]
    found = []
    for line in part.splitlines():
        if line.startswith("### "):
            document = line[4:]
        elif line.startswith("| ") and not line.startswith("| Check"):
            found.append((document, [cell.strip() for cell in line.strip("|").split(" | ")]))
    return found


def test_at_least_150_published_values_of_at_least_20_documents_are_worked_out_again() -> None:
    published = [(document, cells) for document, cells in documents_and_rows() if cells[-1] in PUBLISHED]
    assert len(published) >= 150
    assert len({document for document, _ in published}) >= 20


def test_every_row_says_what_was_put_in_and_how_it_is_known() -> None:
    for document, cells in documents_and_rows():
        check, _, given, printed, ours, known = cells
        assert given and printed and ours, (document, cells)
        assert known in STATUSES
        assert not check or re.fullmatch(r"[A-Z][A-Z0-9]*-\d+( to [A-Z]+-\d+)?", check), check


def test_what_is_worked_out_otherwise_than_printed_says_why() -> None:
    text = PAGE.read_text(encoding="utf-8")
    rows = [line for line in text[: text.index(WORKED)].splitlines() if re.match(r"\| [A-Z]+[0-9]*-\d+ ", line)]
    assert rows
    assert all(len(line.strip("| ").split(" | ")[-1].split()) > 3 for line in rows)
