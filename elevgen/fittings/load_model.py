"""What lintels carry, as reckoned. Lengths mm, loads kN; never factored, never an approval."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from elevgen.core.geometry import Span

LoadMethod = Literal["load_triangle", "arching", "full"]
CauseKind = Literal["rule", "span", "storeys", "opening", "joint", "wall", "height", "side", "bond", "bearing", "load"]


class Cause(NamedTuple):
    """One reason why a method of reckoning a lintel's load does not hold here, in words."""

    kind: CauseKind
    words: str


class Refused(NamedTuple):
    """A method that does not hold over a lintel, or for which the rule set lacks values, and every reason why."""

    method: LoadMethod
    causes: tuple[Cause, ...]


@dataclass(frozen=True, slots=True)
class LoadReading:
    """What one method says a lintel carries over one span; kN, kN/m, kNm, not factored.

    `masonry` is weight; `imposed` what the spec's loads bring, `brought` what lintels higher up set down on it. `per_metre` is
    the even load between the supports that bends the lintel as much and presses its ends as much, the greater of the two. What
    lies beyond the middle of a bearing goes straight into it: the reactions have it, `per_metre` and `moment` do not.
    """

    method: LoadMethod
    masonry: float
    imposed: float
    brought: float
    per_metre: float
    reaction_start: float
    reaction_end: float
    moment: float

    @property
    def total(self) -> float:
        return self.masonry + self.imposed + self.brought


class TriangleShown(NamedTuple):
    """The load triangle over a clear span: its base, the level it stands at, its height and that of the zone round it (mm)."""

    base: Span
    foot: float
    height: float
    zone_height: float | None


@dataclass(frozen=True, slots=True)
class LintelLoad:
    """What a lintel carries over one of its clear spans: figures for an engineer or a maker's table, never an approval.

    `supports` are the middles of its two bearings. `readings`: by the method that counts first, by others for comparison after
    it, the full load always among them; empty where a density is missing, whose keys are in `lacking`.
    `pressure_start`, `pressure_end`: greatest pressure on the masonry at the reveal (N/mm2) under the first reading, were the
    lintel as wide as the leaf; None over a pier and without a bearing. `effective_short`: TEK 17-1B's shorter reading of the
    effective span (mm), None without a depth. `densities`: kg/m3 of each unit with its mortar. `not_included` comes on top.
    `triangle` is drawn whether it holds or not, `storeys` what the building was taken to have; None where rules are lacking.
    """

    lintel: str
    wall: str
    leaf: str
    part: int
    parts: int
    clear: Span
    supports: Span
    readings: tuple[LoadReading, ...]
    refused: tuple[Refused, ...]
    densities: tuple[tuple[str, float], ...]
    pressure_start: float | None
    pressure_end: float | None
    effective_short: float | None
    not_included: tuple[str, ...]
    lacking: tuple[str, ...]
    triangle: TriangleShown | None
    storeys: int | None
    basis: tuple[str, ...]

    @property
    def used(self) -> LoadReading | None:
        """The reading that counts; None: not calculated."""
        return self.readings[0] if self.readings else None

    def by(self, method: LoadMethod) -> LoadReading | None:
        return next((reading for reading in self.readings if reading.method == method), None)

    def why_not(self, method: LoadMethod) -> tuple[Cause, ...]:
        return next((refused.causes for refused in self.refused if refused.method == method), ())
