"""Numbers and names as people write them in a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from elevgen.core.figures import Figures


def counted(number: int, one: str, many: str = "") -> str:
    """`1 lintel`, `3 lintels`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def listed(names: Sequence[str]) -> str:
    """`A`, `A and B`, `A, B and C`."""
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))


def steel_words(figures: Figures, there: float, asked: float, places: int = 0) -> str:
    """How much steel there is up the wall and how much is asked, both in mm2 to a metre of height."""
    square, height = figures.unit("mm2").name, "foot" if figures.in_feet else "metre"
    has, wants = (f"{figures.unit('mm2/m').of(area):.{4 if figures.in_feet else places}f} {square}" for area in (there, asked))
    return f"{has} of steel to a {height} of height, {wants} asked"
