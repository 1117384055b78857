"""A design as a scene: a view for every leaf and the plan, and the sheets they are printed on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from elevgen.drawing.cautions import building_cautions
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.font import Fonts
from elevgen.drawing.own_layers import layers_of
from elevgen.drawing.patterns import pattern_blocks
from elevgen.drawing.scene import Scene, View
from elevgen.drawing.sheet import fitted_elevation, fitted_plan, leaf_sheets, plan_sheets
from elevgen.result import Design

VIEW_GAP = 3000.0
"""Clear space between views in the model, mm."""


def compose(design: Design) -> Scene:
    """Everything that is drawn of a design. Raises SpecError when its own file of layers cannot be used."""
    fonts = Fonts()
    leaves = leaf_facts(design)
    plan = fitted_plan(design, leaves, fonts)
    elevations = tuple(fitted_elevation(design, facts, fonts) for facts in leaves)
    rows = [[plan]] + [[v for v, f in zip(elevations, leaves, strict=True) if f.wall.id == w.id] for w in design.building.walls]
    sheets = list(plan_sheets(design, plan, fonts))
    for facts, view in zip(leaves, elevations, strict=True):
        sheets += leaf_sheets(design, facts, view, fonts)
    return Scene(
        title=design.spec.project.title,
        date=design.spec.project.date,
        views=placed(rows),
        sheets=tuple(sheets),
        blocks=pattern_blocks(design),
        layers=layers_of(design.spec),
        cautions=building_cautions(leaves),
    )


def placed(rows: Iterable[Iterable[View]]) -> tuple[View, ...]:
    """The views side by side in rows, the first row on top, none touching another."""
    found = []
    top = 0.0
    for row in rows:
        left, lowest = 0.0, top
        for view in row:
            box = view.extents
            found.append(replace(view, place=(left - box.left, top - box.top)))
            left += box.width + VIEW_GAP
            lowest = min(lowest, top - box.height)
        top = lowest - VIEW_GAP
    return tuple(found)
