"""What is typed into a box, as the spec's file would have it: by the schema that the boxes are made from."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from net3d.errors import Problem, SpecError
from net3d.spec.keys import Path, key_path
from net3d.spec.schema import spec_schema

_WHOLE = re.compile(r"[+-]?[0-9]{1,15}")
_DECIMAL = re.compile(r"[+-]?(?:[0-9]{1,15}\.[0-9]{0,15}|\.[0-9]{1,15})")
_ANSWERS = {"true": True, "false": False}


def typed_in(key: str, text: str) -> object:
    """The value that a box's text stands for; None where it is empty.

    Raises SpecError where there is no such key.

    Examples
    --------
    >>> typed_in("hoop.1.rod", "1/2"), typed_in("hoop.1.diameter", " 36 "), typed_in("netting.twine", "15")
    ('1/2', 36, '15')
    >>> typed_in("sections.deep", "5.5, 6"), typed_in("throat.1.line", "")
    ([5.5, 6], None)
    """
    path = key_path(key)
    node = _at(path, spec_schema_once()) if path else None
    if node is None:
        raise SpecError("box", (Problem(key, "is not a key known here"),))
    return _value(node, text.strip()) if text.strip() else None


@cache
def spec_schema_once() -> dict[str, Any]:
    """The schema of a spec, made once."""
    return spec_schema()


def _at(path: Path, node: dict[str, Any]) -> dict[str, Any] | None:
    for step in path:
        node = _plain(node)
        inner = node.get("items") if isinstance(step, int) and "items" in node else None
        inner = inner or node.get("properties", {}).get(str(step)) or node.get("additionalProperties")
        if not isinstance(inner, dict):
            return None
        node = inner
    return _plain(node)


def _plain(node: dict[str, Any]) -> dict[str, Any]:
    """A part of the schema itself, where only its name was given."""
    name = node.get("$ref", "").rpartition("/")[2]
    return {**spec_schema_once()["$defs"][name], **node} if name else node


def _value(node: dict[str, Any], text: str) -> object:
    ways = [_plain(way) for way in node.get("anyOf", [node])]
    rows = [way for way in ways if way.get("type") == "array"]
    if rows and (len(ways) == 1 or "," in text):
        parts = (part.strip() for part in text.strip("[]").split(","))
        return [_value(rows[0]["items"], part) for part in parts if part]
    if any(way.get("type") == "boolean" for way in ways):
        return _ANSWERS.get(text, text)
    if any(way.get("type") == "string" and "minLength" in way for way in ways):
        return text
    if _WHOLE.fullmatch(text):
        return int(text)
    return float(text) if _DECIMAL.fullmatch(text) else text
