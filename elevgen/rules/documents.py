"""What each document has for a rule set: what of it was seen, which of its rules are not done, which values left out and why.

A country's `documents.toml`, its parents' first. What is done is counted from the values that cite it, never written down.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from importlib.resources.abc import Traversable
from typing import Any, NamedTuple

from elevgen.core.errors import RuleDataError
from elevgen.rules.book import RuleBook
from elevgen.rules.entries import nearest, text_field
from elevgen.rules.loader import countries_folder, toml_of

FILE = "documents.toml"
_ENTRY = frozenset({"name", "also", "about", "read", "not_done", "left_out"})


class Document(NamedTuple):
    """One document. `also`: other names values cite it, or pages of it, by.

    `about` is what it is in a line, `read` what of it was seen; `not_done` are rules of it the tool does not do, `left_out`
    values of it that are not coded, each with the reason.
    """

    name: str
    also: tuple[str, ...] = ()
    about: str = ""
    read: str = ""
    not_done: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        return (self.name, *self.also)


def load_documents(book: RuleBook, root: Traversable | None = None) -> tuple[Document, ...]:
    """The documents of a rule set and of the sets it extends, in the order of their files, parents first.

    An entry takes the place of its parent's of the same name. Raises RuleDataError for a field that is unknown or no text,
    a name that comes twice, and an entry that no value cites and that says nothing either.
    """
    folder = root or countries_folder()
    found: dict[str, Document] = {}
    for country in reversed(book.lineage):
        path, file = folder / country / FILE, f"{country}/{FILE}"
        if path.is_file():
            own = tuple(_entries(toml_of(path, file), file))
            _refuse_twice(own, file)
            if country == book.id:
                _refuse_empty(own, book, file)
            found |= {document.name: document for document in own}
    return tuple(found.values())


def citations(book: RuleBook) -> frozenset[str]:
    """What the values, other figures and units of the book cite, as it is written there."""
    cited = [*book.values.values(), *(other for others in book.alternatives.values() for other in others)]
    cited += [unit.source for unit in book.units.values()]
    return frozenset(source.document for source in cited if source.document)


def names_in(citation: str, known: Container[str] = ()) -> tuple[str, ...]:
    """The documents a citation names: one that is known by all of it, otherwise those with a semicolon between."""
    if citation in known:
        return (citation,)
    return tuple(name for part in citation.split(";") if (name := part.strip()))


def untold(book: RuleBook, documents: Iterable[Document]) -> tuple[str, ...]:
    """Documents the book cites that none of these is, sorted."""
    known = {name for document in documents for name in document.names}
    return tuple(sorted({name for cited in citations(book) for name in names_in(cited, known)} - known))


def _entries(data: Mapping[str, Any], file: str) -> Iterator[Document]:
    if strange := sorted(set(data) - {"document"}):
        raise RuleDataError(file, strange[0], "unknown heading; allowed: [[document]]")
    entries = data.get("document", [])
    if not isinstance(entries, list):
        raise RuleDataError(file, "document", "is written [[document]], once for each")
    for entry in entries:
        name = text_field(entry, "name", file, "document")
        if strange := sorted(set(entry) - _ENTRY):
            like = nearest(strange[0], tuple(sorted(_ENTRY)))
            allowed = f"unknown field {strange[0]!r}; allowed: {', '.join(sorted(_ENTRY))}"
            raise RuleDataError(file, name, allowed + (f"; nearest: {like}" if like else ""))
        about, read = (text_field(entry, field, file, name, optional=True) for field in ("about", "read"))
        also, not_done, left_out = (_texts(entry, field, file, name) for field in ("also", "not_done", "left_out"))
        yield Document(name, also, about, read, not_done, left_out)


def _texts(entry: Mapping[str, Any], field: str, file: str, name: str) -> tuple[str, ...]:
    """A list of texts, none of them empty or there twice."""
    given = entry.get(field, [])
    if not isinstance(given, list) or not all(isinstance(text, str) and text.strip() for text in given):
        raise RuleDataError(file, name, f"{field} must be a list of texts, got {given!r}")
    if twice := sorted({text for text in given if given.count(text) > 1}):
        raise RuleDataError(file, name, f"{field} has {twice[0]!r} twice")
    return tuple(given)


def _refuse_twice(documents: Iterable[Document], file: str) -> None:
    seen: set[str] = set()
    for document in documents:
        for name in document.names:
            if name in seen:
                raise RuleDataError(file, name, "is there twice")
            seen.add(name)


def _refuse_empty(documents: Iterable[Document], book: RuleBook, file: str) -> None:
    """Entries and names that neither a value cites nor a reason stands beside: a slip in the name, most likely."""
    cited = {name for citation in citations(book) for name in (citation, *names_in(citation))}
    for document in documents:
        loose = [name for name in document.names if name not in cited]
        if document.not_done or document.left_out:
            loose = [name for name in loose if name != document.name]
        if loose:
            like = nearest(loose[0], tuple(sorted(cited)))
            reason = "no value cites it" + (
                "" if loose[0] in document.also else " and nothing is said to be left out or not done"
            )
            raise RuleDataError(file, loose[0], reason + (f"; nearest: {like}" if like else ""))
