"""Find the modules of a package: one file, one thing, nothing to register."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType


def module_names(package: ModuleType) -> tuple[str, ...]:
    """The short names of a package's modules, sorted, private ones (`_x`) left out."""
    return tuple(sorted(m.name for m in iter_modules(package.__path__) if not m.name.startswith("_")))


def load_module(package: ModuleType, name: str) -> ModuleType:
    """Import one module of a package. Whatever stops it from importing is raised, not swallowed."""
    return import_module(f"{package.__name__}.{name}")
