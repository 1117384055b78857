"""Which leaves touch where walls meet, and how they are connected."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

from elevgen.building.contacts import Contact, Corner, Cross, Tee
from elevgen.building.model import Parting
from elevgen.building.walls import End, LeafLine, WallLine
from elevgen.core.errors import Fault
from elevgen.core.geometry import cross
from elevgen.spec.fields import Connection
from elevgen.spec.models import JunctionModel


class Party(NamedTuple):
    """A leaf of a wall that meets another: at one of its ends, or (None) at its side."""

    wall: WallLine
    leaf: LeafLine
    end: End | None


class Join(NamedTuple):
    """Two leaves that touch. A `cross` stem is interrupted by its host. `straight`: a corner of 180 degrees.

    `stated`: the spec says how they are connected. `parted`: the rules by which they are not, though it does not say so.
    """

    kind: Literal["corner", "tee", "cross"]
    host: Party
    stem: Party
    straight: bool = False
    connection: Connection = "bonded"
    stated: bool = False
    parted: tuple[Parting, ...] = ()


class Stop(NamedTuple):
    """A leaf end that touches nothing, though its wall is joined there: it ends level with the far side of `beside`."""

    party: Party
    beside: Party
    straight: bool


def find_joins(contacts: Sequence[Contact]) -> tuple[tuple[Join, ...], tuple[Stop, ...]]:
    """The leaf meetings of every wall meeting, and the leaves left without a partner."""
    joins: list[Join] = []
    stops: list[Stop] = []
    for contact in contacts:
        if isinstance(contact, Corner):
            more, lone = _at_corner(contact)
            joins += more
            stops += lone
        elif isinstance(contact, Tee):
            joins += _at_side(contact)
        else:
            joins += _through(contact)
    return tuple(joins), tuple(stops)


def connect(joins: Sequence[Join], junctions: Sequence[JunctionModel]) -> tuple[tuple[Join, ...], tuple[Fault, ...]]:
    """The joins with the connections the spec asks for, later junctions over earlier ones; faults for those that meet nothing."""
    faults = []
    connected = list(joins)
    for index, junction in enumerate(junctions):
        meant = [i for i, join in enumerate(connected) if _is_meant(join, junction)]
        for i in meant:
            connected[i] = connected[i]._replace(connection=junction.connection, stated=True)
        if not meant:
            leaf = f" with their {junction.leaf} leaves" if junction.leaf else ""
            said = " and ".join(junction.walls)
            faults.append(Fault(("junctions", index, "walls"), f"these walls do not meet in plan{leaf}", given=said))
    return tuple(connected), tuple(faults)


def is_convex(party: Party, other: Party) -> bool:
    """True when, at the corner, the other wall turns away to the left: the right-hand face shows its outer angle."""
    assert other.end is not None
    return cross(party.wall.d, other.wall.outgoing(other.end)) > 0


def _is_meant(join: Join, junction: JunctionModel) -> bool:
    if {join.host.wall.id, join.stem.wall.id} != set(junction.walls):
        return False
    sides = [party.leaf.side for party in (join.host, join.stem) if len(party.wall.leaves) > 1]
    return junction.leaf is None or not sides or junction.leaf in sides


def _at_corner(corner: Corner) -> tuple[list[Join], list[Stop]]:
    """Leaves paired from the outside of the angle inwards; a single leaf pairs with the outer leaf of two."""
    a = [Party(corner.a, leaf, corner.a_end) for leaf in corner.a.leaves]
    b = [Party(corner.b, leaf, corner.b_end) for leaf in corner.b.leaves]
    if len(a) == len(b):
        same_hand = corner.a_end != corner.b_end
        pairs = zip(a, b if same_hand else b[::-1], strict=True)
        return [Join("corner", p, q, corner.straight) for p, q in pairs], []
    join = Join("corner", a[0], b[0], corner.straight)
    lone, single = (a[1], b[0]) if len(a) > len(b) else (b[1], a[0])
    if corner.straight or not is_convex(lone, single):
        return [join], [Stop(lone, single, corner.straight)]
    return [join, Join("tee", Party(single.wall, single.leaf, None), lone)], []


def _at_side(tee: Tee) -> Iterator[Join]:
    leaf = tee.host.leaves[-1 if tee.on_left else 0]
    for stem in tee.stem.leaves:
        yield Join("tee", Party(tee.host, leaf, None), Party(tee.stem, stem, tee.end))


def _through(crossed: Cross) -> Iterator[Join]:
    for stem in crossed.stem.leaves:
        for leaf in crossed.host.leaves:
            yield Join("cross", Party(crossed.host, leaf, None), Party(crossed.stem, stem, None))
