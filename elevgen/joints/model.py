"""Movement joints as placed: positions, widths, reasons, the panels they make and the proof they come with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from elevgen.core.geometry import Span
from elevgen.joints.movement import JointMovement


class Lacking(NamedTuple):
    """A rule the set has no value for: its key, and in words what it is."""

    key: str
    meaning: str


@dataclass(frozen=True, slots=True)
class JointWidth:
    """How wide a joint is and why: by rule of thumb, by calculated movement, and as built (mm).

    None where the rule set does not cover what the figure needs; `lacking` is what the calculated width would need.
    `calculated` is for the unfavourable end of every range. `movement` is the sum behind it, from which the movement may be
    known where the width is not; None where that is not known either.
    """

    rule_of_thumb: float | None
    calculated: float | None
    built: float
    movement: JointMovement | None = None
    lacking: tuple[Lacking, ...] = ()

    @property
    def serves(self) -> float | None:
        """How long the masonry beside a joint of this width may be by calculation (mm); None where that is not known."""
        return None if self.movement is None else self.movement.serves(self.built)


class Rejected(NamedTuple):
    """Another place a joint might have stood (mm along its leaf), which it is, and why it was not taken."""

    at: float
    why: str


@dataclass(frozen=True, slots=True)
class MovementJoint:
    """A vertical joint through one leaf, centred on `at`, over `levels`, `width.built` wide.

    `basis` are the rule keys behind it. `rejected`: other places a foreman would ask about; none of a joint that was given or
    must stand where it does.
    """

    id: str
    wall: str
    leaf: str
    at: float
    levels: Span
    width: JointWidth
    given: bool
    reason: str
    basis: tuple[str, ...]
    rejected: tuple[Rejected, ...] = ()

    @property
    def gap(self) -> Span:
        """The stretch of the leaf it takes."""
        return Span(self.at - self.width.built / 2, self.at + self.width.built / 2)


class Remedy(NamedTuple):
    """A change that would let a rule be kept: its kind, in words, and what it is in the spec (`openings.W2.at = 4125`)."""

    kind: Literal["reinforced beds", "jointed meeting", "moved opening"]
    words: str
    what: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Relaxed:
    """A rule no legal placement could keep: which, where, by how much (mm).

    `remedies` are single changes by which it could be, the cheapest first. None: not looked for.
    """

    rule: str
    where: str
    measured: float
    limit: float
    remedies: tuple[Remedy, ...] | None = None


@dataclass(frozen=True, slots=True)
class RunPlacement:
    """The proof for one run: how many joints it has and how many fewer will not do."""

    run: str
    optimal: bool
    joints: tuple[str, ...]
    lower_bound: int
    relaxed: tuple[Relaxed, ...]


@dataclass(frozen=True, slots=True)
class Panel:
    """Masonry of one leaf between two joints, corners or ends; `ratio` is length to height."""

    id: str
    wall: str
    leaf: str
    span: Span
    height: float

    @property
    def ratio(self) -> float:
        return self.span.length / self.height


@dataclass(frozen=True, slots=True)
class JointPlan:
    """Every movement joint of the building, with the proof per run and the panels that result."""

    joints: tuple[MovementJoint, ...]
    placements: tuple[RunPlacement, ...]
    panels: tuple[Panel, ...]

    def on_leaf(self, leaf_id: str) -> tuple[MovementJoint, ...]:
        return tuple(j for j in self.joints if j.leaf == leaf_id)
