"""elevgen: from a wall spec to a drawing that cannot be misread, a sheet to set out from and a bill to price.

spec = elevgen.load("specs/studio.json")
design = elevgen.design(spec)
elevgen.write(design, "dist/studio")
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from elevgen.core.version import VERSION

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from elevgen.result import Design
    from elevgen.spec.models import Spec

__version__ = VERSION


def load(path: str | Path) -> Spec:
    """Read a spec file. Raises SpecError with every fault in it."""
    from elevgen import pipeline

    return pipeline.load(path)


def design(spec: Spec, name: str = "") -> Design:
    """Design every leaf of every wall and check the result. Raises SpecError for what the rules cannot build from."""
    from elevgen import pipeline

    return pipeline.design(spec, name)


def write(
    design: Design,
    folder: str | Path,
    formats: Sequence[str] = (),
    *,
    prices: str | Path | None = None,
    keep_rates: str | Path | None = None,
) -> list[Path]:
    """Write the finished set into a folder, whole or not at all. No formats: all but those written on request (`csv`).

    `prices`: a price book, xlsx or CSV; `keep_rates`: an earlier workbook whose rates, notes and waste are carried across.
    Raises OutputError, and RatesError where one of the two cannot be used.
    """
    from elevgen import pipeline

    return pipeline.write(design, folder, formats, prices=prices, keep_rates=keep_rates)
