"""Which rules ties of each kind stand by."""

from __future__ import annotations

from collections.abc import Collection
from itertools import pairwise

from elevgen.building.model import Wall
from elevgen.core.geometry import TOLERANCE
from elevgen.fittings.model import TieKind
from elevgen.fittings.tie_bays import Cavity
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered

_FIELD = ("tie.spacing.horizontal", "tie.spacing.vertical", "tie.density")
_EDGE = ("tie.edge.distance", "tie.edge.vertical")
_VERGE = ("tie.verge.horizontal", "tie.verge.vertical")
_TOP = ("tie.top.vertical",)
_FREE_TOP = ("tie.free_top.distance", "tie.free_top.horizontal")
_ROOM = ("tie.edge.clear", "tie.apart")
_OTHER = ("tie.beds.tolerance", "tie.length", "tie.embedment")


def basis(wall: Wall, reader: RuleReader) -> tuple[str, ...]:
    """The rule keys behind the ties across the cavity of a wall."""
    return covered(reader, *_FIELD, *_EDGE, *_VERGE, *_tops(wall), *_ROOM, *_OTHER)


def reasons(
    wall: Wall, cavity: Cavity, kinds: Collection[TieKind], reader: RuleReader
) -> tuple[tuple[TieKind, tuple[str, ...]], ...]:
    """The rule keys behind each kind of tie there is; all of them lie in beds by `tie.beds.tolerance`."""
    pieces = pairwise(cavity.outer.top.clipped(cavity.span))
    slopes = any(b - a > TOLERANCE and abs(high - low) > TOLERANCE for (a, low), (b, high) in pieces)
    by_kind: dict[TieKind, tuple[str, ...]] = {
        "field": _FIELD,
        "reveal": _EDGE,
        "joint": _EDGE,
        "end": _EDGE,
        "verge": (*(_VERGE if slopes else ()), *_tops(wall)),
    }
    return tuple((kind, covered(reader, *keys)) for kind, keys in by_kind.items() if kind in kinds)


def _tops(wall: Wall) -> tuple[str, ...]:
    return _TOP if wall.stands == "building" else _FREE_TOP
