"""One file per format; found by scanning this folder.

A writer module is named after its format and offers `FORMAT` (its name) and `render(package) -> dict[str, bytes]`:
file names below the output folder, and their content. One with `DEFAULT = False` is written only when it is asked for.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from elevgen.core.discover import load_module, module_names
from elevgen.writers._folder import CHANGED as CHANGED
from elevgen.writers._folder import replace_set
from elevgen.writers._names import file_stem
from elevgen.writers._package import Package

Render = Callable[[Package], dict[str, bytes]]


def formats() -> tuple[str, ...]:
    """The formats there are, sorted; none of them is loaded for this."""
    return module_names(sys.modules[__name__])


def default_formats() -> tuple[str, ...]:
    """The formats of a set nobody asked for by name, sorted: those that are not written on request only."""
    package = sys.modules[__name__]
    return tuple(name for name in formats() if getattr(load_module(package, name), "DEFAULT", True))


def renderer(name: str) -> Render:
    """The `render` of a format. Raises ValueError for a format there is none of, TypeError for a malformed writer."""
    if name not in formats():
        raise ValueError(f"no format {name!r}; there is: {', '.join(formats())}")
    module = load_module(sys.modules[__name__], name)
    render: Render | None = getattr(module, "render", None)
    if getattr(module, "FORMAT", None) != name or not callable(render):
        raise TypeError(f"{module.__name__} must offer FORMAT = {name!r} and render(package)")
    return render


def write_set(package: Package, folder: Path, formats: Sequence[str] = ()) -> list[Path]:
    """Render every wanted format, then put the whole set into the folder at once.

    No formats: the whole set; what an earlier set has of formats asked for then and not now is stale and goes.
    Files are named after the design's name, made safe. Returns the paths written, sorted.
    Raises OutputError when the set cannot be written (the earlier set is then untouched), ValueError for an unknown format.
    """
    named = replace(package, design=replace(package.design, name=file_stem(package.design.name)))
    wanted = sorted(set(formats)) or default_formats()
    renderers = {name: renderer(name) for name in wanted}
    files = {name: render(named) for name, render in renderers.items()}
    return replace_set(folder, named.design.name, files, whole=set(wanted) >= set(default_formats()))
