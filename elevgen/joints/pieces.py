"""The pieces a choice of cut and whole limbs leaves, and how far from them their bordering joints may stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from elevgen.core.geometry import TOLERANCE, Span
from elevgen.joints.graph import End
from elevgen.joints.limbs import Arm, Choice
from elevgen.joints.line import Floats, Ints, excess
from elevgen.joints.paths import Web, components, reaches
from elevgen.joints.problem import Face, FaceEnd

Bools = NDArray[np.bool_]


@dataclass(slots=True)
class Piece:
    """A connected piece: the limb ends that lead out of it to joints, and the limits on those joints.

    `last` gives for each end how many of its joints are near enough at all; `pairs[a, b][i]` how many of b's are near
    enough while a's joint may be as far as its i-th.
    """

    ends: list[End]
    last: dict[End, int]
    pairs: dict[tuple[End, End], Ints]


@dataclass(slots=True)
class Layout:
    """All pieces of a choice, what the corner rule adds at their joints, and what it costs come what may."""

    pieces: list[Piece]
    extra: dict[End, Ints]
    fixed: int


class _Outlook(NamedTuple):
    """What is seen along a face from a node: a joint at the end of a limb, or the face's own end; any place for one before."""

    end: End | None
    kind: FaceEnd
    at: float
    candidates: bool


def lay_out(arms: Sequence[Arm], choice: Sequence[Choice], spacing: float) -> Layout | None:
    """The pieces of a choice; None when one of them breaks a rule that a joint could have kept."""
    nodes = {n for arm in arms for n in arm.limb.nodes}
    root = components((arm.limb.nodes for arm, c in zip(arms, choice, strict=True) if c is None), nodes)
    webs: dict[str, Web] = {}
    ends: dict[str, list[End]] = {}
    for n, (arm, chosen) in enumerate(zip(arms, choice, strict=True)):
        if chosen is None:
            web = webs.setdefault(root[arm.limb.nodes[0]], Web())
            web.links.append((*arm.limb.nodes, arm.limb.line.length))
            continue
        for side in (0, 1):
            if not arm.limb.dead[side]:
                node = arm.limb.nodes[side]
                webs.setdefault(root[node], Web()).stubs.append(((n, side), node, 0.0))
                ends.setdefault(root[node], []).append((n, side))
    far = {end: _distances(arms, choice, end) for found in ends.values() for end in found}
    pieces = {}
    for name in sorted(webs):
        piece = _piece(webs[name], ends.get(name, []), far, spacing)
        if piece is None:
            return None
        pieces[name] = piece
    layout = Layout(list(pieces.values()), {}, 0)
    owner = {end: piece for piece in layout.pieces for end in piece.ends}
    return layout if _faces_through_nodes(arms, choice, owner, layout) and _all_reachable(layout) else None


def _distances(arms: Sequence[Arm], choice: Sequence[Choice], end: End) -> Floats:
    n, side = end
    chosen = choice[n]
    assert chosen is not None
    return arms[n].distances(side, arms[n].reach(side, chosen[side]))


def _piece(web: Web, ends: list[End], far: Mapping[End, Floats], spacing: float) -> Piece | None:
    found = reaches(web)
    if found.inside > spacing + TOLERANCE:
        return None
    limit = spacing + TOLERANCE
    last = {e: int(np.searchsorted(far[e], limit - found.inward[e], "right")) for e in ends}
    pairs: dict[tuple[End, End], Ints] = {}
    for a in ends:
        for b in ends:
            if (a, b) in found.between:
                pairs[a, b] = np.searchsorted(far[b], limit - found.between[a, b] - far[a], "right")
    return Piece(ends, last, pairs)


def _all_reachable(layout: Layout) -> bool:
    return all(piece.last[e] > 0 for piece in layout.pieces for e in piece.ends)


def _faces_through_nodes(arms: Sequence[Arm], choice: Sequence[Choice], owner: Mapping[End, Piece], layout: Layout) -> bool:
    """Adds the panel rule and the corner rule for stretches that run straight through branch nodes."""
    partner: dict[tuple[str, str], list[End]] = {}
    for n, arm in enumerate(arms):
        for side in (0, 1):
            if arm.runs_on(side):
                partner.setdefault((arm.limb.nodes[side], arm.segment(side).face.id), []).append((n, side))
    across = {a: b for pair in partner.values() if len(pair) == 2 for a, b in (pair, pair[::-1])}
    seen: set[frozenset[object]] = set()
    for (_, face_id), pair in sorted(partner.items()):
        if len(pair) != 2:
            continue
        one, two = (_outlook(arms, choice, end, across) for end in pair)
        through = frozenset((one.end or (face_id, one.at), two.end or (face_id, two.at)))
        if through in seen:
            continue
        seen.add(through)
        if not _stretch(arms, choice, one, two, arms[pair[0][0]], pair[0], owner, layout):
            return False
    return True


def _outlook(arms: Sequence[Arm], choice: Sequence[Choice], end: End, across: Mapping[End, End]) -> _Outlook:
    candidates = False
    while True:
        n, side = end
        arm, chosen = arms[n], choice[n]
        segment = arm.segment(side)
        if chosen is not None and chosen[side] == "on":
            return _Outlook(end, "joint", 0.0, candidates)
        number = 0 if side == 0 else len(arm.limb.line.segments) - 1
        candidates = candidates or bool((arm.limb.line.segment == number).any())
        onward: End = (n, 1 - side)  # type: ignore[assignment]
        if chosen is None and len(arm.limb.line.segments) == 1 and onward in across:
            end = across[onward]
            continue
        towards_finish = segment.forward == (side == 0)
        face = segment.face
        kind, at = (face.finish, face.span.end) if towards_finish else (face.start, face.span.start)
        return _Outlook(None, kind, at, candidates)


def _positions(arms: Sequence[Arm], choice: Sequence[Choice], end: End) -> Floats:
    """The places of an end's joints, in its face's own positions."""
    n, side = end
    segment, line = arms[n].segment(side), arms[n].limb.line
    d = _distances(arms, choice, end)
    x = d if side == 0 else line.length - d
    return segment.anchor + (x - segment.left if segment.forward else segment.left - x)


def _stretch(
    arms: Sequence[Arm],
    choice: Sequence[Choice],
    one: _Outlook,
    two: _Outlook,
    arm: Arm,
    at: End,
    owner: Mapping[End, Piece],
    layout: Layout,
) -> bool:
    face = arm.segment(at[1]).face
    exempt = not (one.candidates or two.candidates)
    if one.end is not None and two.end is not None:
        if face.panel is not None:
            p, q = _positions(arms, choice, one.end), _positions(arms, choice, two.end)
            ok = _short_enough(face, p, q)
            ok[0, 0] |= exempt
            _limit(owner[one.end], one.end, two.end, ok)
        return True
    if one.end is None and two.end is None:
        whole = _span(one.at, two.at)
        if {one.kind, two.kind} == {"corner", "joint"} and face.corner_reach is not None:
            layout.fixed += excess(whole.length - face.corner_reach)
        return exempt or face.short_enough(whole)
    end, wall = (one.end, two) if one.end is not None else (two.end, one)
    assert end is not None
    p = _positions(arms, choice, end)
    if face.panel is not None:
        fine = _short_enough(face, p, np.array([wall.at]))[:, 0]
        fine[0] |= exempt
        owner[end].last[end] = min(owner[end].last[end], int(fine.cumprod().sum()))
    if wall.kind == "corner" and face.corner_reach is not None:
        missed = np.array([excess(abs(float(u) - wall.at) - face.corner_reach) for u in p], dtype=np.int64)
        if missed.any():
            layout.extra[end] = layout.extra.get(end, np.zeros(len(p), dtype=np.int64)) + missed
    return True


def _short_enough(face: Face, p: Floats, q: Floats) -> Bools:
    """Whether the stretch from each place to each other one keeps the panel rule; asked of the face only where it is in doubt."""
    lengths, panels = np.abs(p[:, None] - q), face.panels()
    ok = lengths <= panels.start + TOLERANCE
    for i, j in np.argwhere(~ok & (lengths <= panels.end + TOLERANCE)):
        ok[i, j] = face.short_enough(_span(p[i], q[j]))
    return ok


def _limit(piece: Piece, a: End, b: End, ok: Bools) -> None:
    for one, two, table in ((a, b, ok), (b, a, ok.T)):
        allowed = table.cumprod(axis=1).sum(axis=1)
        piece.pairs[one, two] = np.minimum(piece.pairs[one, two], allowed)


def _span(u: float, v: float) -> Span:
    return Span(min(float(u), float(v)), max(float(u), float(v)))
