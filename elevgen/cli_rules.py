"""What the terminal says of rule sets: their values, what each document gave, two sets side by side."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from textwrap import wrap
from typing import TYPE_CHECKING

import click

from elevgen.core.sourced import STATUS_WORDS, Sourced, Status

if TYPE_CHECKING:
    from elevgen.rules.book import RuleBook
    from elevgen.rules.compare import ComparedRow, Side
    from elevgen.rules.coverage import Coverage, DocumentCoverage
    from elevgen.rules.listing import RuleRow, UncoveredRow, UnitRow

NARROWEST, WIDEST = 60, 160
"""Characters of a line, however narrow or wide the terminal is."""
KEY_MOST, VALUE_MOST = 48, 12
"""Characters of the columns of keys and values at most; what is longer has a line of its own."""
SOURCE_LEAST, SOURCE_EASY = 24, 50
"""What a source is left at least beside its value, and what it keeps while the column of values grows."""
IN = "  "


def say_sets(as_json: bool) -> None:
    """The rule sets there are."""
    from elevgen.rules.loader import country_ids, load_book

    books = [load_book(name) for name in country_ids()]
    if as_json:
        _json([{"id": b.id, "title": b.title, "edition": b.edition, "values": len(b.values)} for b in books])
        return
    for book in books:
        click.echo(f"{book.id}  {book.title}, edition {book.edition}: {len(book.values)} values")


def say_rules(book: RuleBook, part: str, how: Status | None, at_length: bool, as_json: bool) -> None:
    """Every value asked for with its source and what other documents say, then what is not covered and why."""
    from elevgen.rules.listing import rule_rows, uncovered_rows, unit_rows

    rows, units = rule_rows(book, part, how), unit_rows(book, part, how)
    gaps = () if how else uncovered_rows(book, part)
    if as_json:
        _json(
            {"id": book.id, "title": book.title, "edition": book.edition, "extends": book.lineage[1:]}
            | {"values": [row.record() for row in rows], "units": [unit.record() for unit in units]}
            | {"not_covered": [gap.record() for gap in gaps]}
        )
        return
    width = _width()
    click.echo(f"{book.title}, edition {book.edition}: {_count(len(rows), 'value')}")
    _say_values(rows, width, at_length)
    _say_units(units, width)
    _say_gaps(gaps, width)
    if not rows and not units and not gaps:
        click.echo(f"No rule{_asked(part, how)}.")
    _say_statuses(row.source.status for row in rows)


def say_coverage(book: RuleBook, as_json: bool) -> None:
    """What the set has of each document, what it does not do and what was left out."""
    from elevgen.rules.coverage import coverage
    from elevgen.rules.documents import load_documents

    covered = coverage(book, load_documents(book))
    if as_json:
        _json(
            {"id": book.id, "title": book.title, "edition": book.edition}
            | {"documents": [each.record() for each in covered.documents], "without_document": covered.practice}
        )
        return
    _say_coverage(book, covered, _width())


def say_comparison(first: RuleBook, second: RuleBook, part: str, how: Status | None, everything: bool, as_json: bool) -> None:
    """Two sets key by key."""
    from elevgen.rules.compare import compared

    rows = compared(first, second, part, how, everything=everything)
    if as_json:
        sets = [{"id": b.id, "title": b.title, "edition": b.edition} for b in (first, second)]
        _json({"sets": sets, "rows": [row.record() for row in rows]})
        return
    width = _width()
    for book in (first, second):
        click.echo(f"{book.id}: {book.title}, edition {book.edition}")
    for subject, of_subject in groupby(rows, key=lambda row: row.subject):
        click.echo(f"\n{subject}")
        for _, alike in groupby(of_subject, key=_compared_alike):
            _say_compared(list(alike), width)
    both = sum(row.held_by == "both" for row in rows)
    alone = {b.id: sum(row.held_by == b.id for row in rows) for b in (first, second)}
    none = sum(row.held_by == "none" for row in rows)
    what = _count(len(rows), "key") if everything else f"{_count(len(rows), 'key')} that differ"
    parts = [f"{both} with a value in both", *(f"{n} in {name} only" for name, n in alone.items())]
    click.echo(f"\n{what}{_asked(part, how)}: {', '.join(parts)}" + (f", {none} in neither." if everything else "."))


def _say_values(rows: Sequence[RuleRow], width: int, at_length: bool) -> None:
    from elevgen.rules.subjects import shared_meaning

    for subject, of_subject in groupby(rows, key=lambda row: row.subject):
        click.echo(f"\n{subject}")
        held = list(of_subject)
        key_wide = min(max(len(row.key) for row in held), KEY_MOST, width // 2)
        value_wide = min(max(len(row.told) for row in held), max(VALUE_MOST, width - key_wide - SOURCE_EASY))
        for meaning, alike in groupby(held, key=lambda row: shared_meaning(row.key, row.meaning)):
            _wrapped(meaning, width, IN)
            for row in alike:
                _say_value(row, width, key_wide, value_wide, at_length)
                _say_others(row, width, at_length)


def _say_value(row: RuleRow, width: int, key_wide: int, value_wide: int, at_length: bool) -> None:
    """Key, value, how known and source in one line; what is too long for its column takes a line before the rest."""
    from elevgen.rules.telling import KNOWN_WORDS, source_words

    known, source = KNOWN_WORDS[row.source.status], source_words(row.source, edition=at_length)
    words = f"{known}: {source}" if source else known
    line = f"{IN * 2}{row.key}"
    value_at = len(IN * 2) + key_wide + 2
    source_at = value_at + value_wide + 2
    if width - source_at < SOURCE_LEAST or len(row.told) > width - value_at:
        _wrapped(f"{row.key}  {row.told}  {words}", width, IN * 2, IN * 5)
        return
    for cell, at in ((row.told, value_at), (words, source_at)):
        if len(line) > at - 2:
            click.echo(line)
            line = ""
        line = line.ljust(at) + (cell if at == value_at else "")
    _wrapped(words, width, line.ljust(source_at), " " * source_at)


def _say_others(row: RuleRow, width: int, at_length: bool) -> None:
    """What other documents say instead, and why the value is the one; at length what says the same, and the note."""
    from elevgen.rules.telling import known_source, told

    for other in row.differing:
        note = f"; {other.note}" if other.note and at_length else ""
        _wrapped(f"other figure: {told(other, row.lengths)}, {known_source(other, edition=at_length)}{note}", width, IN * 4)
    if row.differing and row.why:
        _wrapped(f"why this one: {row.why}", width, IN * 4)
    if not at_length:
        return
    if row.agreeing:
        same = (known_source(other, edition=True) for other in row.agreeing)
        _wrapped(f"the same in: {'; '.join(same)}", width, IN * 4)
    if row.source.note:
        _wrapped(f"note: {row.source.note}", width, IN * 4)


def _say_units(units: Sequence[UnitRow], width: int) -> None:
    from elevgen.rules.telling import KNOWN_WORDS, source_words

    if units:
        click.echo("\nUnits (length by width by height)")
    name_wide = max((len(unit.name) for unit in units), default=0)
    for unit in units:
        known, source = KNOWN_WORDS[unit.source.status], source_words(unit.source)
        size = unit.size if unit.source.unit == "word" else f"{unit.size} mm"
        start = f"{IN * 2}{unit.name:<{name_wide}}  "
        text = f"{size}, {unit.material.replace('_', ' ')}; {known}{': ' if source else ''}{source}"
        _wrapped(text, width, start, " " * len(start))


def _say_gaps(gaps: Sequence[UncoveredRow], width: int) -> None:
    """What has no value, rules with one reason together."""
    if not gaps:
        return
    click.echo("\nNot covered")
    alike: dict[tuple[str, str], list[UncoveredRow]] = {}
    for gap in gaps:
        alike.setdefault((gap.subject, gap.reason), []).append(gap)
    for (_, reason), rows in alike.items():
        for line in _keys_together(row.key for row in rows):
            _wrapped(line, width, IN)
        _wrapped(reason, width, IN * 3)


def _keys_together(keys: Iterable[str]) -> Iterator[str]:
    """Keys of one stem on one line: `movement.thermal: clay, stone`."""
    for stem, of_stem in groupby(keys, key=lambda key: key.rpartition(".")[0]):
        ends = [key.rpartition(".")[2] for key in of_stem]
        together = ", ".join(ends)
        yield f"{stem}{'.' if len(ends) == 1 else ': '}{together}" if stem else together


def _say_statuses(statuses: Iterable[Status]) -> None:
    """What the words in the table mean, as far as they are in it, and how many of each there are."""
    from elevgen.rules.telling import KNOWN_WORDS

    seen = list(statuses)
    if seen:
        click.echo("\nHow they are known")
    for status, words in KNOWN_WORDS.items():
        if status in seen:
            meaning = "" if words == STATUS_WORDS[status] else f": {STATUS_WORDS[status]}"
            click.echo(f"{IN}{seen.count(status):>4}  {words}{meaning}")


def _say_coverage(book: RuleBook, covered: Coverage, width: int) -> None:
    documents = covered.documents
    whence = sum(bool(each.done) for each in documents)
    click.echo(f"{book.title}, edition {book.edition}: {_count(len(book.values), 'value')} from {_count(whence, 'document')}")
    for each in documents:
        _say_document(each, width)
    if covered.practice:
        click.echo(f"\nWithout a document ({STATUS_WORDS['practice']})")
        _say_keys("coded", covered.practice, width)


def _say_document(each: DocumentCoverage, width: int) -> None:
    from elevgen.rules.coverage import UNTOLD
    from elevgen.rules.telling import KNOWN_WORDS

    document = each.document
    click.echo("")
    _wrapped(each.name, width, "")
    _wrapped(document.about, width, IN)
    if document.also:
        _wrapped(f"also cited as: {'; '.join(document.also)}", width, IN)
    if document.read:
        _wrapped(document.read if document.read.startswith("not seen") else f"seen: {document.read}", width, IN)
    counts = ", ".join(f"{n} {KNOWN_WORDS[status]}" for status, n in each.by_status)
    if each.done:
        _say_keys(f"coded: {_count(len(each.done), 'value')} ({counts})", each.done, width)
    if each.units:
        _say_keys("sizes of units", each.units, width)
    if each.other:
        _say_keys("beside another document's value", each.other, width)
    for words, texts in (("not done", document.not_done), ("left out", document.left_out)):
        for text in texts:
            _wrapped(f"{words}: {text}", width, IN)
    if not each.told:
        click.echo(f"{IN}{UNTOLD}")


def _say_keys(words: str, keys: Iterable[str], width: int) -> None:
    _wrapped(f"{words}: {'; '.join(_keys_together(keys))}", width, IN)


def _compared_alike(row: ComparedRow) -> tuple[str, ...]:
    """What rows of several materials share that are told as one: stem, meaning but for the material, and both sides."""
    but_material = row.meaning.rpartition(", ")[0] or row.meaning
    return row.key.rpartition(".")[0], but_material, *map(_side_words, row.sides)


def _say_compared(rows: Sequence[ComparedRow], width: int) -> None:
    row = rows[0]
    meaning = row.meaning if len(rows) == 1 else row.meaning.rpartition(", ")[0]
    _wrapped(f"{'; '.join(_keys_together(each.key for each in rows))}: {meaning}", width, IN)
    name_wide = max(len(side.set) for side in row.sides)
    for side in row.sides:
        start = f"{IN * 3}{side.set:<{name_wide}}  "
        _wrapped(_side_words(side), width, start, " " * len(start))


def _side_words(side: Side) -> str:
    from elevgen.rules.telling import KNOWN_WORDS, source_words

    source: Sourced | None = side.source
    if source is None:
        return f"not covered: {side.reason}"
    words = source_words(source)
    return f"{side.told}  ({KNOWN_WORDS[source.status]}{': ' if words else ''}{words})"


def _wrapped(text: str, width: int, start: str, then: str | None = None) -> None:
    """A text in lines of the width; the first begins with `start`, the others with `then`, which is `start` and a step more."""
    after = f"{start}{IN}" if then is None else then
    lines = wrap(text, width, initial_indent=start, subsequent_indent=after, break_on_hyphens=False, break_long_words=False)
    for line in lines:
        click.echo(line)


def _asked(part: str, how: Status | None) -> str:
    has = f" with {' and '.join(repr(word) for word in part.split())} in its key or meaning" if part.strip() else ""
    return has + (f" {'and ' if has else ''}known so: {STATUS_WORDS[how]}" if how else "")


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _width() -> int:
    return max(NARROWEST, min(WIDEST, shutil.get_terminal_size((100, 24)).columns))


def _json(data: object) -> None:
    click.echo(json.dumps(data, indent=2, ensure_ascii=False))
