"""The check of the shortest piece where a bond has closers: in their place they are what it asks for, elsewhere slips."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest

from elevgen.coursing.model import Perpend, Piece
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
HALF = 102.5
WALL: dict[str, Any] = {"id": "A", "type": "own", "start": [0, 0], "end": [4490, 0], "top": 1500}


@pytest.fixture(scope="module")
def english(build: Build) -> Design:
    leaves = {"own": {"bond": "english", "zones": [{"unit": "brick_65"}]}}
    return build([WALL], leaves=leaves, wall_types={"own": {"outer": "own"}})


def begun(design: Design, lengths: Sequence[float]) -> Design:
    """The course of headers begun with other pieces, as long together as those they take the place of."""
    name = next(p.id for p in design.coursing.patterns if any(piece.laid == "closer" for piece in p.pieces))
    pattern = design.coursing.pattern(name)
    pieces, perpends, at = [], [], 0.0
    for length in lengths:
        laid = "header" if length == HALF else "closer" if length < HALF else "stretcher"
        pieces.append(Piece(at, length, "full" if length == HALF else "cut", laid, 1))
        perpends.append(Perpend(at + length, 10.0))
        at += length + 10
    rest = next(k for k, piece in enumerate(pattern.pieces) if abs(piece.at - at) < 0.01)
    laid = {"pieces": (*pieces, *pattern.pieces[rest:]), "perpends": (*perpends, *pattern.perpends[rest:])}
    patterns = tuple(replace(p, **laid) if p.id == name else p for p in design.coursing.patterns)
    return replace(design, coursing=replace(design.coursing, patterns=patterns))


def test_closers_in_their_place_pass(english: Design, found: Found) -> None:
    (finding,) = found(begun(english, [102.5, 46.25, 102.5]), "piece-minimum", everything=True)
    assert (finding.severity, finding.text) == ("pass", "no cut pieces")


def test_a_closer_within_the_course_is_a_slip(english: Design, found: Found) -> None:
    (finding,) = found(begun(english, [102.5, 102.5, 46.25, 102.5]), "piece-minimum")
    assert (finding.severity, finding.measured, finding.limit) == ("warn", 46.25, HALF)


@pytest.mark.parametrize("lengths", [(46.25, 102.5, 102.5), (102.5, 20.5, 128.25), (20.5, 128.25, 102.5)])
def test_a_slip_at_an_end_is_no_closer(english: Design, found: Found, lengths: tuple[float, ...]) -> None:
    """A closer outermost, and pieces shorter than any closer."""
    (finding,) = found(begun(english, lengths), "piece-minimum")
    assert (finding.severity, finding.measured) == ("warn", min(lengths))
