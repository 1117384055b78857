"""The colours surfaces are tinted with: pale, told apart in grey as well, and chosen for this project."""

from __future__ import annotations

from typing import NamedTuple

from elevgen.drawing.scene import Tint


class Colour(NamedTuple):
    """Red, green, blue, and a pale indexed colour like it for readers that know no other.

    Never white (7, 255): some programs turn that to black on white paper. Nor a grey in which lines would drown.
    """

    rgb: tuple[int, int, int]
    aci: int


_TINTS: dict[Tint, Colour] = {
    "clay": Colour((244, 225, 212), 254),
    "calcium_silicate": Colour((240, 238, 228), 254),
    "dense_concrete": Colour((221, 224, 227), 254),
    "lightweight_concrete": Colour((230, 232, 233), 254),
    "aircrete": Colour((238, 241, 243), 254),
    "stone": Colour((232, 226, 208), 254),
    "return": Colour((226, 214, 205), 254),
    "cut": Colour((250, 236, 186), 51),
    "opening": Colour((254, 254, 254), 254),
    "strip": Colour((246, 205, 190), 31),
    "panel": Colour((247, 249, 251), 254),
    "head": Colour((228, 233, 240), 254),
}


def tint(name: Tint) -> Colour:
    """The colour of a tint."""
    return _TINTS[name]


def names() -> tuple[Tint, ...]:
    """Every tint there is, in order of declaration."""
    return tuple(_TINTS)
