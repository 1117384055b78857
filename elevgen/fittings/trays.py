"""Cavity trays over the lintels of outer leaves, and those the spec lists."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from elevgen.building.given import GivenTray
from elevgen.core.geometry import TOLERANCE, Span, subtract
from elevgen.coursing.faces import higher
from elevgen.fittings.model import Lintel, Tray
from elevgen.fittings.tray_walls import LEAST, Place, TrayWall, made
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure

PAST = "tray.past_lintel"


class _Over(NamedTuple):
    """A stretch of tray over some lintels: its level, where, over which openings, after which lintel it is named."""

    level: float
    along: Span
    openings: tuple[str, ...]


def opening_trays(where: TrayWall, lintels: Sequence[Lintel], reader: RuleReader) -> tuple[Tray, ...]:
    """A tray over every lintel of the outer leaf, a stop end at each end, weeps in the perpends between (LABC Warranty).

    It runs past the lintel as far as the leaf lets it, and stops at movement joints. Neighbours that meet are one tray.
    """
    past = figure(reader, PAST) or 0.0
    bare = [lintel for lintel in lintels if not _served(where, lintel)]
    least = int(figure(reader, LEAST) or 2)
    seen: dict[str, int] = {}
    trays = []
    for piece in _joined([piece for lintel in bare for piece in _pieces(where, lintel, past)]):
        name = f"{where.outer.id}/T-{piece.openings[0]}"
        seen[name] = seen.get(name, 0) + 1
        name += f"-{seen[name]}" if seen[name] > 1 else ""
        place = Place(piece.level, piece.along, 2, "opening", piece.openings)
        trays.append(made(where, place, name, least * len(piece.openings), (PAST,), reader))
    return tuple(sorted(trays, key=lambda tray: (tray.span.start, tray.level)))


def given_trays(where: TrayWall, lintels: Sequence[Lintel], reader: RuleReader) -> tuple[Tray, ...]:
    """The trays the spec lists, as they are; over those openings whose lintels they cover."""
    least = int(figure(reader, LEAST) or 2)
    trays = []
    for number, given in enumerate(where.wall.trays.parts, 1):
        over = tuple(
            dict.fromkeys(
                opening for lintel in lintels if _covers(given, seat(lintel), lintel.clear, where) for opening in lintel.openings
            )
        )
        place = Place(given.level, given.span, given.stop_ends, "opening" if over else "abutment", over)
        trays.append(made(where, place, f"{where.outer.id}/T-{number}", max(least * len(over), 1), (), reader, given=True))
    return tuple(trays)


def seat(lintel: Lintel) -> float:
    """The level a tray over a lintel lies at: on one that takes the place of units; else under the units that lie on it."""
    return lintel.level if lintel.body is None else lintel.body.top


def _pieces(where: TrayWall, lintel: Lintel, past: float) -> Iterator[_Over]:
    """The lintel's span run past its ends, stopped by the ends of the leaf and by movement joints.

    One listed too short for what it lies over does not leave the rest of it without a tray; where the wall goes no higher than
    the lintel there is nothing to keep dry under.
    """
    level = seat(lintel)
    whole = Span(min(lintel.span.start, lintel.clear.start), max(lintel.span.end, lintel.clear.end))
    within = whole.grown(past).common(where.outer.span)
    for built in higher(where.outer.top, within, level) if within else ():
        for along in subtract(built, where.gaps(level)):
            if along.overlaps(whole):
                yield _Over(level, along, lintel.openings)


def _joined(pieces: Sequence[_Over]) -> list[_Over]:
    """Pieces, from the lowest and then the left, those of one level that meet or overlap made one."""
    joined: list[_Over] = []
    for piece in sorted(pieces, key=lambda piece: (round(piece.level, 3), piece.along)):
        last = joined[-1] if joined else None
        if last and abs(piece.level - last.level) <= TOLERANCE and piece.along.start <= last.along.end + TOLERANCE:
            along = Span(last.along.start, max(last.along.end, piece.along.end))
            joined[-1] = last._replace(along=along, openings=tuple(dict.fromkeys((*last.openings, *piece.openings))))
        else:
            joined.append(piece)
    return joined


def _served(where: TrayWall, lintel: Lintel) -> bool:
    """True when a listed tray lies over all the opening under a lintel."""
    return any(_covers(tray, seat(lintel), lintel.clear, where) for tray in where.wall.trays.parts)


def _covers(tray: GivenTray, level: float, along: Span, where: TrayWall) -> bool:
    """True when a listed tray lies over all of a stretch, on it or no more than a course up."""
    course = max((zone.unit.gauge for zone in where.outer.zones), default=0.0)
    near = level - TOLERANCE <= tray.level <= level + course + TOLERANCE
    return near and tray.span.contains(along.start) and tray.span.contains(along.end)
