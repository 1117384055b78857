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
    "run_1": Colour((196, 220, 247), 151),
    "run_2": Colour((244, 184, 96), 41),
    "run_3": Colour((236, 245, 178), 61),
    "run_4": Colour((112, 170, 164), 133),
    "run_5": Colour((170, 112, 128), 243),
    "run_6": Colour((182, 166, 220), 191),
}
_RUNS: tuple[Tint, ...] = ("run_1", "run_2", "run_3", "run_4", "run_5", "run_6")
"""Each at least five steps of a hundred lighter or darker than any other, so that grey and every kind of eye tell them apart."""


def tint(name: Tint) -> Colour:
    """The colour of a tint."""
    return _TINTS[name]


def names() -> tuple[Tint, ...]:
    """Every tint there is, in order of declaration."""
    return tuple(_TINTS)


def run_tint(number: int) -> Tint:
    """The tint of the first, second... run (from 0); the seventh has that of the first, and its own name beside it."""
    return _RUNS[number % len(_RUNS)]
