import json
import re
from pathlib import Path

from pydantic import BaseModel

from elevgen.spec import fields, leaf_models, models, part_models
from elevgen.spec.schema import schema_text
from elevgen.spec.words import model_at

ROOT = Path(__file__).parents[3]


def test_the_schema_in_specs_is_the_one_the_models_make():
    assert (ROOT / "specs" / "elevgen-spec-1.schema.json").read_text(encoding="utf-8") == schema_text()


def test_every_field_is_described():
    schema = json.loads(schema_text())
    for holder in (schema, *schema["$defs"].values()):
        assert holder["additionalProperties"] is False
        for name, field in holder.get("properties", {}).items():
            meant = schema["$defs"][field["$ref"].rsplit("/")[-1]] if "$ref" in field else field
            assert meant.get("description"), f"{holder['title']}.{name}"


def test_descriptions_are_sentences_for_people_who_know_json_and_not_python():
    schema = json.loads(schema_text())
    holders = (schema, *schema["$defs"].values())
    told = [
        part["description"] for holder in holders for part in (holder, *holder["properties"].values()) if "description" in part
    ]
    assert len(told) > 60
    for text in told:
        assert re.fullmatch(r"[A-Z].*\.", text), text
        assert len(text.split()) >= 3, text
        assert not re.search(r"None|True|False|\btuple\b|;\s*none", text), text


def test_every_pattern_has_words():
    patterns = set()

    def walk(value):
        if isinstance(value, dict):
            if isinstance(value.get("pattern"), str):
                patterns.add(value["pattern"])
            for inner in value.values():
                walk(inner)
        elif isinstance(value, list):
            for inner in value:
                walk(inner)

    walk(json.loads(schema_text()))
    assert patterns
    assert patterns <= fields.PATTERN_WORDS.keys()


def test_every_model_is_found_by_path():
    paths = {
        models.Spec: (),
        models.Project: ("project",),
        models.Override: ("overrides", 3),
        models.Waiver: ("waivers", 0),
        leaf_models.UnitModel: ("units", "zones"),
        leaf_models.LeafModel: ("leaves", "walls"),
        leaf_models.ZoneModel: ("leaves", "a", "zones", 2),
        models.WallTypeModel: ("wall_types", "a"),
        models.WallModel: ("walls", 1),
        models.OpeningModel: ("walls", 1, "openings", 0),
        models.FeatureModel: ("walls", 1, "features", 0),
        models.GivenJointModel: ("walls", 1, "joints", 0),
        part_models.LintelModel: ("leaves", "a", "lintel"),
        part_models.GivenLintelModel: ("walls", 1, "lintels", 0),
        part_models.GivenReinforcementModel: ("walls", 1, "reinforcement", 0),
        part_models.GivenTieModel: ("walls", 1, "ties", 0),
        part_models.GivenDampCourseModel: ("walls", 1, "damp_courses", 0),
        part_models.GivenTrayModel: ("walls", 1, "trays", 0),
        part_models.LoadModel: ("walls", 1, "loads", 0),
        part_models.AbutmentModel: ("walls", 1, "abutments", 0),
        models.JunctionModel: ("junctions", 0),
        models.SheetModel: ("sheet",),
        models.MeasurementModel: ("measurement",),
        models.OwnMeasurementModel: ("measurement", "own"),
    }
    assert {model_at(path) for path in paths.values()} == set(paths)
    for model, path in paths.items():
        assert model_at(path) is model
    every = {m for m in [*vars(models).values(), *vars(leaf_models).values()] if isinstance(m, type) and issubclass(m, BaseModel)}
    assert every - {BaseModel, fields.Strict} == set(paths)
