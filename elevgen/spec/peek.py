"""Careful looks into JSON that may be wrong anywhere: what is there and right, or None."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from elevgen.core.measures import parse_length
from elevgen.spec.fields import FARTHEST


def text(holder: Any, key: str) -> str | None:
    """The text under a key."""
    value = holder.get(key) if isinstance(holder, dict) else None
    return value if isinstance(value, str) else None


def objects(holder: Any, key: str) -> Iterator[tuple[int, dict[str, Any]]]:
    """The objects of the list under a key, each with its index."""
    value = holder.get(key) if isinstance(holder, dict) else None
    return ((i, item) for i, item in enumerate(value if isinstance(value, list) else ()) if isinstance(item, dict))


def texts(value: Any) -> Iterator[tuple[int, str]]:
    """The texts of a list, each with its index."""
    return ((i, item) for i, item in enumerate(value if isinstance(value, list) else ()) if isinstance(item, str))


def named(holder: Any, key: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """The objects of the object under a key, each with its name."""
    value = holder.get(key) if isinstance(holder, dict) else None
    return ((name, item) for name, item in (value if isinstance(value, dict) else {}).items() if isinstance(item, dict))


def names(holder: Any, key: str) -> tuple[str, ...]:
    """The keys of the object under a key."""
    value = holder.get(key) if isinstance(holder, dict) else None
    return tuple(value) if isinstance(value, dict) else ()


def millimetres(value: Any) -> float | None:
    """A length, written as a number or as text with a unit."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    try:
        length = parse_length(value) if isinstance(value, str) else float(value)
    except (ValueError, OverflowError):
        return None
    return length if abs(length) <= FARTHEST else None


def length(holder: dict[str, Any], key: str) -> float | None:
    """The length under a key."""
    return millimetres(holder.get(key))


def pair(value: Any) -> tuple[float, float] | None:
    """Two lengths in a list."""
    if not isinstance(value, list) or len(value) != 2:
        return None
    first, second = millimetres(value[0]), millimetres(value[1])
    return None if first is None or second is None else (first, second)
