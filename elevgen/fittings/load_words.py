"""How the load of a lintel is said to people."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from elevgen.fittings.load_model import LoadMethod

METHODS: Mapping[LoadMethod, str] = MappingProxyType(
    {"load_triangle": "load triangle", "arching": "arching", "full": "all that is above"}
)
FOR_WHOM = "for the engineer or the maker's load table, not an approval"
EVEN = (
    "even load between the middles of the bearings that bends the lintel as much, or presses its ends as much, "
    "as what it carries; not factored"
)
