"""Closing of cavities at openings, and reveals, heads and sills of leaves whose face stays in sight: metres by opening."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import fsum

from elevgen.building.model import Leaf, Wall
from elevgen.core.figures import Figures
from elevgen.core.measures import METRE
from elevgen.result import Design
from elevgen.takeoff.edges import Edge, Kind, edges_of
from elevgen.takeoff.items import Measured, grouped, size
from elevgen.takeoff.laid import Site
from elevgen.takeoff.model import Part
from elevgen.takeoff.places import Grid

IN_SIGHT: Mapping[Kind, tuple[str, str]] = {
    "jamb": ("FAIR-RETURN-M/REVEAL", "Fair return at reveals"),
    "head": ("HEAD-M", "Head of openings"),
    "sill": ("SILL-M", "Sill of openings"),
}
CLOSED: Mapping[Kind, str] = {"jamb": "jambs", "sill": "sills"}
"""Where a cavity is closed: over an opening the lintel and its tray do it (common practice, no source)."""


def in_sight(leaf: Leaf) -> bool:
    """Whether a leaf is built fair: its face is outside and gets no render."""
    return leaf.exposed and leaf.finish is None


def reveal_items(design: Design, site: Site) -> Iterator[Measured]:
    """Of every outer leaf in sight its reveals, heads and sills; of every cavity wall the closing of its cavity.

    Both are measured on the outer leaf.
    """
    for wall in design.building.walls:
        leaves = design.building.leaves_of(wall.id)
        if not wall.openings or not leaves:
            continue
        outer, inner = leaves[0], leaves[1:]
        edges, grid = tuple(edges_of(outer, wall)), site.on[outer.id]
        if in_sight(outer):
            yield from _in_sight(design.figures, outer, edges, grid)
        if wall.cavity is not None and inner:
            yield from _closers(design.figures, wall, wall.cavity, edges, grid)


def _in_sight(figures: Figures, leaf: Leaf, edges: tuple[Edge, ...], grid: Grid) -> Iterator[Measured]:
    for kind, (code, words) in IN_SIGHT.items():
        alike = tuple(edge for edge in edges if edge.kind == kind)
        if alike:
            yield Measured(
                code=f"{code}/{size(leaf.thickness)}",
                item=f"{words}, leaf {figures.measure(leaf.thickness)} thick, face in sight",
                unit="m",
                net=fsum(edge.span.length for edge in alike) / METRE,
                where=leaf.id,
                derivation=by_opening(figures, alike),
                waste=None,
                parts=tuple(part for edge in alike for part in edge_parts(edge, grid)),
            )


def _closers(figures: Figures, wall: Wall, cavity: float, edges: tuple[Edge, ...], grid: Grid) -> Iterator[Measured]:
    no_sill = ", ".join(opening.id for opening in wall.openings if opening.kind == "door")
    for kind, words in CLOSED.items():
        alike = tuple(edge for edge in edges if edge.kind == kind)
        if not alike:
            continue
        left_out = f"; none under doors: {no_sill}" if kind == "sill" and no_sill else ""
        yield Measured(
            code=f"CLOSE-M/{kind.upper()}/{size(cavity)}",
            item=f"Closing cavity {figures.measure(cavity)} wide at {words} of openings",
            unit="m",
            net=fsum(edge.span.length for edge in alike) / METRE,
            where=wall.id,
            derivation=f"{by_opening(figures, alike)}{left_out}; heads closed by lintels and trays",
            waste=None,
            parts=tuple(part._replace(panel=None) for edge in alike for part in edge_parts(edge, grid)),
        )


def edge_parts(edge: Edge, grid: Grid) -> Iterable[Part]:
    """An edge in metres by panel and lift. A jamb stands in the panel it is the edge of."""
    if edge.kind == "jamb":
        return grid.upright_at(edge.at, edge.span, edge.span.length / METRE)
    return grid.level_stretch(edge.span, edge.at, edge.span.length / METRE)


def by_opening(figures: Figures, edges: tuple[Edge, ...]) -> str:
    """`A1 2.40 m, A2 0.95 m`."""
    of = grouped(edges, lambda edge: edge.opening)
    return ", ".join(f"{name} {figures.run(fsum(edge.span.length for edge in alike))}" for name, alike in of.items())
