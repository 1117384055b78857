"""The spec, version 1, as pydantic models: frozen, unknown keys forbidden, lengths in millimetres.

Field names are fixed by the design; see `elevgen schema` for the JSON Schema made from these classes.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Discriminator, Field, Tag, WithJsonSchema

from elevgen.core.measures import ALLOWED, parse_length

Material = Literal["clay", "calcium_silicate", "dense_concrete", "lightweight_concrete", "aircrete", "stone"]
Connection = Literal["bonded", "tied", "jointed", "free"]
LeafSide = Literal["outer", "inner"]
FeatureKind = Literal["downpipe", "column", "recess", "pier"]

IDENTIFIER_PATTERN = r"^[A-Za-z][A-Za-z0-9_.-]*$"
LINE_PATTERN = r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$"
DATE_PATTERN = r"^([0-9]{4}-[0-9]{2}-[0-9]{2})?$"
PATTERN_WORDS = {
    IDENTIFIER_PATTERN: "letters, digits and _ . -, beginning with a letter",
    LINE_PATTERN: "one line of text without control characters",
    DATE_PATTERN: "a date as YYYY-MM-DD, or nothing",
}
"""What each pattern asks for, in words."""

SHORTEST_WALL = 25.0
"""A wall is longer than this (mm): ends drawn no further apart are meant to meet, so a shorter wall would meet itself."""
LEAST_OPENING = 10
"""Least width and height of an opening (mm)."""
WIDEST_JOINT = 200
"""Widest movement joint (mm)."""
MOST_POINTS = 500
MOST_WALLS = 2_000
MOST_OPENINGS = 2_000
FARTHEST = 10_000_000_000
"""Farthest a place may lie from the origin (mm): any map grid, and floats still hold it to a thousandth of the tolerance."""
HIGHEST = 10_000_000

# Tags name the branch of a union in pydantic's error paths; the brackets keep them from being a user's key.
_ONE, _SEVERAL, _WORD = "(one)", "(several)", "(word)"


def _length(given: Any) -> Any:
    if isinstance(given, bool):
        raise ValueError("a length cannot be true or false")
    return parse_length(given) if isinstance(given, str) else given


def _day(given: str) -> str:
    if given:
        try:
            date.fromisoformat(given)
        except ValueError:
            raise ValueError("is not a day in the calendar") from None
    return given


def _several(given: Any) -> str:
    return _SEVERAL if isinstance(given, list | tuple) else _ONE


def _word(given: Any) -> str:
    return _WORD if isinstance(given, str) else _ONE


def _schema(**limits: float) -> WithJsonSchema:
    return WithJsonSchema({"anyOf": [{"type": "number", **limits}, {"type": "string", "description": ALLOWED}]})


Length = Annotated[
    float,
    BeforeValidator(_length),
    Field(ge=-FARTHEST, le=FARTHEST, allow_inf_nan=False),
    _schema(minimum=-FARTHEST, maximum=FARTHEST),
]
UnitSize = Annotated[
    float, BeforeValidator(_length), Field(ge=10, le=2000, allow_inf_nan=False), _schema(minimum=10, maximum=2000)
]
OpeningSize = Annotated[
    float,
    BeforeValidator(_length),
    Field(ge=LEAST_OPENING, le=FARTHEST, allow_inf_nan=False),
    _schema(minimum=LEAST_OPENING, maximum=FARTHEST),
]
CavityWidth = Annotated[
    float, BeforeValidator(_length), Field(ge=1, le=1000, allow_inf_nan=False), _schema(minimum=1, maximum=1000)
]
JointWidth = Annotated[
    float,
    BeforeValidator(_length),
    Field(ge=1, le=WIDEST_JOINT, allow_inf_nan=False),
    _schema(minimum=1, maximum=WIDEST_JOINT),
]
MortarJoint = Annotated[float, BeforeValidator(_length), Field(ge=1, le=50, allow_inf_nan=False), _schema(minimum=1, maximum=50)]
Height = Annotated[
    float,
    BeforeValidator(_length),
    Field(ge=-HIGHEST, le=HIGHEST, allow_inf_nan=False),
    _schema(minimum=-HIGHEST, maximum=HIGHEST),
]
Line = Annotated[str, Field(max_length=200, pattern=LINE_PATTERN)]
SomeLine = Annotated[str, Field(min_length=1, max_length=200, pattern=LINE_PATTERN)]
Name = Annotated[str, Field(min_length=1, max_length=60, pattern=LINE_PATTERN)]
Identifier = Annotated[str, Field(min_length=1, max_length=40, pattern=IDENTIFIER_PATTERN)]
Level = tuple[Length, Height]
Levels = Annotated[
    Annotated[Height, Tag(_ONE)] | Annotated[tuple[Level, ...], Field(min_length=2, max_length=MOST_POINTS), Tag(_SEVERAL)],
    Discriminator(_several),
]
Percent = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False, strict=True)]


class Strict(BaseModel):
    """Frozen, and no key that is not known."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class Project(Strict):
    """What the title block says."""

    title: Line = Field(default="Untitled", description="Title of the project.")
    number: Line = Field(default="", description="Project or drawing number.")
    revision: Line = Field(default="", description="Revision of the drawings.")
    date: Annotated[str, Field(pattern=DATE_PATTERN), AfterValidator(_day)] = Field(
        default="", description="Date shown on the drawings, YYYY-MM-DD. No other clock is read."
    )
    drawn_by: Line = Field(default="", description="Who drew it.")
    client: Line = Field(default="", description="Whom it is for.")
    datum: Line = Field(default="top of damp-proof course", description="What level 0 is.")


class Override(Strict):
    """A rule value the user replaces, with the reason and who says so."""

    rule: str = Field(description="Key of the rule, as `elevgen rules` lists it.")
    value: Annotated[
        Annotated[float, Field(strict=True, allow_inf_nan=False), Tag(_ONE)] | Annotated[SomeLine, Tag(_WORD)],
        Discriminator(_word),
    ] = Field(description="The value used instead.")
    unit: Line = Field(default="", description="Unit of the value; empty: the unit of the rule.")
    reason: SomeLine = Field(description="Why the value is replaced.")
    by: SomeLine = Field(description="Who says so.")


class Waiver(Strict):
    """A finding the user accepts; it stays visible with the reason."""

    finding: str = Field(description="Code of the finding.")
    where: Line = Field(default="", description="Id of what it is about, such as a wall; empty: everywhere.")
    reason: SomeLine = Field(description="Why it is accepted.")
    by: SomeLine = Field(description="Who accepts it.")


class UnitModel(Strict):
    """A brick or block: work size and material. `joint` is its bed and perpend; None takes the rule set's."""

    material: Material = Field(description="What it is made of; decides which movement rules apply.")
    length: UnitSize = Field(description="Work length along the wall.")
    height: UnitSize = Field(description="Work height.")
    width: UnitSize = Field(description="Work width: the thickness of a leaf built of it.")
    joint: MortarJoint | None = Field(default=None, description="Nominal bed and perpend; none: the rule set's.")


class ZoneModel(Strict):
    """One unit type up to a level; the last zone of a leaf has no `to` and runs to the top."""

    unit: str = Field(description="Name of a unit: one defined under `units`, or one of the rule set's.")
    to: Height | None = Field(
        default=None, description="Level the zone goes up to; none, in the last zone only: the top of the wall."
    )


class LeafModel(Strict):
    """The make-up of a leaf from the bottom up, and its bond."""

    zones: Annotated[tuple[ZoneModel, ...], Field(min_length=1, max_length=MOST_POINTS)] = Field(
        description="Units from the bottom up."
    )
    bond: str = Field(default="stretcher", description="Name of the bond.")


class WallTypeModel(Strict):
    """Which leaves make a wall; `cavity` is the clear width between two leaves."""

    outer: str = Field(description="Name of the outer, or only, leaf.")
    inner: str | None = Field(default=None, description="Name of the inner leaf; none: a single-leaf wall.")
    cavity: CavityWidth | None = Field(default=None, description="Clear width between the leaves, insulation included.")


class OpeningModel(Strict):
    """A hole in every leaf: `at` is the left reveal along the wall line, `height` stands on `sill`."""

    id: Identifier = Field(description="Id, once in the whole building.")
    kind: Literal["door", "window", "opening"] = Field(default="opening", description="What fills it.")
    at: Length = Field(description="From the wall's start to the left reveal, seen from outside.")
    width: OpeningSize = Field(description="Structural width.")
    sill: Height = Field(description="Level of the bottom.")
    height: OpeningSize = Field(description="Height above the sill.")


class FeatureModel(Strict):
    """Something at a place along the wall that can hide a joint."""

    kind: FeatureKind = Field(description="What it is.")
    at: Length = Field(description="Its middle, along the wall line from the start.")


class GivenJointModel(Strict):
    """A movement joint that exists, or is wanted as given. `width` None: as calculated."""

    at: Length = Field(description="Its middle, along the wall line from the start.")
    leaf: LeafSide | None = Field(default=None, description="The leaf it is in; none: every leaf.")
    width: JointWidth | None = Field(default=None, description="Its width; none: as calculated.")


class WallModel(Strict):
    """A straight wall. `start` to `end` is the outer face with the outside on the right hand."""

    id: Identifier = Field(description="Id, once in the building.")
    name: Line = Field(default="", description="What people call it.")
    type: str = Field(description="Name of a wall type.")
    start: tuple[Length, Length] = Field(description="[x, y] in plan where the wall line starts.")
    end: tuple[Length, Length] = Field(description="[x, y] in plan where it ends; the outside is on the right hand.")
    line: Literal["face", "centre"] | None = Field(
        default=None, description="What the wall line is: external face or centre line; none: worked out from the plan."
    )
    base: Levels = Field(
        default=0.0, description="Where the masonry drawn starts: a level, or [along, level] points making steps."
    )
    top: Levels = Field(description="Where it ends: a level, or [along, level] points; two points at one place make a step.")
    openings: Annotated[tuple[OpeningModel, ...], Field(max_length=MOST_OPENINGS)] = Field(
        default=(), description="Doors, windows and other holes."
    )
    features: Annotated[tuple[FeatureModel, ...], Field(max_length=MOST_OPENINGS)] = Field(
        default=(), description="What can hide a joint."
    )
    joints: Annotated[
        Annotated[Literal["place"], Tag(_ONE)]
        | Annotated[tuple[GivenJointModel, ...], Field(max_length=MOST_OPENINGS), Tag(_SEVERAL)],
        Discriminator(_several),
    ] = Field(default="place", description="`place`: find the movement joints; a list: take these and add none.")


class JunctionModel(Strict):
    """How two walls that meet are connected; `leaf` None means every leaf that meets there."""

    walls: tuple[str, str] = Field(description="Ids of the two walls.")
    leaf: LeafSide | None = Field(default=None, description="The leaf meant; none: every leaf that meets there.")
    connection: Connection = Field(description="How they are joined.")


class SheetModel(Strict):
    """Paper size, the denominator of the scale (None: the largest that fits), and the layer table."""

    size: Literal["A4", "A3", "A2", "A1", "A0"] = Field(default="A3", description="Paper size.")
    scale: Annotated[int, Field(ge=1, le=1000, strict=True)] | None = Field(
        default=None, description="Denominator of the scale, 50 for 1:50; none: the largest that fits."
    )
    layers: str = Field(default="ncs", description="Name of the layer table.")


class MeasurementModel(Strict):
    """How quantities are measured, and the waste (per cent) of items whose default does not suit."""

    rules: Literal["net"] = Field(default="net", description="How quantities are measured.")
    waste: Mapping[str, Percent] = Field(default_factory=dict, description="Waste in per cent, by item.")


class Spec(Strict):
    """A building of masonry walls, as its designer describes it."""

    spec: Literal[1] = Field(description="Version of this format.")
    project: Project = Field(default_factory=Project, description="What the title block says.")
    rules: str = Field(default="uk", description="Id of the rule set.")
    overrides: tuple[Override, ...] = Field(default=(), description="Rule values replaced.")
    waivers: tuple[Waiver, ...] = Field(default=(), description="Findings accepted.")
    units: Mapping[Name, UnitModel] = Field(default_factory=dict, description="Bricks and blocks of this spec, by name.")
    leaves: Mapping[Name, LeafModel] = Field(description="Make-up of the leaves, by name.")
    wall_types: Mapping[Name, WallTypeModel] = Field(description="Kinds of wall, by name.")
    walls: Annotated[tuple[WallModel, ...], Field(min_length=1, max_length=MOST_WALLS)] = Field(description="The walls.")
    junctions: tuple[JunctionModel, ...] = Field(default=(), description="Connections that are not the default.")
    sheet: SheetModel = Field(default_factory=SheetModel, description="The drawing sheet.")
    measurement: MeasurementModel = Field(default_factory=MeasurementModel, description="How quantities are measured.")
