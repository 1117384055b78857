"""Document by document: which of its rules are coded, which stand beside as other figures, what is not done or left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from elevgen.core.sourced import STATUSES, Sourced, Status
from elevgen.rules.book import RuleBook
from elevgen.rules.documents import Document, names_in
from elevgen.rules.subjects import in_order

UNTOLD = "nothing is written down of what was seen of it, not done or left out"


class DocumentCoverage(NamedTuple):
    """What a rule set has of one document.

    `done` are the keys whose value is from it, `other` those for which it stands beside another document's value, `units`
    the units whose size is from it; `by_status` counts the values of `done` by how they are known.
    """

    document: Document
    done: tuple[str, ...]
    other: tuple[str, ...]
    units: tuple[str, ...]
    by_status: tuple[tuple[Status, int], ...]
    told: bool = True

    @property
    def name(self) -> str:
        return self.document.name

    def record(self) -> dict[str, object]:
        """The coverage as plain data."""
        return {
            "document": self.name,
            "also": self.document.also,
            "about": self.document.about,
            "read": self.document.read,
            "done": self.done,
            "by_status": dict(self.by_status),
            "other_figures": self.other,
            "units": self.units,
            "not_done": self.document.not_done,
            "left_out": self.document.left_out,
        }


class Coverage(NamedTuple):
    """A rule set by its documents, those most is taken from first; then what rests on no document."""

    documents: tuple[DocumentCoverage, ...]
    practice: tuple[str, ...]


def coverage(book: RuleBook, documents: Iterable[Document]) -> Coverage:
    """What the set has of every document it cites or says something of."""
    known = tuple(documents)
    entry_of = {name: document for document in known for name in document.names}
    keys = [key for key in in_order() if key in book.values]
    done: dict[str, list[Sourced]] = {document.name: [] for document in known}
    other: dict[str, list[str]] = {}
    units: dict[str, list[str]] = {}

    def names(source: Sourced) -> list[str]:
        found = (entry_of[name].name if name in entry_of else name for name in names_in(source.document, entry_of))
        return list(dict.fromkeys(found))

    for key in keys:
        for name in names(book.values[key]):
            done.setdefault(name, []).append(book.values[key])
        for name in dict.fromkeys(name for figure in book.alternatives.get(key, ()) for name in names(figure)):
            other.setdefault(name, []).append(key)
    for unit in book.units.values():
        for name in names(unit.source):
            units.setdefault(name, []).append(unit.name)
    found = []
    for name in dict.fromkeys((*done, *other, *units)):
        document = entry_of.get(name, Document(name))
        mine = done.get(name, [])
        if mine or name in other or name in units or document.not_done or document.left_out:
            counts = Counter(value.status for value in mine)
            by_status = tuple((status, counts[status]) for status in STATUSES if counts[status])
            keys_done = tuple(value.key for value in mine)
            beside = tuple(key for key in other.get(name, ()) if key not in keys_done)
            found.append(
                DocumentCoverage(document, keys_done, beside, tuple(units.get(name, ())), by_status, told=name in entry_of)
            )
    found.sort(key=lambda each: (-len(each.done), -len(each.other), each.name.casefold()))
    return Coverage(tuple(found), tuple(key for key in keys if not book.values[key].document))
