"""The spec, version 1, as pydantic models: frozen, unknown keys forbidden, lengths in millimetres.

Field names are fixed by the design; see `elevgen schema` for the JSON Schema made from these classes.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Discriminator, Field, PrivateAttr, Tag

from elevgen.core.figures import Lengths
from elevgen.spec.fields import (
    MOST_OPENINGS,
    MOST_PARTS,
    MOST_WALLS,
    ONE,
    SEVERAL,
    WORD,
    CavityWidth,
    Connection,
    Day,
    FeatureKind,
    Height,
    Identifier,
    JointWidth,
    LeafSide,
    Length,
    Levels,
    Line,
    Name,
    OpeningSize,
    Percent,
    Size,
    SomeLine,
    Stands,
    Strict,
    several,
    word,
)
from elevgen.spec.leaf_models import LeafModel, UnitModel
from elevgen.spec.measurement_models import OwnMeasurementModel
from elevgen.spec.pack_models import Pack
from elevgen.spec.part_models import (
    AbutmentModel,
    GivenDampCourseModel,
    GivenLintelModel,
    GivenReinforcementModel,
    GivenTieModel,
    GivenTrayModel,
    LoadModel,
    PlaceOrParts,
)


class Project(Strict):
    """Text for the title block of the drawings."""

    title: Line = Field(default="Untitled", description="Name of the project.")
    number: Line = Field(default="", description="Project or drawing number.")
    revision: Line = Field(default="", description="Revision of the drawings, such as A.")
    date: Day = Field(default="", description="Date shown on the drawings, as YYYY-MM-DD. Today's date is never filled in.")
    drawn_by: Line = Field(default="", description="Name of the person who made the drawings.")
    checked_by: Line = Field(default="", description="Name of the person who checked the drawings; leave empty to sign by hand.")
    approved_by: Line = Field(
        default="", description="Name of the person who approves the drawings; leave empty to sign by hand."
    )
    client: Line = Field(default="", description="Name of the client.")
    datum: Line = Field(default="top of damp-proof course", description="The height that level 0 stands for.")


class Override(Strict):
    """A value used in place of one of the rule set's, with the reason and the person responsible."""

    rule: str = Field(description="Key of the rule, as listed by `elevgen rules`.")
    value: Annotated[
        Annotated[float, Field(strict=True, allow_inf_nan=False), Tag(ONE)] | Annotated[SomeLine, Tag(WORD)],
        Discriminator(word),
    ] = Field(description="The value to use instead.")
    unit: Line = Field(default="", description="Unit of the value. Leave empty for the unit in which the rule set gives it.")
    reason: SomeLine = Field(description="The reason for replacing the value.")
    by: SomeLine = Field(description="The person responsible for the change.")


class Waiver(Strict):
    """A finding that is accepted. It is still reported, together with the reason."""

    finding: str = Field(description="Code of the finding, as reported by `elevgen check`.")
    where: Line = Field(
        default="", description="Id of the part concerned, such as a wall. Leave empty to accept the finding everywhere."
    )
    reason: SomeLine = Field(description="The reason for accepting the finding.")
    by: SomeLine = Field(description="The person who accepts the finding.")


class WallTypeModel(Strict):
    """The leaves a wall consists of: one leaf, or two leaves with a cavity between them."""

    outer: str = Field(description="Name of the outer leaf, or of the only leaf.")
    inner: str | None = Field(default=None, description="Name of the inner leaf. Leave out for a wall with a single leaf.")
    cavity: CavityWidth | None = Field(
        default=None,
        description="Distance between the two leaves, including any insulation. Required when there is an inner leaf.",
    )


class OpeningModel(Strict):
    """A door, a window or another opening through every leaf of the wall."""

    id: Identifier = Field(description="Id of the opening, unique in the whole building.")
    kind: Literal["door", "window", "opening"] = Field(default="opening", description="What the opening is for.")
    at: Length = Field(
        description="Distance along the wall line from `start` to the left side of the opening, seen from outside."
    )
    width: OpeningSize = Field(description="Width of the opening in the masonry.")
    sill: Height = Field(description="Level of the bottom of the opening.")
    height: OpeningSize = Field(description="Height of the opening in the masonry, measured up from `sill`.")


class FeatureModel(Strict):
    """Something on the wall that can hide a movement joint, such as a downpipe."""

    kind: FeatureKind = Field(
        description="The kind of feature. No joint is put through a pier, taken as two units wide; one beside it is hidden."
    )
    at: Length = Field(description="Distance along the wall line from `start` to the middle of the feature.")


class GivenJointModel(Strict):
    """A movement joint that already exists, or that must be placed exactly here."""

    at: Length = Field(description="Distance along the wall line from `start` to the middle of the joint.")
    leaf: LeafSide | None = Field(
        default=None, description="The leaf that the joint divides. Leave out for every leaf of the wall."
    )
    width: JointWidth | None = Field(default=None, description="Width of the joint. Leave out to have it calculated.")


GivenOrPlace = Annotated[
    Annotated[GivenJointModel, Tag(ONE)] | Annotated[Literal["place"], Tag(WORD)],
    Discriminator(word),
]


class WallModel(Strict):
    """A straight wall from `start` to `end`. Looking from `start` to `end`, the outside is on the right."""

    id: Identifier = Field(description="Id of the wall, unique in the building.")
    name: Line = Field(default="", description="Name of the wall shown on the drawings.")
    type: str = Field(description="Name of one of the `wall_types`.")
    start: tuple[Length, Length] = Field(description="Point [x, y] on the plan where the wall line starts.")
    end: tuple[Length, Length] = Field(
        description="Point [x, y] on the plan where the wall line ends. The outside is on the right, looking from `start`."
    )
    line: Literal["face", "centre"] | None = Field(
        default=None,
        description="Whether the wall line is the outer face or the centre line of the wall. Leave out to have it worked out.",
    )
    base: Levels = Field(
        default=0.0, description="Level at which the drawn masonry starts, or a list of [along, level] points that form steps."
    )
    top: Levels = Field(
        description="Level at which the wall ends, or a list of [along, level] points. Two points at the same place form a step."
    )
    openings: Annotated[tuple[OpeningModel, ...], Field(max_length=MOST_OPENINGS)] = Field(
        default=(), description="Doors, windows and other openings."
    )
    slip_ties: bool | None = Field(
        default=None,
        description=(
            "Write `true` where an engineer asks for slip ties across the movement joints of this wall: they hold the two "
            "sides in line and let the joint move. Write `false` where none are wanted. Leave out where nobody has said."
        ),
        strict=True,
    )
    features: Annotated[tuple[FeatureModel, ...], Field(max_length=MOST_OPENINGS)] = Field(
        default=(), description="Downpipes and other features that can hide a movement joint."
    )
    joints: Annotated[
        Annotated[Literal["place"], Tag(ONE)]
        | Annotated[tuple[GivenOrPlace, ...], Field(max_length=MOST_OPENINGS), Tag(SEVERAL)],
        Discriminator(several),
    ] = Field(
        default="place",
        description=(
            "Write `place` to have movement joints placed, or list the joints there are; no others are then added. "
            "The word `place` in the list keeps those listed and has more placed around them."
        ),
    )
    stands: Stands = Field(
        default="building",
        description="What the wall is part of: a building, a parapet above a roof, or nothing (a free-standing garden wall).",
    )
    lintels: PlaceOrParts[GivenLintelModel] = Field(
        default="place",
        description=(
            "Write `place` to have lintels placed, or list those there are; no others are then added. The word `place` in the "
            "list keeps those listed and has one placed over every other opening."
        ),
    )
    reinforcement: PlaceOrParts[GivenReinforcementModel] = Field(
        default="place",
        description="Bed-joint reinforcement: `place`, or a list of the lengths there are, with `place` among them to have more.",
    )
    ties: Annotated[
        Annotated[Literal["place"], Tag(ONE)] | Annotated[tuple[GivenTieModel, ...], Field(max_length=MOST_PARTS), Tag(SEVERAL)],
        Discriminator(several),
    ] = Field(
        default="place",
        description="Ties between the leaves: `place`, or a list of those there are, such as a survey. No others are then added.",
    )
    tie_length: Size | None = Field(
        default=None, description="Length of the ties. Leave out for the length the rules give for the cavity."
    )
    damp_courses: PlaceOrParts[GivenDampCourseModel] = Field(
        default="place",
        description="Damp-proof courses: `place`, or a list of those there are, with `place` among them to have more.",
    )
    trays: PlaceOrParts[GivenTrayModel] = Field(
        default="place",
        description="Cavity trays: `place`, or a list of those there are, with `place` in it to have more placed.",
    )
    ground: Levels | None = Field(
        default=None,
        description=(
            "Level of the ground or paving outside the wall, or a list of [along, level] points. Leave out where it is not known."
        ),
    )
    abutments: Annotated[tuple[AbutmentModel, ...], Field(max_length=MOST_OPENINGS)] = Field(
        default=(), description="Lower roofs and buildings that meet the outer face: cavity trays are needed over them."
    )
    loads: Annotated[tuple[LoadModel, ...], Field(max_length=MOST_PARTS)] = Field(
        default=(), description="Loads that stand on the wall, for what its lintels carry. They are used for nothing else."
    )
    existing: Annotated[bool, Field(strict=True)] = Field(
        default=False, description="Whether the wall stands already. New masonry meets old with a movement joint."
    )

    @property
    def given_joints(self) -> tuple[GivenJointModel, ...]:
        """The joints listed."""
        return () if isinstance(self.joints, str) else tuple(j for j in self.joints if isinstance(j, GivenJointModel))

    @property
    def placing(self) -> bool:
        """Whether movement joints are placed, besides those listed."""
        return "place" in self.joints


class JunctionModel(Strict):
    """How two walls are connected where they meet."""

    walls: tuple[str, str] = Field(description="Ids of the two walls that meet.")
    leaf: LeafSide | None = Field(
        default=None, description="The leaf that is connected in this way. Leave out for every leaf that meets there."
    )
    connection: Connection = Field(description="How the masonry of the two walls is connected.")


class SheetModel(Strict):
    """The drawing sheet: paper size, scale and layer names."""

    size: Literal["A4", "A3", "A2", "A1", "A0", "Letter", "Tabloid", "ARCH C", "ARCH D"] = Field(
        default="A3", description="Size of the paper, such as A3, or Tabloid for 17 by 11 inches."
    )
    scale: Annotated[int, Field(ge=1, le=1000, strict=True)] | None = Field(
        default=None, description="Scale of the drawings: 50 means 1:50. Leave out for the largest scale that fits the paper."
    )
    layers: Line = Field(
        default="ncs",
        description="Name of the table of layer names for the DXF file, or a JSON file of your own, beside the spec.",
    )
    template: Line = Field(
        default="",
        description="A DXF file of your own, beside the spec: its layers, text and dimension styles and title block are used.",
    )
    dxf: Literal["R2013", "R12"] = Field(
        default="R2013", description="Version of the DXF files; R12 for programs that read no other."
    )
    lengths: Lengths | None = Field(
        default=None,
        description="How lengths are written: in mm, or in feet and inches. Leave out for what is usual with the rule set.",
    )


class MeasurementModel(Strict):
    """How quantities are measured, and how much is added for waste."""

    rules: str = Field(
        default="net",
        description="The rule set quantities are measured by: `net` for what is really built, with every opening deducted.",
    )
    own: OwnMeasurementModel = Field(
        default_factory=OwnMeasurementModel, description="Your own figures in place of those of the measurement rule set."
    )
    waste: Mapping[str, Percent] = Field(
        default_factory=dict,
        description="Allowance for waste in per cent, by item. Items left out have the rule set's allowance.",
    )
    packs: Mapping[Name, Pack] = Field(
        default_factory=dict,
        description=(
            "What materials are sold in: a number in the item's unit, or an object with a name. By an item's code, "
            "by what codes begin with up to a `/`, or by what waste is given for, such as `units`. "
            "Items left out have the rule set's."
        ),
    )


class Spec(Strict):
    """A building with masonry walls. Lengths are millimetres, or text with a unit such as "2.7 m"."""

    spec: Literal[1] = Field(description="Version of the spec format.")
    project: Project = Field(default_factory=Project, description="Text for the title block of the drawings.")
    rules: str = Field(default="uk", description="Id of the rule set, as listed by `elevgen rules`.")
    overrides: tuple[Override, ...] = Field(default=(), description="Values used in place of the rule set's.")
    waivers: tuple[Waiver, ...] = Field(default=(), description="Findings that are accepted.")
    units: Mapping[Name, UnitModel] = Field(
        default_factory=dict, description="Bricks and blocks in addition to those of the rule set, by name."
    )
    leaves: Mapping[Name, LeafModel] = Field(description="How each kind of leaf is built, by name.")
    wall_types: Mapping[Name, WallTypeModel] = Field(description="The kinds of wall, by name.")
    walls: Annotated[tuple[WallModel, ...], Field(min_length=1, max_length=MOST_WALLS)] = Field(
        description="The walls of the building."
    )
    junctions: tuple[JunctionModel, ...] = Field(
        default=(),
        description=(
            "Connections between walls that differ from the default, which is bonded, "
            "or jointed where old masonry meets new, clay meets concrete, or a wall in line changes in height or thickness."
        ),
    )
    sheet: SheetModel = Field(default_factory=SheetModel, description="The drawing sheet.")
    measurement: MeasurementModel = Field(
        default_factory=MeasurementModel, description="How quantities are measured, and the allowances for waste."
    )
    _folder: Path = PrivateAttr(default=Path())

    @property
    def folder(self) -> Path:
        """Where the files that the spec names are looked for: where its own file is. No part of what it says."""
        return self._folder

    def beside(self, folder: Path) -> Spec:
        """The same spec, its files to be looked for in a folder."""
        moved = self.model_copy()
        moved._folder = folder
        return moved
