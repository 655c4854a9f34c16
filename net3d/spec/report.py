"""What pydantic says, in the maker's words, with the line of the file."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from net3d.spec.draft import model_in
from net3d.spec.form import NetForm
from net3d.spec.keys import Path
from net3d.spec.wording import listed, nearest, shown

Root = type[BaseModel]  # the form that a file fills in
_BARE_SIZES = ("mesh", "meshes", "mesh_size", "meshsize", "size")


def path_of(error: ErrorDetails) -> Path:
    """The path of an error; what is wrong with a table's name is on the table."""
    path = error["loc"]
    return path[:-1] if path[-1] == "[key]" else path


def message_of(error: ErrorDetails, root: Root = NetForm) -> str:
    """The sentence for one of pydantic's errors."""
    return _SENTENCES.get(error["type"], _plain)(error, root)


def _plain(error: ErrorDetails, root: Root) -> str:
    return f"{shown(error['input'])} is not allowed here: {error['msg']}"


def _missing(error: ErrorDetails, root: Root) -> str:
    path = error["loc"]
    field = model_at(path[:-1], root).model_fields[str(path[-1])]
    heading = _heading(str(path[-1]), field) if len(path) == 1 else ""
    how = f": add a table {heading}" if heading else ""
    return f"is missing{how}. {field.description}"


def _unknown(error: ErrorDetails, root: Root) -> str:
    path = error["loc"]
    model, key = model_at(path[:-1], root), str(path[-1])
    if path[0] == "netting" and key.lower() in _BARE_SIZES:
        return (
            "a mesh size alone can mean either measure: write bar (one side of a mesh) "
            "or stretched (two bars, mesh pulled shut)"
        )
    known = ", ".join(field.alias or name for name, field in model.model_fields.items())
    hint = nearest(key, model.model_fields) or _other_home(key, root)
    return f"is not a key known here{hint}. Known keys: {known}"


def _other_home(key: str, root: Root) -> str:
    """A hint at the table where a key is known."""
    for name, field in root.model_fields.items():
        inner = model_in(field.annotation)
        if inner and key in inner.model_fields:
            return f"; it belongs in {_heading(name, field)}"
    return ""


def _heading(name: str, field: FieldInfo) -> str:
    """How a table of the spec starts, or nothing for a plain key."""
    if model_in(field.annotation) is None:
        return ""
    holder = get_origin(field.annotation)
    return f"[[{name}]]" if holder is tuple else f"[{name}.NAME]" if holder is dict else f"[{name}]"


def _unknown_name(error: ErrorDetails, root: Root) -> str:
    given = error["input"]
    names = re.findall("'([^']*)'", error["ctx"]["expected"])
    hint = nearest(given, names) if isinstance(given, str) else ""
    return f"{shown(given)} is not known here: write {listed(names)}{hint}"


def _not_a_table(error: ErrorDetails, root: Root) -> str:
    path = error["loc"]
    name = ".".join(str(key) for key in path if isinstance(key, str))
    if path == ("twine",):
        return (
            f"{shown(error['input'])} belongs in [netting]; here stand tables [twine.NAME] of your own twines"
        )
    several = isinstance(path[-1], int)
    heading = f"[[{name}]]" if several else f"[{name}]"
    return f"{shown(error['input'])} is given, and this is a table: write {heading} with its keys below it"


def _not_a_list(error: ErrorDetails, root: Root) -> str:
    name = str(error["loc"][0])
    heading = _heading(name, root.model_fields[name]) if len(error["loc"]) == 1 else ""
    if heading:
        return f"there can be several: write {heading} with two brackets, once for each"
    return f"{shown(error['input'])} is given, and this is a list: write it in brackets, such as [5.5, 6]"


def model_at(path: Path, root: Root = NetForm) -> type[BaseModel]:
    """The model that describes the table at a path."""
    model = root
    for key in path:
        if isinstance(key, str) and key in model.model_fields:
            model = model_in(model.model_fields[key].annotation) or model
    return model


_SENTENCES: dict[str, Callable[[ErrorDetails, Root], str]] = {
    "net3d": lambda error, root: error["msg"],
    "missing": _missing,
    "extra_forbidden": _unknown,
    "literal_error": _unknown_name,
    "model_type": _not_a_table,
    "dict_type": _not_a_table,
    "tuple_type": _not_a_list,
}
