"""Lintels are placed here, not designed: a reminder that somebody qualified must choose them."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.checks._finding import BUILDING, found
from elevgen.checks._words import counted
from elevgen.result import Design, Finding

CODE = "lintel-design"
TITLE = "Lintels to be designed"
RATIONALE = (
    "Bearing and length follow from rules; section, strength and what a lintel carries do not, and are an engineer's to choose."
)


def check(design: Design) -> Iterator[Finding]:
    """One note for all lintels whose section nobody has chosen."""
    open_ = [lintel for lintel in design.fittings.lintels if lintel.depth is None]
    if open_:
        spans = {lintel.id: max(span.length for span in lintel.clears) for lintel in open_}
        widest = max(open_, key=lambda lintel: spans[lintel.id])
        text = (
            f"{counted(len(open_), 'lintel')} without a section, the widest over a clear span of "
            f"{design.figures.run(spans[widest.id])} ({widest.id}): loads and sections to be confirmed by a qualified engineer"
        )
        yield found("note", BUILDING, text)
    elif design.fittings.lintels:
        yield found("pass", BUILDING, f"{counted(len(design.fittings.lintels), 'lintel')} with a section chosen")
