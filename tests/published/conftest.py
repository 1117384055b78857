"""Published values beside the product's; what the rule sets say a document says; and walls read off their drawings."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from itertools import groupby, pairwise
from pathlib import Path
from types import SimpleNamespace
from typing import Any, NamedTuple

import pytest

from elevgen import pipeline
from elevgen.core.sourced import Value
from elevgen.drawing.compose import compose
from elevgen.drawing.scene import BlockUse, Polyline, Role
from elevgen.rules.book import RuleBook
from elevgen.rules.keys import KEYS
from elevgen.rules.loader import load_book
from elevgen.spec.models import Spec

sys.path.insert(0, str(Path(__file__).parent))

from published_rows import PAGE, WRITER, Row, lines_of, shown

UNITS = (Role.UNIT, Role.CUT_UNIT)
CHECK = re.compile(r"\b[A-Z][A-Z0-9]*-\d+")
"""A check value's id, as in a parametrized test's name."""


@pytest.fixture(scope="session")
def uk() -> RuleBook:
    return load_book("uk")


@pytest.fixture(scope="session")
def book() -> Callable[[str], RuleBook]:
    """`book(country)`, each loaded once."""
    return cache(load_book)


@pytest.fixture(scope="session")
def said(uk: RuleBook) -> Callable[[str, str], tuple[Value, str]]:
    """`said(document, key)`: value and status under which the uk set carries that document's figure; `carried` records it too."""

    def look_up(document: str, key: str) -> tuple[Value, str]:
        (of,) = [s for s in (uk.get(key), *uk.alternatives[key]) if s.document.startswith(document)]
        return of.value, of.status

    return look_up


class Published:
    """Compares what a document prints with what the product makes of the same input, and puts both on the page."""

    def __init__(self, request: pytest.FixtureRequest) -> None:
        self._request = request
        self._name = f"{request.node.name} {request.node.originalname}"

    def __call__(
        self,
        check: str,
        given: str,
        printed: Any,
        got: Any,
        *,
        unit: str = "",
        within: float | None = None,
        status: str = "read",
        document: str = "",
        clause: str = "",
        differs: str = "",
    ) -> None:
        """`got` is `printed`, within half a unit of its last digit or so; unless it `differs`, for the reason given."""
        exactly = isinstance(printed, str | bool | None)
        same = bool(got == (printed if exactly else pytest.approx(printed, abs=within)))
        assert same is (not differs), f"{check} {given}: printed {printed}, ours {got}"
        named = document or self._request.module.DOCUMENT
        clause = f"{named}; {clause}".rstrip("; ") if differs else clause
        self._put(Row("worked", named, check, clause, given, shown(printed, unit), shown(got, unit), status, differs))

    def carried(
        self,
        document: str,
        key: str,
        printed: Value,
        status: str,
        *,
        country: str = "uk",
        each: float = 1,
        unit: str | None = None,
    ) -> None:
        """The rule set carries that document's figure, as default or as alternative, under that status.

        `each`: what one of the printed unit is in the key's own; `unit`: what the printed unit is called.
        """
        rules = load_book(country)
        known = (*((rules.get(key),) if rules.has(key) else ()), *rules.alternatives.get(key, ()))
        of = [s for s in known if s.document.startswith(document)]
        assert of, f"{document} is not cited for {key}"
        wanted = pytest.approx(printed * each, rel=1e-9) if isinstance(printed, int | float) else printed
        held = next((s for s in of if (s.value, s.status) == (wanted, status)), of[0])
        assert (held.value, held.status) == (wanted, status)
        unit = unit if unit is not None else "" if held.unit in ("word", "nr", "ratio") else held.unit
        check = CHECK.search(self._request.node.name)
        given = f"{KEYS[key].meaning} ({country})"
        figure = held.number / each if isinstance(printed, int | float) else held.value
        values = shown(printed, unit), shown(figure, unit)
        self._put(Row("carried", held.document, check.group() if check else "", held.clause, given, *values, status))

    def _put(self, row: Row) -> None:
        assert row.status != "memory" or "memory" in self._name, f"{self._name}: what is from memory says so in its test's name"
        self._request.node.user_properties.append(("published", tuple(row)))
        if not self._request.config.pluginmanager.has_plugin(WRITER):
            assert row.line in _page_lines(), f"{PAGE} is out of date: run .ci/published-values\n{row.line}"


@cache
def _page_lines() -> frozenset[str]:
    return lines_of(PAGE.read_text(encoding="utf-8")) if PAGE.is_file() else frozenset()


@pytest.fixture
def published(request: pytest.FixtureRequest) -> Published:
    """`published(check, given, printed, got, ...)`, the document being the file's DOCUMENT; see `Published`."""
    return Published(request)


@pytest.fixture
def carried(published: Published) -> Callable[..., None]:
    """`carried(document, key, printed, status)`: see `Published.carried`."""
    return published.carried


class Laid(NamedTuple):
    """One piece of masonry as it is drawn on an elevation (mm along the wall, mm from datum)."""

    left: float
    right: float
    bottom: float
    top: float
    kind: str

    @property
    def length(self) -> float:
        return self.right - self.left


class Face(NamedTuple):
    """A leaf as drawn: what every outline of a unit on its elevation says, and nothing that was reckoned."""

    pieces: tuple[Laid, ...]

    @property
    def courses(self) -> tuple[tuple[Laid, ...], ...]:
        """The pieces of each course from the left, the lowest course first."""
        rows = groupby(self.pieces, key=lambda p: round(p.bottom, 3))
        return tuple(tuple(sorted(row)) for _, row in rows)

    @property
    def height(self) -> float:
        """From datum to the top of the highest piece."""
        return max(p.top for p in self.pieces)


Draw = Callable[..., Mapping[str, Face]]


def _faces(spec: Mapping[str, Any]) -> Mapping[str, Face]:
    design = pipeline.design(Spec.model_validate(spec), "drawn")
    scene = compose(design)
    outlines = {
        block.name: [(p.points, p.title) for p in block.primitives if isinstance(p, Polyline) and p.role in UNITS]
        for block in scene.blocks
    }
    faces = {}
    for leaf in design.building.leaves:
        uses = [p for p in scene.view(leaf.id).primitives if isinstance(p, BlockUse) and outlines.get(p.block)]
        pieces = [_piece(use.at, points, title) for use in uses for points, title in outlines[use.block]]
        faces[leaf.id] = Face(tuple(sorted(pieces, key=lambda p: (round(p.bottom, 3), p.left))))
    return faces


def _piece(at: tuple[float, float], points: Sequence[tuple[float, float]], title: str) -> Laid:
    xs, ys = zip(*points, strict=True)
    return Laid(at[0] + min(xs), at[0] + max(xs), at[1] + min(ys), at[1] + max(ys), title.split(" ")[0] or "full")


@pytest.fixture(scope="session")
def draw() -> Draw:
    """`draw(walls, units=..., unit="brick", bond=...)` gives the faces of single-leaf walls of one unit as drawn, by leaf.

    `walls` are dicts of the spec's fields; what is left out is that of a straight wall without movement joints.
    """

    def make(
        walls: Sequence[Mapping[str, Any]],
        unit: str = "brick_65",
        units: Mapping[str, Any] | None = None,
        bond: str = "stretcher",
    ) -> Any:
        spec = {
            "spec": 1,
            "units": dict(units or {}),
            "leaves": {"masonry": {"bond": bond, "zones": [{"unit": unit}]}},
            "wall_types": {"single": {"outer": "masonry"}},
            "walls": [{"id": f"W{n}", "type": "single", "base": 0, "joints": []} | dict(wall) for n, wall in enumerate(walls, 1)],
        }
        return _faces(spec)

    return make


def gaps(pieces: Sequence[Laid]) -> list[float]:
    """The perpends between neighbours of a course, what is left open by an opening included (mm)."""
    return [b.left - a.right for a, b in pairwise(pieces)]


def in_units(pieces: Iterable[Laid], length: float, joint: float) -> float:
    """How many units the pieces come to, each with a joint, a half unit as a half; ends of units round a corner left out."""
    return sum((p.length + joint) / (length + joint) for p in pieces if p.kind != "return")


class Read(NamedTuple):
    """Lengths read off a course: n units with the joints between them, with one of the joints beside them, with both."""

    co_minus: float
    co: float
    co_plus: float


def read(courses: Sequence[Sequence[Laid]], units: float, length: float) -> Read:
    """So many units, whole or ending with a half, in the course that begins with what is left over, from its outlines."""
    half = units % 1 == 0.5
    course = next(c for c in courses if (abs(c[0].length - length) > 0.01) == half)
    count = int(units) + half
    taken, beyond = course[:count], course[count]
    before = course[0].left - (beyond.left - taken[-1].right)
    return Read(taken[-1].right - taken[0].left, beyond.left - taken[0].left, beyond.left - before)


@pytest.fixture(scope="session")
def reading() -> Any:
    """The functions by which a drawing is read: `gaps`, `in_units`, `read`."""
    return SimpleNamespace(gaps=gaps, in_units=in_units, read=read)


@pytest.fixture(scope="session")
def ring() -> Callable[..., list[dict[str, Any]]]:
    """`ring(along, across, top)` gives four walls round a rectangle, by their outer faces (mm)."""

    def walls(along: float, across: float, top: float) -> list[dict[str, Any]]:
        corners = ((0, 0), (along, 0), (along, across), (0, across))
        ends = zip(corners, (*corners[1:], corners[0]), strict=True)
        return [{"start": list(a), "end": list(b), "top": top} for a, b in ends]

    return walls


class Block(NamedTuple):
    """The 8 x 8 x 16 in block of the American documents, work size 7 5/8 x 7 5/8 x 15 5/8 in with 3/8 in joints; mm."""

    spec: Mapping[str, Any]
    length: float
    joint: float

    def count(self, faces: Iterable[Face], course: int) -> float:
        """Blocks in one course of all the walls, cut ones by their length, one that turns a corner once."""
        return sum(in_units(face.courses[course], self.length, self.joint) for face in faces)

    def pieces(self, faces: Iterable[Face], course: int) -> list[Laid]:
        return [p for face in faces for p in face.courses[course] if p.kind != "return"]


INCH = 25.4
FOOT = 12 * INCH


@pytest.fixture(scope="session")
def block() -> Block:
    size = {"length": "15 5/8 in", "height": "7 5/8 in", "width": "7 5/8 in", "joint": "3/8 in"}
    return Block({"block": {"material": "dense_concrete"} | size}, 15.625 * INCH, 0.375 * INCH)


@pytest.fixture(scope="session")
def basement(draw: Draw, ring: Callable[..., list[dict[str, Any]]], block: Block) -> Callable[..., list[Face]]:
    """`basement(feet, feet, height in feet, short=inches)`: the outer faces of four bonded walls, each so much shorter."""

    def drawn(along: float, across: float, height: float, short: float = 0.375) -> list[Face]:
        sizes = (side * FOOT - short * INCH for side in (along, across))
        return list(draw(ring(*sizes, height * FOOT), unit="block", units=block.spec).values())

    return drawn


PSF = 47.88026
"""A pound to the square foot, in pascals."""


@pytest.fixture(scope="session")
def over_door() -> Callable[..., Any]:
    """`over_door(clear, height, top, bearing, psf, loads)`: the one lintel load of a single wall of 8 in blocks.

    All in inches but the weight of the wall, pounds to the square foot of face; the door stands in the middle of 60 ft of wall.
    """

    def made(
        clear: float, height: float, top: float, bearing: float = 8, psf: float = 78, loads: Sequence[Mapping[str, Any]] = ()
    ) -> Any:
        density = psf * PSF / (7.625 * INCH / 1000) / 9.81
        weights = ("unit.density.dense_concrete", "lintel.load.mortar.density")
        bearings = ("lintel.bearing.short.simple", "lintel.bearing.long")
        because = {"reason": "as in the example", "by": "its author"}
        door = {"id": "D1", "at": f"{360 - clear / 2} in", "width": f"{clear} in", "sill": 0, "height": f"{height} in"}
        wall = {"id": "W1", "type": "t", "start": [0, 0], "end": [720 * INCH, 0], "base": 0, "top": f"{top} in", "joints": []}
        spec = {
            "spec": 1,
            "overrides": [
                *({"rule": key, "value": density, "unit": "kg/m3"} | because for key in weights),
                *({"rule": key, "value": bearing, "unit": "in"} | because for key in bearings),
            ],
            "units": {
                "block": {"material": "dense_concrete"}
                | {"length": "15 5/8 in", "height": "7 5/8 in", "width": "7 5/8 in", "joint": "3/8 in"}
            },
            "leaves": {"block": {"zones": [{"unit": "block"}]}},
            "wall_types": {"t": {"outer": "block"}},
            "walls": [wall | {"openings": [door], "loads": list(loads)}],
        }
        (load,) = pipeline.design(Spec.model_validate(spec), "drawn").fittings.lintel_loads
        return load

    return made
