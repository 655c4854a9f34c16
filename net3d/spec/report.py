"""What pydantic says, in the maker's words, with the line of the file."""

from __future__ import annotations

from collections.abc import Callable
from typing import get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from net3d.spec.draft import model_in
from net3d.spec.form import NetForm
from net3d.spec.keys import Path
from net3d.spec.wording import listed, nearest, shown

_BARE_SIZES = ("mesh", "meshes", "mesh_size", "meshsize", "size")


def path_of(error: ErrorDetails) -> Path:
    """The path of an error; what is wrong with a table's name is on the table."""
    path = error["loc"]
    return path[:-1] if path[-1] == "[key]" else path


def message_of(error: ErrorDetails) -> str:
    """The sentence for one of pydantic's errors."""
    return _SENTENCES.get(error["type"], _plain)(error)


def _plain(error: ErrorDetails) -> str:
    return f"{shown(error['input'])} is not allowed here: {error['msg']}"


def _missing(error: ErrorDetails) -> str:
    path = error["loc"]
    field = model_at(path[:-1]).model_fields[str(path[-1])]
    heading = _heading(str(path[-1]), field) if len(path) == 1 else ""
    how = f": add a table {heading}" if heading else ""
    return f"is missing{how}. {field.description}"


def _unknown(error: ErrorDetails) -> str:
    path = error["loc"]
    model, key = model_at(path[:-1]), str(path[-1])
    if path[0] == "netting" and key.lower() in _BARE_SIZES:
        return (
            "a mesh size alone can mean either measure: write bar (one side of a mesh) "
            "or stretched (two bars, mesh pulled shut)"
        )
    hint = nearest(key, model.model_fields) or _other_home(key)
    return f"is not a key known here{hint}. Known keys: {', '.join(model.model_fields)}"


def _other_home(key: str) -> str:
    """A hint at the table where a key is known."""
    for name, field in NetForm.model_fields.items():
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


def _unknown_name(error: ErrorDetails) -> str:
    path, given = error["loc"], error["input"]
    names = [str(name) for name in get_args(model_at(path[:-1]).model_fields[str(path[-1])].annotation)]
    hint = nearest(given, names) if isinstance(given, str) else ""
    return f"{shown(given)} is not known here: write {listed(names)}{hint}"


def _not_a_table(error: ErrorDetails) -> str:
    path = error["loc"]
    name = ".".join(str(key) for key in path if isinstance(key, str))
    if path == ("twine",):
        return (
            f"{shown(error['input'])} belongs in [netting]; here stand tables [twine.NAME] of your own twines"
        )
    several = isinstance(path[-1], int)
    heading = f"[[{name}]]" if several else f"[{name}]"
    return f"{shown(error['input'])} is given, and this is a table: write {heading} with its keys below it"


def _not_a_list(error: ErrorDetails) -> str:
    name = str(error["loc"][0])
    heading = _heading(name, NetForm.model_fields[name]) if len(error["loc"]) == 1 else ""
    if heading:
        return f"there can be several: write {heading} with two brackets, once for each"
    return f"{shown(error['input'])} is given, and this is a list: write it in brackets, such as [5.5, 6]"


def model_at(path: Path) -> type[BaseModel]:
    """The model that describes the table at a path."""
    model: type[BaseModel] = NetForm
    for key in path:
        if isinstance(key, str) and key in model.model_fields:
            model = model_in(model.model_fields[key].annotation) or model
    return model


_SENTENCES: dict[str, Callable[[ErrorDetails], str]] = {
    "net3d": lambda error: error["msg"],
    "missing": _missing,
    "extra_forbidden": _unknown,
    "literal_error": _unknown_name,
    "model_type": _not_a_table,
    "dict_type": _not_a_table,
    "tuple_type": _not_a_list,
}
