"""Kinds of value a spec's fields take: lengths, names, lists of levels; and what is allowed of each. Millimetres."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Annotated, Any, Literal, get_args

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Discriminator, Field, Tag, WithJsonSchema
from pydantic.fields import FieldInfo

from elevgen.core.measures import ALLOWED, parse_length

Material = Literal["clay", "calcium_silicate", "dense_concrete", "lightweight_concrete", "aircrete", "stone"]
Connection = Literal["bonded", "tied", "jointed", "free"]
LeafSide = Literal["outer", "inner"]
FeatureKind = Literal["downpipe", "column", "recess", "pier"]
Stands = Literal["building", "parapet", "free_standing"]
Colour = Literal["light", "medium", "dark"]
Finish = Literal["render", "plaster"]
LintelKind = Literal["pressed_steel", "steel_angle", "concrete", "stone"]

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
MOST_PARTS = 20_000
"""Most parts of one kind that a wall lists."""
FARTHEST = 10_000_000_000
"""Farthest a place may lie from the origin (mm): any map grid, and floats still hold it to a thousandth of the tolerance."""
HIGHEST = 10_000_000

# Tags name the branch of a union in pydantic's error paths; the brackets keep them from being a user's key.
ONE, SEVERAL, WORD = "(one)", "(several)", "(word)"


def _length(given: Any) -> Any:
    if isinstance(given, bool):
        raise ValueError("a length cannot be true or false")
    return parse_length(given) if isinstance(given, str) else given


def holds_length(field: FieldInfo) -> bool:
    """Whether the numbers of a field are lengths, in a list or a list of lists too."""
    return _is_length(field.metadata) or _is_length(get_args(field.annotation))


def _is_length(parts: Iterable[Any]) -> bool:
    """Whether a length stands among the parts of a type, or in theirs."""
    return any(
        (isinstance(part, BeforeValidator) and part.func is _length)
        or _is_length(getattr(part, "__metadata__", ()))
        or _is_length(get_args(part))
        for part in parts
    )


def _day(given: str) -> str:
    if given:
        try:
            date.fromisoformat(given)
        except ValueError:
            raise ValueError("is not a day in the calendar") from None
    return given


def several(given: Any) -> str:
    """Which branch of a union of one thing and a list of things is meant."""
    return SEVERAL if isinstance(given, list | tuple) else ONE


def word(given: Any) -> str:
    """Which branch of a union of a thing and a word is meant."""
    return WORD if isinstance(given, str) else ONE


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
UnitMass = Annotated[float, Field(gt=0, le=500, allow_inf_nan=False, strict=True)]
Hollows = Annotated[float, Field(ge=0, le=60, allow_inf_nan=False, strict=True)]
OpeningSize = Annotated[
    float,
    BeforeValidator(_length),
    Field(ge=LEAST_OPENING, le=FARTHEST, allow_inf_nan=False),
    _schema(minimum=LEAST_OPENING, maximum=FARTHEST),
]
Size = Annotated[
    float,
    BeforeValidator(_length),
    Field(gt=0, le=FARTHEST, allow_inf_nan=False),
    _schema(exclusiveMinimum=0, maximum=FARTHEST),
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
ReinforcementSpacing = Annotated[
    float, BeforeValidator(_length), Field(ge=50, le=2000, allow_inf_nan=False), _schema(minimum=50, maximum=2000)
]
MortarJoint = Annotated[float, BeforeValidator(_length), Field(ge=1, le=50, allow_inf_nan=False), _schema(minimum=1, maximum=50)]
Height = Annotated[
    float,
    BeforeValidator(_length),
    Field(ge=-HIGHEST, le=HIGHEST, allow_inf_nan=False),
    _schema(minimum=-HIGHEST, maximum=HIGHEST),
]
Day = Annotated[str, Field(pattern=DATE_PATTERN), AfterValidator(_day)]
Line = Annotated[str, Field(max_length=200, pattern=LINE_PATTERN)]
SomeLine = Annotated[str, Field(min_length=1, max_length=200, pattern=LINE_PATTERN)]
Name = Annotated[str, Field(min_length=1, max_length=60, pattern=LINE_PATTERN)]
Identifier = Annotated[str, Field(min_length=1, max_length=40, pattern=IDENTIFIER_PATTERN)]
Level = tuple[Length, Height]
Levels = Annotated[
    Annotated[Height, Tag(ONE)] | Annotated[tuple[Level, ...], Field(min_length=2, max_length=MOST_POINTS), Tag(SEVERAL)],
    Discriminator(several),
]
Percent = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False, strict=True)]


class Strict(BaseModel):
    """Frozen, and no key that is not known."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)
