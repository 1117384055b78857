"""What a wall is built of, as the spec says it: units, zones and leaves."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from elevgen.spec.fields import (
    MOST_POINTS,
    Colour,
    Finish,
    Height,
    Hollows,
    Material,
    MortarJoint,
    Name,
    ReinforcementSpacing,
    Strict,
    UnitMass,
    UnitSize,
)
from elevgen.spec.part_models import LintelModel


class UnitModel(Strict):
    """A brick or block: its material and its actual (work) size, without mortar."""

    material: Material = Field(description="What the unit is made of. This decides which rules for movement joints apply.")
    length: UnitSize = Field(description="Actual length of the unit, measured along the wall.")
    height: UnitSize = Field(description="Actual height of the unit.")
    width: UnitSize = Field(description="Actual width of the unit, which is the thickness of a leaf built with it.")
    joint: MortarJoint | None = Field(
        default=None,
        description="Nominal thickness of the mortar joints, horizontal and vertical. Leave out for the rule set's value.",
    )
    bed: MortarJoint | None = Field(
        default=None,
        description="Nominal thickness of the horizontal mortar joints where they are not as thick as the vertical ones.",
    )
    mass: UnitMass | None = Field(
        default=None,
        description="Mass of one unit in kg, as delivered. Leave out to have it reckoned from its size at a high density.",
    )
    hollows: Hollows | None = Field(
        default=None,
        description=(
            "Frogs and cores that fill with mortar as the unit is laid, in per cent of its volume. Mortar is measured with them. "
            "Leave out where it is not known, or where they stay empty: mortar is then that of the joints."
        ),
    )


class ZoneModel(Strict):
    """A part of a leaf built of one kind of unit. The last zone has no `to`: it continues to the top of the wall."""

    unit: str = Field(description="Name of a unit, either defined under `units` or provided by the rule set.")
    to: Height | None = Field(
        default=None,
        description="Level at which the zone ends. Leave out in the last zone, which continues to the top of the wall.",
    )


class LeafModel(Strict):
    """How a leaf (a single thickness of masonry) is built: its zones from the bottom up, and its bond."""

    zones: Annotated[tuple[ZoneModel, ...], Field(min_length=1, max_length=MOST_POINTS)] = Field(
        description="The zones of the leaf, from the bottom up."
    )
    colour: Colour | None = Field(
        default=None,
        description=(
            "How much of the sun's heat the leaf takes up: `light` for pale brick or render, `medium` for common red or buff, "
            "`dark` for dark red to black. Used for the calculated width of movement joints where temperatures of the air are "
            "given. Leave out for the rule set's."
        ),
    )
    bond: str = Field(default="stretcher", description="Name of the bond: the pattern in which the units are laid.")
    build: Literal["half_brick", "one_brick"] | None = Field(
        default=None,
        description=(
            "Thickness of the leaf: `half_brick` for one as thick as a unit is wide, `one_brick` for one as thick as a unit is "
            "long. Leave out for what the bond is usually built in. Bonds with headers are built of cut headers in `half_brick`."
        ),
    )
    reinforced_every: ReinforcementSpacing | None = Field(
        default=None,
        description=(
            "Greatest vertical distance between reinforced bed joints, over the whole leaf. "
            "Up to 450 mm, and again up to 225 mm, movement joints may stand further apart. Leave out for a leaf without."
        ),
    )
    finish: Finish | None = Field(
        default=None,
        description=(
            "Finish on the face that stays in sight (both faces of an internal wall of one leaf): `render` or `plaster`. "
            "Leave out for masonry left as it is."
        ),
    )
    mortar: Name | None = Field(
        default=None,
        description="Class or mix of the mortar, as it is to be asked for: `M4`, `1:1:6`. Leave out where nobody has said.",
    )
    pointing: Name | None = Field(
        default=None,
        description="How the joints are finished: `bucket handle`, `flush`, `weather struck`. Leave out where nobody has said.",
    )
    lintel: LintelModel = Field(default_factory=LintelModel, description="What the lintels in this leaf are.")
