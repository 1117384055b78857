"""What a movement joint is filled with, in words."""

from __future__ import annotations

from elevgen.core.figures import Figures
from elevgen.fittings.model import JointParts


def filler_words(figures: Figures, part: JointParts) -> str:
    """`polyethylene foam or foam rubber, from a 13 mm strip, never hemp, fibreboard or cork`; empty where nothing is known."""
    said = []
    if part.filler:
        said.append(_either(part.filler))
    elif part.filler is not None:
        said.append("nothing that suits every material of the leaf: ask the maker")
    elif part.filler_barred:
        said.append("what the maker of the units allows")
    if part.filler and part.filler_strip is not None:
        said.append(f"from a {figures.measure(part.filler_strip)} strip")
    if part.filler_barred:
        said.append(f"never {_either(part.filler_barred)}")
    return ", ".join(said)


def _either(words: tuple[str, ...]) -> str:
    plain = [word.replace("_", " ") for word in words]
    return " or ".join(filter(None, (", ".join(plain[:-1]), plain[-1])))
