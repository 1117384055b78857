"""The scene: what is drawn, before any file format. Every primitive carries its layer role and the id of what it shows.

A view is in model millimetres (x along the wall from its start, y the level); a sheet is in paper millimetres from
its lower left corner. Text heights, symbol sizes and dimension gaps are paper millimetres everywhere; a view's `scale`
turns them into model millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from elevgen.core.geometry import Point, Rect


class Role(StrEnum):
    """What a primitive stands for; a layer table turns it into a layer."""

    OUTLINE = "outline"
    UNIT = "unit"
    CUT_UNIT = "cut_unit"
    TINT = "tint"
    MARK = "mark"
    MOVEMENT_JOINT = "movement_joint"
    BED_REINFORCEMENT = "bed_reinforcement"
    LINTEL = "lintel"
    TIE = "tie"
    DPC = "dpc"
    OPENING = "opening"
    MEETING = "meeting"
    LEVEL = "level"
    DIMENSION = "dimension"
    TEXT = "text"
    FRAME = "frame"
    VIEWPORT = "viewport"


Align = Literal["left", "centre", "right"]
VAlign = Literal["base", "middle", "top"]
Tint = Literal[
    "clay",
    "calcium_silicate",
    "dense_concrete",
    "lightweight_concrete",
    "aircrete",
    "stone",
    "return",
    "cut",
    "opening",
    "strip",
    "panel",
    "head",
    "run_1",
    "run_2",
    "run_3",
    "run_4",
    "run_5",
    "run_6",
]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    role: Role
    a: Point
    b: Point
    source: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Polyline:
    """Connected lines; `title` is what a reader is told when pointing at it."""

    role: Role
    points: tuple[Point, ...]
    closed: bool = False
    source: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Fill:
    """A solid tint over a polygon."""

    role: Role
    points: tuple[Point, ...]
    tint: Tint
    source: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text, `height` of its capitals in paper mm, turned by `rotation` degrees."""

    role: Role
    at: Point
    text: str
    height: float
    align: Align = "left"
    valign: VAlign = "base"
    rotation: float = 0.0
    bold: bool = False
    source: str = ""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Lines of text that belong together, already wrapped: the first one's base line at `at`, the next `pitch` paper mm lower."""

    role: Role
    at: Point
    lines: tuple[str, ...]
    height: float
    pitch: float
    align: Align = "left"
    bold: bool = False
    source: str = ""


@dataclass(frozen=True, slots=True)
class Dimension:
    """A linear dimension between two measured points.

    `axis` says which coordinate is measured; the dimension line lies at `line_at` on the other axis.
    `text` is what it says.
    """

    role: Role
    a: Point
    b: Point
    axis: Literal["x", "y"]
    line_at: float
    text: str
    height: float = 2.5
    source: str = ""


@dataclass(frozen=True, slots=True)
class Symbol:
    """A mark of constant paper size: a tie, a level, a joint flag, a weep hole."""

    role: Role
    name: Literal["tie", "level", "arrow", "flag", "weep"]
    at: Point
    size: float
    rotation: float = 0.0
    source: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class BlockUse:
    """A block laid at a point: a course pattern laid once more."""

    role: Role
    block: str
    at: Point
    source: str = ""
    title: str = ""


Primitive = Line | Polyline | Fill | Text | Paragraph | Dimension | Symbol | BlockUse


@dataclass(frozen=True, slots=True)
class Block:
    """Primitives drawn once and used many times, around their own origin."""

    name: str
    primitives: tuple[Primitive, ...]


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A label there was no room for: the number in its place, what it would have said, where it belongs."""

    number: str
    text: str
    at: float
    level: float
    source: str


@dataclass(frozen=True, slots=True)
class View:
    """One drawing at full size. `extents` bound everything in it; `scale` is the denominator its text is sized for.

    `place` is where its origin stands in the model space of the building's file. `shown` is what sheets show of a view parted
    at its match lines (`cuts`): all but its title and notes. `notes` are what stands under that
    title; `left_out` the labels there was no room for.
    """

    id: str
    title: str
    primitives: tuple[Primitive, ...]
    extents: Rect
    scale: int
    place: Point
    source: str = ""
    shown: Rect | None = None
    cuts: tuple[float, ...] = ()
    notes: tuple[str, ...] = ()
    left_out: tuple[LeftOut, ...] = ()


@dataclass(frozen=True, slots=True)
class Window:
    """A view seen on a sheet: the paper rectangle it fills and the model point at that rectangle's lower left corner."""

    view: str
    paper: Rect
    corner: Point
    scale: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page: its paper size, the views on it and what is drawn on the paper itself.

    `title_room` holds the fields of its title block, and `fields` what they say, for a title block of the user's own.
    """

    id: str
    title: str
    width: float
    height: float
    windows: tuple[Window, ...]
    primitives: tuple[Primitive, ...]
    title_room: Rect | None = None
    fields: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Layer:
    """How a role is drawn: layer name, indexed colour, red-green-blue on paper, line width in mm, line type.

    `screen` is the colour in CAD, seen on white and on black; None where the indexed colour alone is to be used.
    """

    role: Role
    name: str
    index: int
    rgb: tuple[int, int, int]
    width: float
    line_type: Literal["CONTINUOUS", "DASHED", "CENTER"]
    plot: bool = True
    screen: tuple[int, int, int] | None = None


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything drawn for a building: views, the sheets that show them, blocks, and the layer table by role."""

    title: str
    date: str
    views: tuple[View, ...]
    sheets: tuple[Sheet, ...]
    blocks: tuple[Block, ...]
    layers: tuple[Layer, ...]
    cautions: tuple[str, ...]

    def layer(self, role: Role) -> Layer:
        return next(layer for layer in self.layers if layer.role is role)

    def view(self, view_id: str) -> View:
        return next(v for v in self.views if v.id == view_id)

    def block(self, name: str) -> Block:
        return next(b for b in self.blocks if b.name == name)
