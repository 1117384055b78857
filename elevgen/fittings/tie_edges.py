"""The ties of one row: those of the field, and those its reveals, joints and free ends need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from elevgen.core.geometry import TOLERANCE, Span, at_least, at_most
from elevgen.fittings.model import TieKind
from elevgen.fittings.tie_bays import KEPT, Bay, Room, strongest

CLOSEST = 0.75
"""So much of the usual distance between two ties is kept where a pair has no more room."""

Kinds = dict[float, TieKind]
"""The ties of one row: their kind by where they stand."""


def row_ties(bays: Sequence[Bay], columns: Sequence[float], reach: float | None, pairs: bool, keep: Room = KEPT) -> Kinds:
    """The field ties that stand in masonry, and within `reach` of every edge that needs it one tie, or a pair."""
    kinds: Kinds = {}
    two = 2 * keep.apart if pairs else 0.0
    for bay in bays:
        room = bay.span.grown(-keep.clear)
        if room.length < 0:
            continue
        pier = reach is not None and bay.before and bay.after and at_most(bay.span.length, 2 * reach - _back(bay) + two)
        inside = _columns_in(bay, room, columns, keep) if not pier else []
        kinds.update((at, "field") for at in inside)
        if reach is not None:
            at_edges = dict(_edge_ties(bay, inside, reach, keep))
            kinds.update(_doubled(bay, inside, at_edges, reach, keep) if pairs else at_edges)
    return kinds


def _columns_in(bay: Bay, room: Span, columns: Sequence[float], keep: Room) -> list[float]:
    """The columns that stand in a bay; one too near an end that needs no tie of its own stands clear of it."""
    inside = [at for at in columns if room.contains(at)]
    for plain, end in ((bay.before is None, room.start), (bay.after is None, room.end)):
        missed = plain and any(bay.span.contains(at) and abs(at - end) < keep.clear for at in columns if not room.contains(at))
        if missed and all(abs(at - end) >= keep.apart for at in inside):
            inside.append(end)
    return sorted(inside)


def _back(bay: Bay) -> float:
    return bay.back_before + bay.back_after


def _edge_ties(bay: Bay, inside: Sequence[float], reach: float, keep: Room) -> Iterator[tuple[float, TieKind]]:
    """The ties at a bay's edges: a field tie near enough counts as one, else one is added clear of the field ties."""
    span = bay.span
    to_start, to_end = reach - bay.back_before, reach - bay.back_after
    if bay.before and bay.after and not inside:
        if at_most(span.length, to_start + to_end) and at_most(span.length / 2, min(to_start, to_end)):
            yield span.middle, strongest((bay.before, bay.after))
            return
        apart = max((span.length - keep.apart) / 2, keep.clear)
        yield span.start + min(to_start, apart), bay.before
        yield span.end - min(to_end, apart), bay.after
        return
    first = inside[0] if inside and at_most(inside[0] - span.start, to_start) else None
    last = inside[-1] if inside and at_most(span.end - inside[-1], to_end) else None
    if bay.before and bay.after and first is not None and first == last:
        yield first, strongest((bay.before, bay.after))
        return
    if bay.before:
        off = min(to_start, span.length / 2)
        clear = inside[0] - span.start - keep.apart if inside else off
        yield first if first is not None else span.start + max(keep.clear, min(off, clear)), bay.before
    if bay.after:
        off = min(to_end, span.length / 2)
        clear = span.end - inside[-1] - keep.apart if inside else off
        yield last if last is not None else span.end - max(keep.clear, min(off, clear)), bay.after


def _doubled(bay: Bay, inside: Sequence[float], at_edges: Kinds, reach: float, keep: Room) -> Kinds:
    """The edge ties with a second one at each edge, where there is room for two."""
    there = sorted({*inside, *at_edges})
    to_start, to_end = reach - bay.back_before, reach - bay.back_after
    half, off = bay.span.length / 2, keep.apart / 2
    if there == [bay.span.middle] and at_least(half, off + keep.clear) and at_most(half + off, min(to_start, to_end)):
        kind = at_edges[bay.span.middle]
        return {bay.span.middle - off: kind, bay.span.middle + off: kind}
    room = bay.span.grown(-keep.clear)
    doubled = dict(at_edges)
    if bay.before:
        window = Span(room.start, min(room.end, bay.span.start + to_start))
        doubled.update((at, bay.before) for at in _second(window, there, keep.apart))
    if bay.after:
        window = Span(max(room.start, bay.span.end - to_end), room.end)
        doubled.update((at, bay.after) for at in _second(window, there, -keep.apart))
    return doubled


def _second(window: Span, there: Sequence[float], inward: float) -> tuple[float, ...]:
    """Where a second tie can stand beside the only one in a window: further in, else nearer the edge, else at an end of it."""
    near = [at for at in there if window.contains(at)]
    if len(near) != 1:
        return ()

    def free(at: float, apart: float) -> bool:
        return window.contains(at) and all(abs(at - other) >= apart - TOLERANCE for other in there)

    ends = (window.end, window.start) if inward > 0 else (window.start, window.end)
    choices = [(at, abs(inward)) for at in (near[0] + inward, near[0] - inward)] + [(at, CLOSEST * abs(inward)) for at in ends]
    return next(((at,) for at, apart in choices if free(at, apart)), ())
