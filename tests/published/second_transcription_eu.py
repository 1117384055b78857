"""Second transcription of the eu set: what it has otherwise than the uk set, typed again from the references."""

from __future__ import annotations

from collections.abc import Iterator

from second_transcription import CM, DENSE, LIGHT, M, Typed, alike, typed


def en_1996_2() -> Iterator[Typed]:
    """2.3.4.2: of clay and stone 12 m, calcium silicate two thirds of that, concrete half."""
    en, stem = "EN 1996-2", "movement_joint."
    yield from alike(en, f"{stem}spacing.normal", ("clay", "stone"), 12 * M)
    yield from alike(en, f"{stem}spacing.normal", ("calcium_silicate",), 12 * M * 2 / 3)
    yield from alike(en, f"{stem}spacing.normal", (DENSE, LIGHT), 12 * M / 2)
    yield from typed(en, f"{stem}corner.", fraction=6 / 12, kind="half_spacing_each_side")


def from_memory() -> Iterator[Typed]:
    yield from typed("estimating practice", "waste.", units=5)
    en = "EN 1996-1-1"
    yield from alike("EN 1996-2", "movement_joint.spacing.normal", ("aircrete",), 6 * M)
    yield from typed(en, "", bed_reinforcement__cover=1.5 * CM, perpend__min=0.6 * CM, tie__density=2)
    yield from typed(en, "movement.thermal.", low__stone=1 / 1000, high__stone=18 / 1000)


ROWS = (*en_1996_2(), *typed("sealant guideline", "sealant.", width_to_depth=20 / 10))
MEMORY = tuple(from_memory())
PRACTICE: dict[str, object] = {"joint.nominal": 1 * CM}
