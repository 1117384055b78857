"""Ties of a partition's end to the wall it meets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from elevgen.building.model import Building, Leaf, Meeting
from elevgen.core.geometry import Rect, Span
from elevgen.fittings.beds import Bed
from elevgen.fittings.model import Tie
from elevgen.fittings.tie_bays import in_body
from elevgen.fittings.tie_rows import spread, tie_rows
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import covered, figure

_KEYS = ("tie.partition.vertical", "tie.beds.tolerance")


def takes_ties(building: Building, meeting: Meeting) -> bool:
    """True for an end tied to the wall it meets, and for a single-leaf wall bonded into another's side."""
    if meeting.kind == "cross":
        return False
    if meeting.connection == "tied":
        return True
    single = len(building.wall(building.leaf(meeting.stem).wall).leaves) == 1
    return meeting.kind == "tee" and meeting.connection == "bonded" and single


def partition_ties(
    meeting: Meeting,
    stem: Leaf,
    host: Leaf,
    stem_beds: Sequence[Bed],
    host_beds: Sequence[Bed],
    reader: RuleReader,
    bodies: Mapping[str, tuple[Rect, ...]] | None = None,
) -> tuple[Tie, ...]:
    """The ties of a stem's end into its host, up to the lower of the two tops (NHBC 6.1.11); none where no spacing is covered.

    `bodies`: the lintels in the place of units, by leaf; no tie lies in one of either leaf.
    """
    spacing = figure(reader, "tie.partition.vertical")
    if spacing is None:
        return ()
    at = min((stem.span.start, stem.span.end), key=lambda end: abs(end - meeting.stem_at))
    there = Span(at - 1, at) if at == stem.span.end else Span(at, at + 1)
    levels = Span(
        max(stem.base.lowest(there), host.base.level_right_of(meeting.host_at)),
        min(stem.top.highest(there), host.top.level_right_of(meeting.host_at)),
    )
    rows = tie_rows(stem_beds, host_beds, figure(reader, "tie.beds.tolerance") or 0.0)
    beside = [body for body in (bodies or {}).get(stem.id, ()) if body.along.contains(at)]
    beside += [body for body in (bodies or {}).get(host.id, ()) if body.along.contains(meeting.host_at)]
    rows = tuple(row for row in rows if not any(in_body(body, row.level) for body in beside))
    return tuple(Tie(at, row.level, "partition", stem.id) for row in spread(rows, levels, spacing))


def partition_basis(reader: RuleReader) -> tuple[str, ...]:
    """The rule keys behind partition ties."""
    return covered(reader, *_KEYS)
