"""The JSON Schema of a spec, so that editors complete and check it."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from net3d.spec.form import NetForm
from net3d.spec.wanted_form import WantedForm


class _TomlSchema(GenerateJsonSchema):
    """TOML has no null: a key that may be left out is simply left out."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        inner = super().default_schema(schema)
        return {key: value for key, value in inner.items() if key != "default" or value is not None}


def spec_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of what a spec file may hold.

    Examples
    --------
    >>> spec_schema()["properties"]["title"]["maxLength"]
    120
    """
    schema = NetForm.model_json_schema(schema_generator=_TomlSchema)
    return {"$schema": GenerateJsonSchema.schema_dialect, **schema, "title": "net3d spec"}


def wanted_schema() -> dict[str, Any]:
    """The JSON Schema of a wanted list; what is on the pile is at hand and need not say so.

    >>> "have" in wanted_schema()["$defs"]["HandHoop"]["properties"]
    False
    """
    schema = WantedForm.model_json_schema(schema_generator=_TomlSchema)
    del schema["$defs"]["HandHoop"]["properties"]["have"]
    return {"$schema": GenerateJsonSchema.schema_dialect, **schema, "title": "net3d wanted list"}
