"""Second transcription of the au set, typed again from the references in metres and centimetres."""

from __future__ import annotations

from collections.abc import Iterator

from second_transcription import CM, DENSE, EVERY, LIGHT, M, Typed, alike, typed

NCC, MOVE = "NCC Housing Provisions", "movement_joint."


def articulation() -> Iterator[Typed]:
    yield from alike(NCC, f"{MOVE}spacing.normal", EVERY, 6 * M)
    yield from alike(NCC, f"{MOVE}spacing.with_openings", EVERY, 5 * M)
    yield from typed(NCC, f"{MOVE}with_openings.", width=90 * CM, height=90 * CM, number=1)
    yield from typed(NCC, MOVE, corner__height_fraction=100 / 100, unlike_materials="any_two")
    yield from alike("AS 4773.1", f"{MOVE}width.nominal", EVERY, 1 * CM)
    yield from typed("AS 4773.1", f"{MOVE}high_wall.", height=8.5 * M, width=1.5 * CM)
    yield from typed("AS 3700", "", movement_joint__left_open=0.5 * CM)
    yield from typed("AS 3700", "movement.thermal.", low__clay=8 / 1000, high__clay=8 / 1000)


def others() -> Iterator[Typed]:
    yield from typed(NCC, "lintel.", needed_over=0.5 * M, bearing__short_span=1 * M, bearing__long=15 * CM)
    yield from typed(NCC, "lintel.bearing.short.", simple=10 * CM, tray=10 * CM)
    yield from typed(NCC, "tie.", embedment=5 * CM, partition__vertical=30 * CM)
    page = "Australian trade web page"
    yield from typed(
        page, "", joint__nominal=(240 * 2 - 2 * 230) / 2, thumb__units__half_brick=25 * 2, thumb__units__block=100 / 8
    )
    yield from typed(page, "movement.moisture.", low__clay=3 / 10, high__clay=16 / 10)
    yield from typed("Bricks & Pavers Technical Manual", "movement.reversible.", low__clay=0, high__clay=0)


def beside() -> Iterator[Typed]:
    page = "Australian trade web page"
    for most in (1.0, 1.1, 1.0):
        yield from typed(page, "movement.moisture.", high__clay=most)
    for least in (0.5, 0.6):
        yield from typed(page, "movement.moisture.", low__clay=least)
    yield from alike(page, f"{MOVE}spacing.normal", (DENSE,), 8 * M)
    yield from alike(page, f"{MOVE}spacing.normal", (LIGHT,), 6 * M)
    yield from alike(page, f"{MOVE}spacing.with_openings", EVERY, 6 * M)
    yield from typed("AS 3700", MOVE, width__nominal__clay=2 * CM)
    yield from typed("arithmetic on AS 3700", MOVE, spacing__normal__clay=15 / 1.0 * M)
    yield from typed("CMAA CM01", "", joint__nominal=600 / 7 - 76, thumb__units__half_brick=round(17.5 / 0.6**2, 1))
    yield from typed(NCC, "tie.", edge__distance=30 * CM, spacing__vertical=30 * CM)


def from_memory() -> Iterator[Typed]:
    yield from typed("estimating practice", "waste.", units=10)
    yield from alike(NCC, f"{MOVE}at_opening.one_side", EVERY, 0.9 * M)
    yield from typed(NCC, MOVE, at_opening__within=1.2 * M, change_of_height__fraction=20 / 100)
    yield from typed(NCC, "tie.spacing.", horizontal=60 * CM, vertical=60 * CM)
    yield from typed(NCC, "tie.", edge__distance=30 * CM, edge__vertical=60 * CM, free_top__distance=30 * CM)
    yield from typed(NCC, "tie.", free_top__horizontal=60 * CM, top__vertical=30 * CM)


ROWS = (*articulation(), *others(), *beside())
MEMORY = tuple(from_memory())
BRICK, COURSE = 240.0, 86.0
PRACTICE: dict[str, object] = {
    **dict.fromkeys((f"{MOVE}beside_corner.clear", f"{MOVE}beside_opening.clear"), 3 * BRICK),
    "tray.step.length": BRICK,
    "opening.pier.min": BRICK - 10,
    "opening.strip.min": 2 * COURSE,
    f"{MOVE}corner.kind": "sum_round_corner",
    "bed.tolerance": 0.3 * CM,
    "perpend.min": (1 - 0.3) * CM,
    "perpend.max": (1 + 0.3) * CM,
    "bond.lap.fraction": 1 / 4,
    "pack.sealant.cartridge": 1000 * 0.3,
}
"""Common practice, no source: where it is not the uk set's."""
BORROWED = {
    "BS 6093 and BS 6213": 1,
    "Belgian and Dutch": 1,
    "Construction Materials": 4,
    "Cornell": 1,
    "trade web page": 1,
}
"""Other figures the set shows as another set typed them, by document: how many."""
