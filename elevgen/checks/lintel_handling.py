"""Lintels that one person should not lift, and those that stand on props while they are built on, are named."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import BUILDING, at_fitting, found
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted
from elevgen.core.figures import Figures
from elevgen.core.geometry import at_most
from elevgen.core.measures import CUBIC_METRE
from elevgen.core.sourced import Sourced
from elevgen.fittings.model import Lintel
from elevgen.result import Design, Finding

CODE = "lintel-handling"
TITLE = "Lifting and propping of lintels"
RATIONALE = (
    "A concrete or stone lintel is heavy and is lifted to head height; one that acts together with the masonry on it carries "
    "little until that has set."
)
LIMIT, PROPS = "lifting.mass", "lintel.prop.spacing"


def check(design: Design) -> Iterator[Finding]:
    """How heavy the heaviest lintel in the place of units is, and every concrete one too long to stand without a prop.

    One finding of mass a building; its size times the greatest usual density, so it may be less. The maker says more of props.
    """
    solid = [lintel for lintel in design.fittings.lintels if lintel.body is not None]
    if not solid:
        yield found("pass", BUILDING, "no lintel of concrete or stone whose size is known")
        return
    yield _heaviest(design, solid)
    apart = rule(design, PROPS)
    for lintel in (lintel for lintel in solid if lintel.kind == "concrete"):
        if apart is None:
            yield uncovered(design, at_fitting(lintel), PROPS)
        else:
            yield _propped(design.figures, lintel, apart)


def _heaviest(design: Design, solid: list[Lintel]) -> Finding:
    limit = rule(design, LIMIT)
    densities = {lintel.kind: rule(design, f"lintel.density.{lintel.kind}") for lintel in solid}
    missing = [f"lintel.density.{kind}" for kind, density in densities.items() if density is None]
    if limit is None or missing:
        return uncovered(design, BUILDING, LIMIT, *missing)
    thick = {leaf.id: leaf.thickness for leaf in design.building.leaves}
    masses = []
    for lintel in solid:
        body, density = lintel.body, densities[lintel.kind]
        assert body is not None and density is not None
        masses.append((body.width * body.height * thick[lintel.leaf] / CUBIC_METRE * density.number, lintel.id))
    heaviest, name = max(masses)
    over = [mass for mass, _ in masses if not at_most(mass, limit.number)]
    also = tuple(densities.values())
    text = f"the heaviest lintel, {name}, may weigh up to {design.figures.weight(heaviest, 0)}, by its size"
    if not over:
        return found("pass", BUILDING, text, measured=heaviest, most=limit.number, unit="kg", source=limit, also=also)
    text += f"; {counted(len(over), 'lintel')} over {design.figures.weight(limit.number, 1)}: lift with two people or a machine"
    return found("note", BUILDING, text, measured=heaviest, most=limit.number, unit="kg", source=limit, also=also)


def _propped(figures: Figures, lintel: Lintel, apart: Sourced) -> Finding:
    """A concrete lintel over its longest span."""
    longest = max(clear.length for clear in lintel.clears)
    if at_most(longest, apart.number):
        text = "short enough to stand without a prop, unless its maker asks for one"
        return found("pass", at_fitting(lintel), text, measured=longest, most=apart.number, source=apart)
    text = (
        f"spans {figures.run(longest)}: where it acts with the masonry on it, props no more than "
        f"{figures.run(apart.number)} apart until that has set; ask its maker"
    )
    return found("note", at_fitting(lintel), text, measured=longest, most=apart.number, source=apart)
