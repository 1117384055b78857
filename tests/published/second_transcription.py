"""What a second transcription is made of: a key, a document and what it has for it; and units to type figures in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

M, CM, IN, FT = 1000.0, 10.0, 25.4, 304.8
SF = 0.3048**2
CF = 0.3048**3
CS, DENSE, LIGHT, AAC = "calcium_silicate", "dense_concrete", "lightweight_concrete", "aircrete"
EVERY = ("clay", CS, DENSE, LIGHT, AAC, "stone")


class Typed(NamedTuple):
    """A key and what a document has for it, in the key's own unit."""

    document: str
    key: str
    value: Any


def typed(document: str, stem: str, **values: Any) -> Iterator[Typed]:
    """Rows of one document whose keys begin alike; `__` for a dot."""
    for name, value in values.items():
        yield Typed(document, f"{stem}{name.replace('__', '.')}", value)


def alike(document: str, stem: str, materials: tuple[str, ...], value: Any) -> Iterator[Typed]:
    """One figure for several materials."""
    for material in materials:
        yield Typed(document, f"{stem}.{material}", value)
