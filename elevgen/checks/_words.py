"""Numbers and names as people write them in a sentence."""

from __future__ import annotations

from collections.abc import Sequence


def counted(number: int, one: str, many: str = "") -> str:
    """`1 lintel`, `3 lintels`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def listed(names: Sequence[str]) -> str:
    """`A`, `A and B`, `A, B and C`."""
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
