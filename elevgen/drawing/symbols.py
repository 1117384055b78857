"""The few marks we draw, each as polylines around its own origin in a square of side 1; writers scale them to paper size."""

from __future__ import annotations

from elevgen.core.geometry import Point

Outline = tuple[tuple[Point, ...], bool]
"""Points, and whether they close."""

_MARKS: dict[str, tuple[Outline, ...]] = {
    "tie": ((((-0.5, 0.0), (0.5, 0.0)), False), (((0.0, -0.35), (0.0, 0.35)), False)),
    "level": ((((0.0, 0.0), (-0.5, 0.5), (0.5, 0.5)), True),),
    "arrow": ((((0.0, 0.0), (-0.3, 1.0), (0.3, 1.0)), True),),
    "flag": ((((0.0, 0.0), (-0.5, 0.6), (-0.5, 1.0), (0.5, 1.0), (0.5, 0.6)), True),),
    "weep": ((((-0.12, 0.0), (-0.12, 0.75), (0.12, 0.75), (0.12, 0.0)), True), (((0.0, 0.0), (0.0, -0.4)), False)),
}


def names() -> tuple[str, ...]:
    """Every mark there is, sorted."""
    return tuple(sorted(_MARKS))


def outlines(name: str) -> tuple[Outline, ...]:
    """The polylines of a mark. Raises KeyError for a name that is not one."""
    return _MARKS[name]
