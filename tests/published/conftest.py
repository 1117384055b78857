"""What the uk rule set says a document says, as default or as alternative."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.core.sourced import Value
from elevgen.rules.book import RuleBook
from elevgen.rules.loader import load_book

Said = Callable[[str, str], tuple[Value, str]]


@pytest.fixture(scope="session")
def uk() -> RuleBook:
    return load_book("uk")


@pytest.fixture(scope="session")
def said(uk: RuleBook) -> Said:
    """`said(document, key)` gives the value and status under which the set carries that document's figure."""

    def look_up(document: str, key: str) -> tuple[Value, str]:
        known = (uk.get(key), *uk.alternatives[key])
        found = [(s.value, s.status) for s in known if s.document.startswith(document)]
        assert len(found) == 1, f"{document} is cited {len(found)} times for {key}"
        return found[0]

    return look_up
