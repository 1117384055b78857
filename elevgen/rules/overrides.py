"""The spec's overrides: a rule value replaced, with the reason and who says so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Protocol

from elevgen.core.errors import Fault, JsonPath, SpecError
from elevgen.core.measures import parse_length
from elevgen.core.sourced import OVERRIDE, Sourced, Value
from elevgen.rules.book import RuleBook
from elevgen.rules.entries import checked_number, nearest, rule_value
from elevgen.rules.keys import KEYS, Key
from elevgen.rules.telling import told


class OverrideLike(Protocol):
    """What an override of the spec offers."""

    @property
    def rule(self) -> str: ...
    @property
    def value(self) -> float | str: ...
    @property
    def unit(self) -> str: ...
    @property
    def reason(self) -> str: ...
    @property
    def by(self) -> str: ...


def overridden(book: RuleBook, overrides: Sequence[OverrideLike]) -> RuleBook:
    """The book with every override applied; what was replaced stays the first of the alternatives.

    Raises SpecError with every override that names no rule, does not suit it, changes nothing or comes twice.
    """
    faults: list[Fault] = []
    new: dict[str, Sourced] = {}
    for i, override in enumerate(overrides):
        result = _one(book, override, ("overrides", i), new)
        if isinstance(result, Fault):
            faults.append(result)
        else:
            new[result.key] = result
    if faults:
        raise SpecError(tuple(faults))
    replaced = {key: (book.values[key], *book.alternatives.get(key, ())) for key in new if key in book.values}
    return replace(
        book,
        values=MappingProxyType({**book.values, **new}),
        alternatives=MappingProxyType({**book.alternatives, **replaced}),
        not_covered=MappingProxyType({key: reason for key, reason in book.not_covered.items() if key not in new}),
        why=MappingProxyType({key: reason for key, reason in book.why.items() if key not in new}),
    )


def _one(book: RuleBook, override: OverrideLike, path: JsonPath, before: dict[str, Sourced]) -> Sourced | Fault:
    key = KEYS.get(override.rule)
    if key is None:
        allowed = "a rule key; `elevgen rules` lists them"
        return Fault(path, "there is no such rule", override.rule, allowed, nearest(override.rule, tuple(KEYS)))
    if key.key in before:
        return Fault(path, "this rule is overridden twice", override.rule, "one override a rule")
    given = f"{override.value} {override.unit}".strip()
    try:
        value = _value(key, override)
    except ValueError as reason:
        return Fault(path, f"this value does not suit {key.key}: {reason}", given, _takes(key))
    was = book.values.get(key.key)
    if was is not None and was.value == value:
        return Fault(path, "changes nothing: the rule set has this value already", given)
    instead = f"in place of {told(was, book.lengths)}, {was.citation}" if was else "the rule set itself has no value"
    note = f"{override.reason}; {instead}"
    return Sourced(key.key, value, key.unit, f"{OVERRIDE}{override.by}", "", "", "practice", note)


def _value(key: Key, override: OverrideLike) -> Value:
    if key.kind == "bands":
        raise ValueError("a table cannot be overridden by one value")
    if key.kind == "word":
        return rule_value(key, override.value, "")
    if key.kind == "words":
        return rule_value(key, [word.strip() for word in str(override.value).split(",")], "")
    if key.kind == "sizes":
        return rule_value(key, [override.value], override.unit or key.unit)
    if isinstance(override.value, str):
        if key.unit != "mm" or override.unit:
            raise ValueError(f"{override.value!r} is not a number")
        return checked_number(key, parse_length(override.value), 1.0)
    return rule_value(key, override.value, override.unit or key.unit)


def _takes(key: Key) -> str:
    if key.kind in ("word", "words"):
        return ", ".join(key.choices)
    return "a length: a number of mm, or with a unit (mm, m, in, ft)" if key.unit == "mm" else f"a number ({key.unit})"
