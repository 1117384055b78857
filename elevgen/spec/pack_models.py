"""What the materials of the order list are sold in, as the spec says it."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Discriminator, Field, Tag

from elevgen.spec.fields import ONE, WORD, SomeLine, Strict

Holds = Annotated[float, Field(gt=0, le=1_000_000, allow_inf_nan=False, strict=True)]


class PackModel(Strict):
    """What a material is sold in, and how much of it that holds."""

    holds: Holds = Field(description="How much one holds, in the item's unit of measurement: nr, m, m2, m3 or l.")
    name: SomeLine = Field(default="pack", description="What it is called: pack, pallet, roll, bag.")


def _form(given: Any) -> str:
    """Which branch is meant: an object, or just the number."""
    return ONE if isinstance(given, dict | PackModel) else WORD


Pack = Annotated[Annotated[PackModel, Tag(ONE)] | Annotated[Holds, Tag(WORD)], Discriminator(_form)]
"""A pack with its name, or just how much it holds."""
