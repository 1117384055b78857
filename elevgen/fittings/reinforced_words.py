"""What beds are reinforced for, in words; at openings their names say it."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from elevgen.fittings.model import ReinforcedFor

REINFORCED_FOR: Mapping[ReinforcedFor, str] = MappingProxyType(
    {
        "all_over": "whole leaf",
        "stack_bond": "stack bond",
        "low_lap": "low laps",
        "parapet": "parapet",
        "corner": "round a corner",
        "given": "as listed",
    }
)
