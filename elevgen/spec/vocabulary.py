"""The names a spec may use that are not its own: rule sets and their units and keys, bonds, layer tables, codes and so on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Every name known outside the spec. `units` are unit names by rule set; gathered by whoever knows all the rooms."""

    rule_sets: tuple[str, ...]
    units: Mapping[str, frozenset[str]]
    rule_keys: frozenset[str]
    bonds: tuple[str, ...]
    layer_tables: tuple[str, ...]
    finding_codes: tuple[str, ...]
    measurement_rules: tuple[str, ...]
