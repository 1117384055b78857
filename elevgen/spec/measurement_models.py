"""What a user gives in place of the values of a measurement rule set, as a pydantic model."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from elevgen.spec.fields import Strict

Area = Annotated[float, Field(ge=0, le=1000, allow_inf_nan=False, strict=True)]
DimensionStep = Annotated[float, Field(ge=0, le=1000, allow_inf_nan=False, strict=True)]
QuantityStep = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False, strict=True)]
Thickness = Annotated[float, Field(ge=0, le=2000, allow_inf_nan=False, strict=True)]


class OwnMeasurementModel(Strict):
    """Figures of the user's own in place of those of the measurement rule set. What is left out stays as the rule set has it."""

    opening_min_area_m2: Area | None = Field(
        default=None, description="Openings up to and with this area in m2 are not deducted; 0 has every opening deducted."
    )
    boundary_openings_always: Annotated[bool, Field(strict=True)] | None = Field(
        default=None, description="Whether openings that reach the edge of a wall are deducted whatever their size."
    )
    dim_round_mm: DimensionStep | None = Field(
        default=None, description="Lengths and heights of areas are rounded to this many mm; 0 leaves them as they are."
    )
    qty_round: QuantityStep | None = Field(
        default=None, description="Quantities of the bill are rounded to a multiple of this; 0 leaves them as they are."
    )
    qty_round_m: QuantityStep | None = Field(default=None, description="The same for quantities in m alone.")
    qty_round_m2: QuantityStep | None = Field(default=None, description="The same for quantities in m2 alone.")
    qty_round_m3: QuantityStep | None = Field(default=None, description="The same for quantities in m3 alone.")
    keep_at_least_one: Annotated[bool, Field(strict=True)] | None = Field(
        default=None, description="Whether a quantity that rounding would take to nothing is billed as 1."
    )
    wall_measured_on: Literal["face", "centre_line"] | None = Field(
        default=None, description="The line walling is measured along: the `face` of each leaf, or its `centre_line`."
    )
    wall_unit: Literal["m2", "m3"] | None = Field(
        default=None, description="The unit of walling: `m2`, or `m3` with half-brick walls still in m2."
    )
    half_brick_most_mm: Thickness | None = Field(
        default=None, description="Thickness in mm up to which a wall counts as half brick, where thicker ones are in m3."
    )
    column_order: Literal["qty-unit", "unit-qty"] | None = Field(
        default=None, description="The order of the columns of the bill: quantity and then unit, or the other way round."
    )

    @property
    def figures(self) -> dict[str, Any]:
        """What is given, by field."""
        return self.model_dump(exclude_none=True)
