"""Tables as TOML text, whatever they hold: tomllib reads TOML but does not write it."""

from __future__ import annotations

import json
import re
from datetime import date, time

BARE = re.compile(r"[A-Za-z0-9_-]+")


class Raw(str):
    """A value that stands in the text as it is."""

    __slots__ = ()


def toml_text(document):
    """A document as TOML: plain keys first, then its tables."""
    plain = {key: value for key, value in document.items() if not _is_table(value)}
    lines = [f"{_key(key)} = {_value(value)}" for key, value in plain.items()]
    for key, value in document.items():
        if _is_table(value):
            lines += _tables(_key(key), value)
    return "\n".join(lines) + "\n"


def _is_table(value):
    return isinstance(value, dict) or (
        isinstance(value, list) and bool(value) and all(isinstance(part, dict) for part in value)
    )


def _tables(name, value):
    heading, tables = (f"[[{name}]]", value) if isinstance(value, list) else (f"[{name}]", [value])
    for table in tables:
        yield f"\n{heading}"
        yield from (f"{_key(key)} = {_value(inner)}" for key, inner in table.items())


def _key(key):
    return key if BARE.fullmatch(key) else json.dumps(key)


def _value(value):
    if isinstance(value, Raw):
        return str(value)
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(key)} = {_value(inner)}" for key, inner in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    if isinstance(value, date | time):
        return value.isoformat()
    return repr(value) if isinstance(value, float) else json.dumps(value)  # TOML and Python agree on floats
