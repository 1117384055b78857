"""A figure that sources give as a range, carried as one."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Range:
    """The least and the greatest of a figure; the two are one where it is known."""

    low: float
    high: float

    def __add__(self, other: Range) -> Range:
        return Range(self.low + other.low, self.high + other.high)

    def times(self, factor: float) -> Range:
        return Range(self.low * factor, self.high * factor)

    @property
    def above(self) -> Range:
        """What of it is more than nothing."""
        return Range(max(self.low, 0.0), max(self.high, 0.0))

    @property
    def below(self) -> Range:
        """What of it is less than nothing, as a size."""
        return Range(max(-self.high, 0.0), max(-self.low, 0.0))
