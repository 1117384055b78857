"""Names of files. Nothing a user types becomes a path unchecked."""

from __future__ import annotations

import re
from collections.abc import Iterable

LONGEST = 80
_PART = re.compile(r"[A-Za-z0-9_-][A-Za-z0-9_.-]*")


def file_stem(name: str) -> str:
    """A name of letters, digits, `-`, `_` and `.` only; what is not allowed becomes one `-`."""
    stem = re.sub(r"[^A-Za-z0-9_.-]+", "-", name).strip("-.")[:LONGEST].rstrip("-.")
    return stem or "building"


def view_stems(ids: Iterable[str]) -> dict[str, str]:
    """A name for the file of each view, by its id: a hyphen for each slash, and numbered on where that makes two the same."""
    stems: dict[str, str] = {}
    taken: set[str] = set()
    for view in ids:
        stem = plain = view.replace("/", "-")
        n = 1
        while stem.lower() in taken:
            n += 1
            stem = f"{plain}-{n}"
        taken.add(stem.lower())
        stems[view] = stem
    return stems


def is_safe(path: str) -> bool:
    """True for a relative path of plain names, which stays below its folder on any system."""
    return all(_PART.fullmatch(part) and not part.endswith(".") for part in path.split("/"))
