"""Mortar: beds and perpends as laid, what fills frogs and cores, by panel and lift."""

from __future__ import annotations

from collections.abc import Callable
from math import fsum, inf
from typing import NamedTuple

from elevgen.building.model import Building, Leaf, Unit
from elevgen.core.figures import Figures
from elevgen.core.geometry import Rect, Span, cut_out, merge
from elevgen.core.measures import CUBIC_METRE, SQUARE_METRE
from elevgen.result import Design
from elevgen.takeoff.items import Measured, codes_of, size
from elevgen.takeoff.laid import Laid, LeafLaid, Place
from elevgen.takeoff.model import LeafArea
from elevgen.takeoff.places import Face, Grid, shared_out
from elevgen.takeoff.thumb import mortar_words

MORTAR = "MORTAR-M3"
NOT_FILLED = "frogs and cores not filled: the spec does not say what of a unit is hollow"


class Asked(NamedTuple):
    """The ends of a leaf's codes, for the mortar and the pointing that are asked for: of its walling, of its mortar."""

    walling: str
    mortar: str


def asked_of(building: Building) -> dict[str, Asked]:
    """By leaf. Nothing where the spec says neither; `-` for mortar of which it does not speak though it does of pointing."""
    leaves = building.leaves
    codes = codes_of(words for leaf in leaves for words in (leaf.mortar, leaf.pointing) if words is not None)
    found = {}
    for leaf in leaves:
        mortar = "" if leaf.mortar is None else f"/{codes[leaf.mortar]}"
        pointing = "" if leaf.pointing is None else f"/{codes[leaf.pointing]}"
        found[leaf.id] = Asked(f"{mortar or '/-'}{pointing}" if pointing else mortar, mortar)
    return found


def mortar_item(design: Design, leaf: Leaf, asked: str, area: LeafArea, laid: LeafLaid, grid: Grid, face: Face) -> Measured:
    """Beds and perpends through the thickness, the upright joint between stretchers one behind another, and hollows of units.

    `asked`: the end of its code, for the mortar that is asked for.
    A corner is face of both its walls; its beds are the mortar of the wall whose unit lies there, and counted once.
    """
    beds = joints_by_place(design, leaf, laid, grid, face)
    between, filled, corners = (_by_place(leaf, laid, volume) for volume in (_between, _filled, _of_other_walls))
    net = joint_volume(leaf, area, laid) + fsum(filled.values())
    shares = {
        place: max(0.0, beds[place] * leaf.thickness + between.get(place, 0.0) + filled.get(place, 0.0) - corners.get(place, 0.0))
        for place in beds
    }
    figures = design.figures
    words = [f"bed and perpend face {figures.amount(area.mortar / SQUARE_METRE, 'm2')} x {figures.measure(leaf.thickness)}"]
    if any(between.values()):
        words.append(f"{figures.amount(fsum(between.values()) / CUBIC_METRE, 'm3', 3)} between stretchers one behind another")
    if any(corners.values()):
        words.append(
            f"less {figures.amount(fsum(corners.values()) / CUBIC_METRE, 'm3', 4)} of beds at corners, "
            "mortar of the wall whose units lie there"
        )
    return Measured(
        code=f"{MORTAR}{asked}",
        item=f"Mortar{'' if leaf.mortar is None else ' ' + leaf.mortar} in beds and perpends, wet volume in place",
        unit="m3",
        net=net / CUBIC_METRE,
        where=leaf.id,
        derivation=f"{', '.join(words)}; {_filled_words(figures, leaf, fsum(filled.values()))}"
        + mortar_words(design, leaf, area.net / SQUARE_METRE),
        waste="mortar",
        parts=shared_out(shares, net / CUBIC_METRE),
    )


def joint_volume(leaf: Leaf, area: LeafArea, laid: LeafLaid) -> float:
    """Mortar of all joints of a leaf (mm3), hollows of units not filled."""
    between, corners = (fsum(_by_place(leaf, laid, volume).values()) for volume in (_between, _of_other_walls))
    return area.mortar * leaf.thickness + between - corners


def joints_by_place(design: Design, leaf: Leaf, laid: LeafLaid, grid: Grid, face: Face) -> dict[Place, float]:
    """Face of beds, perpends and what is made up in mortar (mm2), by panel and lift, a lift from the lowest of its own beds up.

    It is what is neither unit, lintel nor movement joint.
    """
    joints = merge(joint.gap for joint in design.plan.on_leaf(leaf.id))
    bodies = [body for lintel in design.fittings.lintels if lintel.leaf == leaf.id and (body := lintel.body)]
    gaps = (Rect(gap.start, -inf, gap.end, inf) for gap in joints)
    lintels = cut_out(bodies, (*leaf.voids, *gaps)) if bodies else ()
    found: dict[Place, float] = {}
    for lift, levels in _bands(laid, grid):
        for panel, along in grid.panels:
            taken = [face.within(shared, levels) for gap in joints if (shared := gap.common(along))]
            taken += [face.of(body, along, levels) for body in lintels]
            place = (panel, lift)
            found[place] = face.within(along, levels) - fsum(taken) - laid.face(place)
    return found


def _bands(laid: LeafLaid, grid: Grid) -> list[tuple[int | None, Span]]:
    """The lifts of one leaf by its own courses: a bed belongs to the units on it, what is over the last course to its lift."""
    if not laid.lift_from:
        return [(grid.lifts[0][0], Span(-inf, inf))]
    rising = sorted(laid.lift_from.items(), key=lambda pair: pair[1])
    starts = [-inf, *(level for _, level in rising[1:]), inf]
    return [(lift, Span(start, end)) for (lift, _), start, end in zip(rising, starts, starts[1:], strict=False)]


def _by_place(leaf: Leaf, laid: LeafLaid, volume: Callable[[Leaf, Unit, Laid], float]) -> dict[Place, float]:
    """A volume of every kind of unit added up by place."""
    units = {zone.unit.name: zone.unit for zone in leaf.zones}
    found: dict[Place, list[float]] = {}
    for name, places in laid.units.items():
        for place, here in places.items():
            found.setdefault(place, []).append(volume(leaf, units[name], here))
    return {place: fsum(volumes) for place, volumes in found.items()}


def _between(leaf: Leaf, unit: Unit, here: Laid) -> float:
    """Volume of the upright joint inside a leaf where units lie two deep (mm3)."""
    if leaf.build == "half_brick":
        return 0.0
    return here.stretcher_face * max(0.0, leaf.thickness - 2 * unit.width)


def _filled(leaf: Leaf, unit: Unit, here: Laid) -> float:
    """Volume of mortar in the hollows of the units that are this wall's (mm3); 0 where nobody has said how hollow they are."""
    if not unit.hollows:
        return 0.0
    deep = min(unit.width, leaf.thickness) if leaf.build == "half_brick" else leaf.thickness
    solid = (here.face - here.returned_face) * deep - _between(leaf, unit, here)
    return solid * unit.hollows / 100


def _of_other_walls(leaf: Leaf, unit: Unit, here: Laid) -> float:
    """Volume of the beds under units of another wall round a corner (mm3)."""
    return here.returned_beds * leaf.thickness


def _filled_words(figures: Figures, leaf: Leaf, filled: float) -> str:
    told = {zone.unit.name: zone.unit.hollows for zone in leaf.zones if zone.unit.hollows is not None}
    if not told:
        return NOT_FILLED
    said = " and ".join(f"{size(part)} % of every {name}" for name, part in told.items())
    silent = [name for name in dict.fromkeys(zone.unit.name for zone in leaf.zones) if name not in told]
    of_others = f", none of {' and '.join(silent)}: the spec does not say" if silent else ""
    return f"frogs and cores filled with {figures.amount(filled / CUBIC_METRE, 'm3', 3)}, {said}{of_others}"
