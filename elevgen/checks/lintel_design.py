"""Lintels are placed here, not designed: a reminder that somebody qualified must choose them."""

from __future__ import annotations

from collections.abc import Iterator

from elevgen.core.measures import metres
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
        widest = max(open_, key=lambda lintel: lintel.clear.length)
        text = (
            f"{len(open_)} lintels without a section, the widest over {metres(widest.clear.length)} m ({widest.id}): "
            "loads and sections to be confirmed by a qualified engineer"
        )
        yield Finding("", CODE, "note", "building", text)
    elif design.fittings.lintels:
        yield Finding("", CODE, "pass", "building", f"{len(design.fittings.lintels)} lintels with a section chosen")
