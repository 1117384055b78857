"""A design as a scene: a view for every leaf, for every different corner and the plan, and the sheets they are printed on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from elevgen.drawing.cautions import cautions
from elevgen.drawing.corner_details import corner_details
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.font import Fonts
from elevgen.drawing.own_layers import layers_of
from elevgen.drawing.patterns import pattern_blocks
from elevgen.drawing.plan_sheet import Drawn, corner_sheets, corner_table, corner_views, plan_sheets
from elevgen.drawing.scene import Scene, View
from elevgen.drawing.sheet import fitted_elevation, fitted_plan, leaf_sheets
from elevgen.result import Design

VIEW_GAP = 3000.0
"""Clear space between views in the model, mm."""
IN_A_ROW = 6
"""So many corners stand side by side under the plan."""


def compose(design: Design) -> Scene:
    """Everything that is drawn of a design. Raises SpecError when its own file of layers cannot be used."""
    fonts = Fonts()
    leaves = leaf_facts(design)
    plan = fitted_plan(design, leaves, fonts)
    elevations = tuple(fitted_elevation(design, facts, fonts) for facts in leaves)
    details = corner_details(design)
    corners = corner_views(design, details, fonts)
    of_corners = corner_sheets(design, corners, fonts)
    of_leaves = [leaf_sheets(design, facts, view, fonts) for facts, view in zip(leaves, elevations, strict=True)]
    drawn = {view.id: Drawn(view, len(sheets)) for view, sheets in zip(elevations, of_leaves, strict=True)}
    of_plan = plan_sheets(design, plan, fonts, leaves, drawn, corner_table(details, of_corners))
    by_wall = [[v for v, f in zip(elevations, leaves, strict=True) if f.wall.id == w.id] for w in design.building.walls]
    rows = [[plan], *in_rows(corners, IN_A_ROW), *by_wall]
    sheets = [*of_plan, *of_corners, *(sheet for each in of_leaves for sheet in each)]
    return Scene(
        title=design.spec.project.title,
        date=design.spec.project.date,
        views=placed(rows),
        sheets=tuple(sheets),
        blocks=pattern_blocks(design),
        layers=layers_of(design.spec),
        cautions=cautions(design),
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


def in_rows(views: Sequence[View], count: int) -> list[Sequence[View]]:
    """Views in rows of so many."""
    return [views[n : n + count] for n in range(0, len(views), count)]
