"""What lintels are called."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from elevgen.spec.fields import LintelKind

LINTEL_WORDS: Mapping[LintelKind, str] = MappingProxyType(
    {"pressed_steel": "pressed steel", "steel_angle": "steel angle", "concrete": "concrete", "stone": "stone"}
)
