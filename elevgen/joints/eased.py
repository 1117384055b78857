"""Faces asked no more than they can give, for proofs that a number of joints is too small."""

from __future__ import annotations

from collections.abc import Sequence

from elevgen.building.model import Profile
from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.problem import Face


def within_reach(face: Face, free: Sequence[Span]) -> Face:
    """The face with its corner reach such that its nearest free places keep it. No answer need miss it any more."""
    if face.corner_reach is None:
        return face
    if not free:
        return face._replace(corner_reach=max(face.corner_reach, face.span.length))
    start, end = min(s.start for s in free), max(s.end for s in free)
    nearest = [start - face.span.start] * (face.start == "corner") + [face.span.end - end] * (face.finish == "corner")
    return face._replace(corner_reach=max([face.corner_reach, *nearest]) + TOLERANCE)


def levelled(face: Face) -> Face:
    """The face allowed panels as long as its greatest height would."""
    if face.panel is None:
        return face
    most = face.panel.highest(face.span)
    return face._replace(panel=Profile(((face.span.start, most), (face.span.end, most))))


def slopes(face: Face, below: float) -> bool:
    """True where the face's panel limit is not the same everywhere and may come below that length."""
    panels = face.panels()
    return panels.start < below and panels.end - panels.start > TOLERANCE
