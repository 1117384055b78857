"""Second transcription of the eu set: what it has otherwise than the uk set, typed again from the references."""

from __future__ import annotations

from collections.abc import Iterator

from second_transcription import AAC, CM, CS, DENSE, LIGHT, M, Typed, alike, typed


def en_1996_2() -> Iterator[Typed]:
    """2.3.4.2: of clay and stone 12 m, calcium silicate two thirds of that, concrete half."""
    en, stem = "EN 1996-2", "movement_joint."
    yield from alike(en, f"{stem}spacing.normal", ("clay", "stone"), 12 * M)
    yield from alike(en, f"{stem}spacing.normal", ("calcium_silicate",), 12 * M * 2 / 3)
    yield from alike(en, f"{stem}spacing.normal", (DENSE, LIGHT), 12 * M / 2)
    yield from typed(en, f"{stem}corner.", fraction=6 / 12, kind="half_spacing_each_side")


def beside() -> Iterator[Typed]:
    """Other figures: of Germany, France, Austria, Poland, Lithuania; thermal in hundredths of a millimetre to 10 m and kelvin."""
    thermal = {
        "DIN 1053-1": {"clay": 6, CS: 8, LIGHT: 10, DENSE: 10, AAC: 8},
        "clay masonry handbook": {"clay": 5, CS: 8, AAC: 8, DENSE: 10},
        "Austrian clay association": {"clay": 5, AAC: 8, DENSE: 10},
        "German trade web page": {CS: 8},
    }
    for document, rows in thermal.items():
        for material, hundredths in rows.items():
            yield from (Typed(document, f"movement.thermal.{end}.{material}", hundredths / 100 / 10) for end in ("low", "high"))
    for end in ("low", "high"):
        yield Typed("DIN 1053-1 and German NA", f"movement.moisture.{end}.clay", 0)
        yield Typed("German trade web page", f"movement.moisture.{end}.{CS}", -2 / 10)
    shallow = {"DIN 1053-1": 4.5 * CM, "NF DTU 20.1": 10 * CM, "trade web page": 10 * CM}
    yield from (Typed(document, "bond.lap.shallow.min", value) for document, value in shallow.items())
    clay = "movement_joint.spacing.normal.clay"
    yield Typed("German clay industry association", clay, 12 * M)
    yield from (Typed("Polish trade web page", clay, metres * M) for metres in (12, 10, 8, 7))
    yield Typed("masonry rules of Poland and a French", "perpend.min", 0.8 * CM)


def from_memory() -> Iterator[Typed]:
    yield from typed("estimating practice", "waste.", units=5)
    en = "EN 1996-1-1"
    yield from alike("EN 1996-2", "movement_joint.spacing.normal", ("aircrete",), 6 * M)
    yield from typed(en, "", bed_reinforcement__cover=1.5 * CM, perpend__min=0.6 * CM, tie__density=2)
    yield from typed(en, "bond.stack.", bed_spacing=60 * CM)
    yield from typed(en, "movement.thermal.", low__stone=1 / 1000, high__stone=18 / 1000)


ROWS = (*en_1996_2(), *beside(), *typed("sealant guideline", "sealant.", width_to_depth=20 / 10))
MEMORY = tuple(from_memory())
PRACTICE: dict[str, object] = {"joint.nominal": 1 * CM}
BORROWED = {
    "BS 6093 and BS 6213": 1,
    "Belgian and Dutch": 2,
    "Construction Materials": 19,
    "Cornell": 1,
    "DIN 1053-1": 1,
    "EN 1996-1-1": 1,
    "Materials for Architects": 2,
    "NF DTU 20.1": 1,
    "UK price guide": 1,
    "arithmetic on work sizes": 2,
    "clay masonry handbook": 1,
    "masonry rules of Poland": 1,
    "trade web page": 1,
}
"""Other figures the set shows as another set typed them, by document: how many."""
