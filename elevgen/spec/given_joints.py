"""Movement joints given in a spec: each inside its wall, and none in another's place. Works on raw JSON; millimetres."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any, NamedTuple, get_args

from elevgen.core.errors import JsonPath
from elevgen.core.geometry import at_most
from elevgen.spec import metres, peek
from elevgen.spec.faults import FaultList, mm
from elevgen.spec.fields import MOST_OPENINGS, WIDEST_JOINT, LeafSide

LEAST_WIDTH = 10.0
"""Taken for a joint whose width is left to be calculated: no material's nominal width is less."""


class _Joint(NamedTuple):
    """A given joint whose place can be read; `n` is its place in the list, `leaf` None means every leaf."""

    at: float
    n: int
    width: float
    leaf: str | None


def check_given_joints(path: JsonPath, wall: dict[str, Any], length: float, faults: FaultList) -> None:
    """Note every joint that is not in its wall with all of its width, and every one in another joint of its leaf.

    The word `place` may stand among them once.
    """
    check_place_once((*path, "joints"), wall.get("joints"), faults)
    in_metres = dict(_in_metres(wall, length))
    for n, given in in_metres.items():
        words = f"stands {mm(given)} from the start of its wall{metres.hint(given)}"
        faults.add((*path, "joints", n, "at"), words, metres.insist(given))
    joints = sorted(joint for joint in _joints(wall) if joint.n not in in_metres)
    for joint in joints:
        _check_inside((*path, "joints", joint.n, "at"), joint, length, faults)
    clashes: dict[tuple[int, int], tuple[str, _Joint, _Joint]] = {}
    for side in get_args(LeafSide):
        for a, b in pairwise(joint for joint in joints if joint.leaf in (None, side)):
            if at_most(b.at - a.at, _apart(a, b)):
                first, second = (a, b) if a.n < b.n else (b, a)
                clashes.setdefault((second.n, first.n), (side, first, second))
    for (n, _), (side, first, second) in sorted(clashes.items()):
        allowed = f"more than {mm(_apart(first, second))} from the middle of one to the middle of the next"
        faults.add((*path, "joints", n, "at"), _clash(side, first, second), allowed)


def check_place_once(path: JsonPath, listed: Any, faults: FaultList) -> None:
    """Note the word `place` wherever it stands again in a list that may hold it once; the path is that of the list."""
    words = [n for n, item in enumerate(listed if isinstance(listed, list) else ()) if item == "place"]
    for n in words[1:]:
        faults.add((*path, n), f"the word is there already, in {path[-1]}[{words[0]}]", '"place" once in the list')


def _in_metres(wall: dict[str, Any], length: float) -> Iterator[tuple[int, float]]:
    """Places that make more sense in metres, in the wall as they then are."""
    for n, joint in peek.objects(wall, "joints"):
        if metres.likely(at := joint.get("at"), metres.HIGHEST) and 0 < at * 1000 < length:
            yield n, at


def _joints(wall: dict[str, Any]) -> Iterator[_Joint]:
    for n, joint in peek.objects(wall, "joints"):
        at, width = peek.length(joint, "at"), peek.length(joint, "width")
        if at is not None and n < MOST_OPENINGS:
            if width is None or not 0 < width <= WIDEST_JOINT:
                width = LEAST_WIDTH
            yield _Joint(at, n, width, peek.text(joint, "leaf"))


def _check_inside(path: JsonPath, joint: _Joint, length: float, faults: FaultList) -> None:
    """Its gap may lie right at the end, where the wall meets another; a wall that simply ends there is found wanting later."""
    least, most = joint.width / 2, length - joint.width / 2
    if not (at_most(least, joint.at) and at_most(joint.at, most)):
        at_end = at_most(0.0, joint.at) and at_most(joint.at, length)
        words = "a joint at the end of its wall parts nothing" if at_end else "lies outside its wall"
        faults.add(path, words, f"at least {mm(least)} and at most {mm(most)}")


def _apart(a: _Joint, b: _Joint) -> float:
    """How far apart the middles of two joints are that touch."""
    return (a.width + b.width) / 2


def _clash(side: str, first: _Joint, second: _Joint) -> str:
    if at_most(abs(second.at - first.at), 0.0):
        return f"joints[{first.n}] and joints[{second.n}] stand in one place of the {side} leaf, at {mm(first.at)}"
    return (
        f"joints[{first.n}] at {mm(first.at)} and joints[{second.n}] at {mm(second.at)} are nearer together in the {side} leaf "
        f"than their widths, {mm(first.width)} and {mm(second.width)}"
    )
