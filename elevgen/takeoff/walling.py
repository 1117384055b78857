"""Walling and cavities: work measured from faces, by the measurement rules and as really built."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from math import fsum, inf

from elevgen.bonds import load_bond
from elevgen.building.model import Leaf, Unit, Wall, Zone
from elevgen.core.figures import Figures
from elevgen.core.geometry import Span, merge
from elevgen.core.measures import METRE, SQUARE_METRE
from elevgen.result import Design
from elevgen.rules.measurement import MeasurementRules
from elevgen.takeoff.areas import masonry_area, shared_face
from elevgen.takeoff.centre_line import cavity_span, centre_span
from elevgen.takeoff.items import Measured, grouped, size, unit_words
from elevgen.takeoff.laid import Site
from elevgen.takeoff.model import Part
from elevgen.takeoff.places import Face, Grid
from elevgen.takeoff.rulings import FaceMeasured, face_measured

_SAME = 1e-9


def walling_items(
    design: Design, leaf: Leaf, codes: Mapping[str, str], asked: str, rules: MeasurementRules, site: Site
) -> Iterator[Measured]:
    """The walling of one leaf, each kind of unit by itself: m2, or m3 where the rules bill thick walls by volume.

    `asked`: the end of its codes, for the mortar and the pointing that are asked for.
    """
    wall, grid, whole = design.building.wall(leaf.wall), site.on[leaf.id], site.faces[leaf.id]
    measured = replace(leaf, span=centre_span(site.building, leaf)) if rules.on_centre_line else leaf
    deep = leaf.thickness / METRE
    unit, factor = ("m3", deep) if rules.in_cubic_metres(leaf.thickness) else ("m2", 1.0)
    band = f", {rules.band(leaf.thickness, design.figures)}" if rules.band(leaf.thickness) else ""
    for of, zones in grouped(leaf.zones, lambda zone: zone.unit).items():
        face = face_measured(measured, wall, _bands(leaf, zones), rules, design.figures)
        real = fsum(masonry_area(leaf, levels=zone.levels) for zone in zones) / SQUARE_METRE
        yield _item(
            Measured(
                code=f"WALL-{unit.upper()}/{codes[of.name]}/{codes[leaf.bond]}/{size(leaf.thickness)}{asked}",
                item=f"Walling in {_kind(of, leaf, design.figures)}, leaf {design.figures.measure(leaf.thickness)} thick{band}",
                unit=unit,
                net=real * factor,
                where=leaf.id,
                derivation=_walling_words(rules, leaf, unit, design.figures),
                waste=None,
                parts=_face_parts(whole, grid, (zone.levels for zone in zones), factor),
            ),
            face.times(factor),
        )


def _face_parts(whole: Face, grid: Grid, bands: Iterable[Span], factor: float) -> tuple[Part, ...]:
    """A face by panel and lift, over bands of levels; a movement joint is cut at its centre line."""
    cells = (cell for band in bands for cell in grid.cells(band))
    return tuple(Part(cell.panel, cell.lift, whole.within(cell.along, cell.levels) / SQUARE_METRE * factor) for cell in cells)


def cavity_items(design: Design, rules: MeasurementRules, site: Site) -> Iterator[Measured]:
    """Forming the cavity of every wall with two leaves, m2: on the lesser of the faces both share, or along its centre line."""
    for wall in design.building.walls:
        if wall.cavity is not None and len(wall.leaves) == 2:
            yield _cavity(design, wall, wall.cavity, rules, site)


def _cavity(design: Design, wall: Wall, width: float, rules: MeasurementRules, site: Site) -> Measured:
    shared = shared_face(design.building, wall)
    along = "along the cavity's centre line" if rules.on_centre_line else "face both leaves share"
    face, net = FaceMeasured(0.0, ()), 0.0
    parts: tuple[Part, ...] = ()
    if shared is not None:
        net, parts = masonry_area(shared) / SQUARE_METRE, _cavity_parts(shared, site)
        if rules.on_centre_line:
            shared = replace(shared, span=cavity_span(site.building, wall, shared.span))
        face = face_measured(shared, wall, (Span(-inf, inf),), rules, design.figures)
    return _item(
        Measured(
            code=f"CAVITY-M2/{size(width)}",
            item=f"Forming cavity {design.figures.measure(width)} wide",
            unit="m2",
            net=net,
            where=wall.id,
            derivation=f"{along}{_rounded_words(rules, design.figures)}, {_less_words(rules)}",
            waste=None,
            parts=parts,
        ),
        face,
    )


def _cavity_parts(shared: Leaf, site: Site) -> tuple[Part, ...]:
    """A cavity (m2) by lift, on the leaf it is measured on."""
    face = site.faces[shared.id]
    return tuple(Part(None, lift, face.within(shared.span, levels) / SQUARE_METRE) for lift, levels in site.on[shared.id].lifts)


def _item(real: Measured, face: FaceMeasured) -> Measured:
    """The item as billed; what is really built stands beside it where that is another figure."""
    with_face = real._replace(gross=face.gross, deductions=face.deductions)
    if abs(face.net - real.net) <= _SAME * max(1.0, face.gross):
        return with_face
    return with_face._replace(net=face.net, as_built=real.net)


def _bands(leaf: Leaf, zones: tuple[Zone, ...]) -> tuple[Span, ...]:
    """The levels of some of a leaf's zones: its lowest goes down, its highest up, as far as the leaf does."""
    low, high = leaf.zones[0], leaf.zones[-1]
    return merge(Span(-inf if z is low else z.levels.start, inf if z is high else z.levels.end) for z in zones)


def _kind(unit: Unit, leaf: Leaf, figures: Figures) -> str:
    return ", ".join((unit_words(unit, figures), load_bond(leaf.bond).TITLE, *leaf.joints_as_asked))


def _walling_words(rules: MeasurementRules, leaf: Leaf, unit: str, figures: Figures) -> str:
    line = "face along the leaf's centre line" if rules.on_centre_line else "face as built"
    by_volume = f", by its thickness of {figures.measure(leaf.thickness)}" if unit == "m3" else ""
    less = _less_words(rules)
    return f"{line}{_rounded_words(rules, figures)}, {less}{by_volume}; movement joints and lintels not deducted"


def _rounded_words(rules: MeasurementRules, figures: Figures) -> str:
    step = rules.dimension_step
    return "" if step is None else f", each dimension to the nearest {figures.fine(step)}"


def _less_words(rules: MeasurementRules) -> str:
    if rules.opening_limit:
        return "less what is deducted for openings and strips too small to build"
    return "less openings and strips too small to build"
