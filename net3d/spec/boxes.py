"""What is typed into a box, as the spec's file would have it: by the schema that the boxes are made from."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from net3d.errors import Problem, SpecError
from net3d.spec.keys import Path, key_path
from net3d.spec.schema import spec_schema, wanted_schema

Schema = dict[str, Any]
_WHOLE = re.compile(r"[+-]?[0-9]{1,15}")
_DECIMAL = re.compile(r"[+-]?(?:[0-9]{1,15}\.[0-9]{0,15}|\.[0-9]{1,15})")
_ANSWERS = {"true": True, "false": False}


def typed_in(key: str, text: str, schema: Schema | None = None) -> object:
    """The value that a box's text stands for, in a spec unless it says of what; None where it is empty.

    Raises SpecError where there is no such key.

    Examples
    --------
    >>> typed_in("hoop.1.rod", "1/2"), typed_in("hoop.1.diameter", " 36 "), typed_in("netting.twine", "15")
    ('1/2', 36, '15')
    >>> typed_in("sections.deep", "5.5, 6"), typed_in("throat.1.line", "")
    ([5.5, 6], None)
    """
    path = key_path(key)
    schema = schema or spec_schema_once()
    node = _at(path, schema) if path else None
    if node is None:
        raise SpecError("box", (Problem(key, "is not a key known here"),))
    return _value(node, text.strip(), schema) if text.strip() else None


@cache
def spec_schema_once() -> Schema:
    """The schema of a spec, made once."""
    return spec_schema()


@cache
def wanted_schema_once() -> Schema:
    """The schema of a wanted list, made once."""
    return wanted_schema()


def _at(path: Path, schema: Schema) -> Schema | None:
    node = schema
    for step in path:
        node = _plain(node, schema)
        inner = node.get("items") if isinstance(step, int) and "items" in node else None
        inner = inner or node.get("properties", {}).get(str(step)) or node.get("additionalProperties")
        if not isinstance(inner, dict):
            return None
        node = inner
    return _plain(node, schema)


def _plain(node: Schema, schema: Schema) -> Schema:
    """A part of the schema itself, where only its name was given."""
    name = node.get("$ref", "").rpartition("/")[2]
    return {**schema["$defs"][name], **node} if name else node


def _value(node: Schema, text: str, schema: Schema) -> object:
    ways = [_plain(way, schema) for way in node.get("anyOf", [node])]
    rows = [way for way in ways if way.get("type") == "array"]
    if rows and (len(ways) == 1 or "," in text):
        parts = (part.strip() for part in text.strip("[]").split(","))
        return [_value(rows[0]["items"], part, schema) for part in parts if part]
    if any(way.get("type") == "boolean" for way in ways):
        return _ANSWERS.get(text, text)
    if any(way.get("type") == "string" and "minLength" in way for way in ways):
        return text
    if _WHOLE.fullmatch(text):
        return int(text)
    return float(text) if _DECIMAL.fullmatch(text) else text
