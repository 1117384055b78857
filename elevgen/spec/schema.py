"""The JSON Schema of the spec, made from the models."""

from __future__ import annotations

import json

from elevgen.spec.models import Spec


def schema_text() -> str:
    """The JSON Schema (2020-12) as text: keys sorted, two spaces, newline at the end."""
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **Spec.model_json_schema(by_alias=True)}
    return json.dumps(schema, indent=2, sort_keys=True, ensure_ascii=False) + "\n"
