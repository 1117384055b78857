"""What rule keys are about, in the order a person reads about walls."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from elevgen.rules.key import MATERIALS
from elevgen.rules.keys import KEYS

_BEGINNINGS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "Movement joints: how far apart": (
            "movement_joint.spacing.",
            "movement_joint.with_openings.",
            "movement_joint.low_units.",
        ),
        "Movement joints: where else, and how wide": ("movement_joint.",),
        "How masonry moves": ("movement.",),
        "Filling and sealing joints": (
            *("sealant.", "backer_rod.", "filler.", "movement_joint.tolerance", "movement_joint.left_open"),
        ),
        "Bed reinforcement": ("bed_reinforcement.",),
        "Wall ties": ("tie.",),
        "Lintels": ("lintel.",),
        "What lintels carry": ("lintel.load.",),
        "Damp-proofing and finishes": ("dpc.", "tray.", "weep.", "cavity.", "finish."),
        "Bond and coursing": ("bond.", "perpend.", "bed.", "joint.", "opening.", "coursing."),
        "Site tolerances": ("tolerance.",),
        "Cutting, lifting and weights": ("cutting.", "lift.", "lifting.", "unit."),
        "Packs and waste": ("pack.", "waste."),
        "Rules of thumb": ("thumb.",),
    }
)
OTHER = "Other rules"
"""The subject of a key that belongs to none of them."""
SUBJECTS = (*_BEGINNINGS, OTHER)


def subject(key: str) -> str:
    """What a key is about: the subject with the longest beginning of it."""
    found = [(len(start), name) for name, starts in _BEGINNINGS.items() for start in starts if key.startswith(start)]
    return max(found)[1] if found else OTHER


def in_order() -> tuple[str, ...]:
    """Every key, subject by subject, within a subject in the order keys are declared."""
    return tuple(sorted(KEYS, key=lambda key: SUBJECTS.index(subject(key))))


def shared_meaning(key: str, meaning: str) -> str:
    """What a key means without the material it is for, so that keys of one rule can stand together."""
    material = key.rsplit(".", 1)[-1]
    return meaning.removesuffix(f", {material.replace('_', ' ')}") if material in MATERIALS else meaning


def asked_for(key: str, words: str) -> bool:
    """Whether every word is in the key or in what it means, whatever its case."""
    text = f"{key} {KEYS[key].meaning if key in KEYS else ''}".casefold()
    return all(word in text for word in words.casefold().split())
