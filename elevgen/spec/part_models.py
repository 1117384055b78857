"""Parts a spec may list for a wall, because they stand already or somebody has chosen them; and loads that stand on it."""

from __future__ import annotations

from typing import Annotated, Literal, TypeVar

from pydantic import Discriminator, Field, Tag

from elevgen.spec.fields import (
    MOST_PARTS,
    ONE,
    SEVERAL,
    WORD,
    Height,
    Identifier,
    LeafSide,
    Length,
    Level,
    LintelKind,
    Size,
    Strict,
    UnitSize,
    several,
    word,
)

_Part = TypeVar("_Part")

AT = "Distance along the wall line from `start` to its left end, seen from outside."
EVERY_LEAF = "The leaf it is in. Leave out for every leaf of the wall."

PlaceOrParts = Annotated[
    Annotated[Literal["place"], Tag(ONE)]
    | Annotated[
        tuple[
            Annotated[Annotated[_Part, Tag(ONE)] | Annotated[Literal["place"], Tag(WORD)], Discriminator(word)],
            ...,
        ],
        Field(max_length=MOST_PARTS),
        Tag(SEVERAL),
    ],
    Discriminator(several),
]
"""The word `place`, or a list of parts in which that word may stand too."""


class LintelModel(Strict):
    """What the lintels of a leaf are: as chosen by somebody qualified, or from the maker's load tables."""

    kind: LintelKind | None = Field(
        default=None,
        description=(
            "Kind of lintel: `pressed_steel` and `steel_angle` carry the units laid on them, `concrete` and `stone` take "
            "the place of units. Leave out where nobody has chosen."
        ),
    )
    depth: UnitSize | None = Field(default=None, description="Height of the lintel. Leave out where nobody has chosen.")


class GivenLintelModel(Strict):
    """A lintel that stands already, or is to be exactly this one."""

    over: Annotated[tuple[Identifier, ...], Field(min_length=1, max_length=MOST_PARTS)] = Field(
        description="Ids of the openings it lies over."
    )
    leaf: LeafSide | None = Field(default=None, description=EVERY_LEAF)
    at: Length = Field(description=AT)
    length: Size = Field(description="Length of the lintel, bearings included.")
    kind: LintelKind | None = Field(default=None, description="Kind of lintel. Leave out for the kind its leaf has.")
    depth: UnitSize | None = Field(default=None, description="Height of the lintel. Leave out for the height its leaf has.")


class GivenReinforcementModel(Strict):
    """A length of bed-joint reinforcement that is in the wall, or is to be exactly there."""

    leaf: LeafSide | None = Field(default=None, description=EVERY_LEAF)
    level: Height = Field(description="Level of the bed joint it lies in.")
    at: Length = Field(description=AT)
    length: Size = Field(description="Length of wall it reinforces.")


class GivenTieModel(Strict):
    """A wall tie that is in the wall, or is to be exactly there."""

    at: Length = Field(description="Distance along the wall line from `start`.")
    level: Height = Field(description="Level of the bed joint it lies in.")


class GivenDampCourseModel(Strict):
    """A damp-proof course that is in the wall, or is to be exactly there."""

    leaf: LeafSide | None = Field(default=None, description=EVERY_LEAF)
    level: Height = Field(description="Level at which it lies.")
    at: Length = Field(description=AT)
    length: Size = Field(description="Length of wall it lies under.")


class GivenTrayModel(Strict):
    """A cavity tray that is in the wall, or is to be exactly there."""

    level: Height = Field(description="Level of its lower edge, in the outer leaf.")
    at: Length = Field(description=AT)
    length: Size = Field(description="Length of the tray between its ends.")
    stop_ends: Annotated[int, Field(ge=0, le=2, strict=True)] = Field(default=2, description="How many of its ends are closed.")


class LoadModel(Strict):
    """A load that stands on the masonry besides its own weight, such as that of a floor. For what lintels carry only."""

    leaf: LeafSide | None = Field(default=None, description="The leaf that carries it. Leave out for every leaf of the wall.")
    level: Height = Field(description="Level at which it stands on the masonry.")
    at: Length = Field(description="Distance along the wall line from `start` to its left end, or to a load at one point.")
    length: Size | None = Field(default=None, description="Length over which it is spread. Leave out for a load at one point.")
    load: Annotated[float, Field(gt=0, le=10_000, allow_inf_nan=False, strict=True)] = Field(
        description="Kilonewtons to the metre where it has a length, kilonewtons where it stands at one point; not factored."
    )


class AbutmentModel(Strict):
    """A lower roof or building that meets the outer face of the wall."""

    line: Annotated[tuple[Level, ...], Field(min_length=2, max_length=MOST_PARTS)] = Field(
        description="Points [along, level] of the line in which it meets the face, from `start` to `end`: level, sloping or both."
    )
