"""The spec, version 1, as pydantic models: frozen, unknown keys forbidden, lengths in millimetres.

Field names are fixed by the design; see `elevgen schema` for the JSON Schema made from these classes.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema

from elevgen.core.measures import ALLOWED, parse_length

Material = Literal["clay", "calcium_silicate", "dense_concrete", "lightweight_concrete", "aircrete", "stone"]
Connection = Literal["bonded", "tied", "jointed", "free"]
LeafSide = Literal["outer", "inner"]
FeatureKind = Literal["downpipe", "column", "recess", "pier"]


def _length(given: Any) -> Any:
    if isinstance(given, bool):
        raise ValueError(f"a length cannot be {given!r}; allowed: {ALLOWED}")
    return parse_length(given) if isinstance(given, str) else given


_LENGTH_SCHEMA = WithJsonSchema({"anyOf": [{"type": "number"}, {"type": "string"}], "description": ALLOWED})
Length = Annotated[float, BeforeValidator(_length), Field(allow_inf_nan=False), _LENGTH_SCHEMA]
PositiveLength = Annotated[float, BeforeValidator(_length), Field(gt=0, allow_inf_nan=False), _LENGTH_SCHEMA]
Identifier = Annotated[str, Field(min_length=1, max_length=40, pattern=r"^[A-Za-z][A-Za-z0-9_.-]*$")]
Level = tuple[Length, Length]
Line = Annotated[str, Field(max_length=200)]


class Strict(BaseModel):
    """Frozen, and no key that is not known."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Project(Strict):
    """What the title block says."""

    title: Line = "Untitled"
    number: Line = ""
    revision: Line = ""
    date: Annotated[str, Field(pattern=r"^(\d{4}-\d{2}-\d{2})?$")] = ""
    drawn_by: Line = ""
    client: Line = ""
    datum: Line = "top of damp-proof course"


class Override(Strict):
    """A rule value the user replaces, with the reason and who says so."""

    rule: str
    value: float | str
    unit: str = ""
    reason: Annotated[str, Field(min_length=1)]
    by: Annotated[str, Field(min_length=1)]


class Waiver(Strict):
    """A finding the user accepts; it stays visible with the reason."""

    finding: str
    where: str = ""
    reason: Annotated[str, Field(min_length=1)]
    by: Annotated[str, Field(min_length=1)]


class UnitModel(Strict):
    """A brick or block: work size and material. `joint` is its bed and perpend; None takes the rule set's."""

    material: Material
    length: PositiveLength
    height: PositiveLength
    width: PositiveLength
    joint: PositiveLength | None = None


class ZoneModel(Strict):
    """One unit type up to a level; the last zone of a leaf has no `to` and runs to the top."""

    unit: str
    to: Length | None = None


class LeafModel(Strict):
    """The make-up of a leaf from the bottom up, and its bond."""

    zones: Annotated[tuple[ZoneModel, ...], Field(min_length=1)]
    bond: str = "stretcher"


class WallTypeModel(Strict):
    """Which leaves make a wall; `cavity` is the clear width between two leaves."""

    outer: str
    inner: str | None = None
    cavity: PositiveLength | None = None


class OpeningModel(Strict):
    """A hole in every leaf: `at` is the left reveal along the wall line, `height` stands on `sill`."""

    id: Identifier
    kind: Literal["door", "window", "opening"] = "opening"
    at: Length
    width: PositiveLength
    sill: Length
    height: PositiveLength


class FeatureModel(Strict):
    """Something at a place along the wall that can hide a joint."""

    kind: FeatureKind
    at: Length


class GivenJointModel(Strict):
    """A movement joint that exists, or is wanted as given. `width` None: as calculated."""

    at: Length
    leaf: LeafSide | None = None
    width: PositiveLength | None = None


class WallModel(Strict):
    """A straight wall. `start` to `end` is the outer face with the outside on the right hand."""

    id: Identifier
    name: Line = ""
    type: str
    start: Level
    end: Level
    line: Literal["face", "centre"] | None = None
    base: Length | Annotated[tuple[Level, ...], Field(min_length=2)] = 0.0
    top: Length | Annotated[tuple[Level, ...], Field(min_length=2)]
    openings: tuple[OpeningModel, ...] = ()
    features: tuple[FeatureModel, ...] = ()
    joints: Literal["place"] | tuple[GivenJointModel, ...] = "place"


class JunctionModel(Strict):
    """How two walls that meet are connected; `leaf` None means every leaf that meets there."""

    walls: tuple[str, str]
    leaf: LeafSide | None = None
    connection: Connection


class SheetModel(Strict):
    """Paper size, the denominator of the scale (None: the largest that fits), and the layer table."""

    size: Literal["A4", "A3", "A2", "A1", "A0"] = "A3"
    scale: Annotated[int, Field(ge=1, le=1000)] | None = None
    layers: str = "ncs"


class MeasurementModel(Strict):
    """How quantities are measured, and the waste (per cent) of items whose default does not suit."""

    rules: Literal["net"] = "net"
    waste: Mapping[str, Annotated[float, Field(ge=0, le=100)]] = Field(default_factory=dict)


class Spec(Strict):
    """A building of masonry walls, as its designer describes it."""

    spec: Literal[1]
    project: Project = Field(default_factory=Project)
    rules: str = "uk"
    overrides: tuple[Override, ...] = ()
    waivers: tuple[Waiver, ...] = ()
    units: Mapping[str, UnitModel] = Field(default_factory=dict)
    leaves: Mapping[str, LeafModel]
    wall_types: Mapping[str, WallTypeModel]
    walls: Annotated[tuple[WallModel, ...], Field(min_length=1)]
    junctions: tuple[JunctionModel, ...] = ()
    sheet: SheetModel = Field(default_factory=SheetModel)
    measurement: MeasurementModel = Field(default_factory=MeasurementModel)
