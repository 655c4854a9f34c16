"""What pydantic says, in the maker's words, with the line of the file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any, get_args, get_origin

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from net3d.errors import Problem
from net3d.spec.draft import model_in
from net3d.spec.form import NetForm
from net3d.spec.locate import Path
from net3d.spec.wording import listed, nearest, printable, shown

_BARE_SIZES = ("mesh", "meshes", "mesh_size", "meshsize", "size")


def key_text(path: Path) -> str:
    """A path as the maker would write it; list entries are counted from 1.

    Examples
    --------
    >>> key_text(("hoop", 1, "diameter"))
    'hoop[2].diameter'
    """
    text = ""
    for key in path:
        if isinstance(key, int):
            text += f"[{key + 1}]"
        else:
            bare = re.fullmatch("[A-Za-z0-9_-]+", key) is not None
            text += ("." if text else "") + (key if bare else f'"{printable(key)}"')
    return text


def problem_at(path: Path, message: str, lines: Mapping[Path, int]) -> Problem:
    """A problem on the line of its key, or of the nearest table around it that has one."""
    known = (path[:length] for length in range(len(path), 0, -1))
    return Problem(key_text(path), message, next((lines[part] for part in known if part in lines), None))


def message_of(error: ErrorDetails) -> str:
    """The sentence for one of pydantic's errors."""
    path, given, kind = error["loc"], error["input"], error["type"]
    if kind == "net3d":
        return error["msg"]
    if kind == "missing":
        return _missing(path)
    if kind == "extra_forbidden":
        return _unknown(path)
    if kind == "literal_error":
        names = _choices(path)
        return f"{shown(given)} is not known here: write {listed(names)}{nearest(str(given), names)}"
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return f"{shown(given)} is given, and this is a table: write [{_table_name(path)}] with its keys below"
    if kind == "tuple_type":
        return _not_a_list(path, given)
    return f"{shown(given)} is not allowed here: {error['msg']}"


def _missing(path: Path) -> str:
    field = _model_at(path[:-1]).model_fields[str(path[-1])]
    inner = model_in(field.annotation)
    how = ""
    if inner and len(path) == 1:
        how = f"; add a table [[{path[0]}]]" if get_origin(field.annotation) is tuple else f"; add a table [{path[0]}]"
    return f"is missing{how}. {field.description}"


def _unknown(path: Path) -> str:
    model, key = _model_at(path[:-1]), str(path[-1])
    if path[0] == "netting" and key.lower() in _BARE_SIZES:
        return "a mesh size alone can mean either measure: write bar (one side) or stretched (two bars, pulled shut)"
    known = [name for name in model.model_fields]
    homes = [home for home, keys in _tables() if key in keys and keys is not model.model_fields]
    hint = nearest(key, known) or (f"; it belongs in {homes[0]}" if homes else "")
    return f"is not a key known here{hint}. Known keys: {', '.join(known)}"


def _tables() -> Iterator[tuple[str, Mapping[str, Any]]]:
    for name, field in NetForm.model_fields.items():
        inner = model_in(field.annotation)
        if inner:
            many = get_origin(field.annotation) is tuple
            yield (f"[[{name}]]" if many else f"[{name}]"), inner.model_fields


def _not_a_list(path: Path, given: object) -> str:
    if path == ("hoop",) and isinstance(given, dict):
        return "there are several: write [[hoop]] with two brackets, once for each"
    return f"{shown(given)} is given, and this is a list: write it in brackets, such as [5.5, 6]"


def _table_name(path: Path) -> str:
    return ".".join(str(key) for key in path if isinstance(key, str))


def _model_at(path: Path) -> type[BaseModel]:
    """The model that describes the table at a path."""
    model: type[BaseModel] = NetForm
    for key in path:
        if isinstance(key, str) and key in model.model_fields:
            model = model_in(model.model_fields[key].annotation) or model
    return model


def _choices(path: Path) -> tuple[str, ...]:
    field = _model_at(path[:-1]).model_fields[str(path[-1])]
    return tuple(str(name) for name in get_args(field.annotation))
