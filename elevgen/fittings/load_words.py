"""How the load of a lintel is said to people."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from elevgen.fittings.load_model import LintelLoad, LoadMethod

METHODS: Mapping[LoadMethod, str] = MappingProxyType(
    {"load_triangle": "load triangle", "arching": "arching", "full": "all that is above"}
)
FOR_WHOM = "for the engineer or the maker's load table, not an approval"
EVEN = (
    "even load between the middles of the bearings that bends the lintel as much, or presses its ends as much, "
    "as what it carries; not factored"
)


def why_words(load: LintelLoad) -> str:
    """Why each method that does not hold does not: `load triangle: opening W2 stands in the load triangle; arching: ...`."""
    said = [f"{METHODS[refused.method]}: {_together(cause.words for cause in refused.causes)}" for refused in load.refused]
    return "; ".join(said)


def _together(words: Iterable[str]) -> str:
    return ", ".join(word.replace("; ", ", ") for word in words)
