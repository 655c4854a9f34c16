"""The text of a wanted list: which texts are one, one to begin with, and boxes typed into it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from net3d.errors import Problem, SpecError
from net3d.spec.blocks import newline_of
from net3d.spec.boxes import typed_in, wanted_schema_once
from net3d.spec.keys import Path, key_path

STARTER = """# What lies on the floor, what the net is for, and what it must keep to.
title = "From what I have"
units = "in"

[netting]
stretched = ["3 1/2"]           # meshes that may be used
twine = "#15"

[[pile]]
diameter = 24
rod = "3/8"
material = "fibreglass"
repeat = 4

[want]
throats = 1
longest = "7 ft"                # tail and all
for = ["room", "light work"]
"""
_LAID_OUT = "this cannot be typed into the list as it is laid out: make the change in an editor"


def is_wanted(text: str) -> bool:
    r"""Whether a text is a wanted list and no spec: it has a pile and no net, whatever else is amiss with it.

    >>> is_wanted("[[pile]]\nrod = 1"), is_wanted("[[pile]]\nrod = 1\n[[hoop]]"), is_wanted("[")
    (True, False, False)
    """
    try:
        typed = tomllib.loads(text.removeprefix("\ufeff"))
    except (ValueError, RecursionError):
        return False
    return "hoop" not in typed and ("want" in typed or "pile" in typed)


def retyped(text: str, boxes: Mapping[str, str]) -> str:
    """The text with what stands in boxes typed into it; comments and layout stay.

    Raises SpecError where a box is none of a wanted list, or the text cannot take it.

    Examples
    --------
    >>> new = retyped(STARTER, {"want.longest": "", "pile.1.repeat": "5", "want.for": "room, even pull"})
    >>> [line for line in new.splitlines() if "repeat" in line or "for" in line or "longest" in line][-2:]
    ['repeat = 5', 'for = ["room", "even pull"]']
    """
    schema = wanted_schema_once()
    return changed(text, {key: typed_in(key, box, schema) for key, box in boxes.items()})


def changed(text: str, changes: Mapping[str, object]) -> str:
    """The text with keys set, or taken away where None is given. Raises SpecError as ``retyped`` does."""
    mark, newline = text[: text.startswith("\ufeff")], newline_of(text)
    bare = text.removeprefix("\ufeff").replace(newline, "\n")
    paths = {path: value for key, value in changes.items() if (path := key_path(key))}
    if len(paths) < len(changes):
        raise SpecError("box", (Problem("", "is not a key known here"),))
    try:
        page, said = tomlkit.parse(bare), tomllib.loads(bare)
        for path, value in sorted(paths.items(), key=lambda change: (change[1] is None, len(change[0]))):
            for tables in (page, said):
                _put(tables, path, value)
        new = tomlkit.dumps(page)
        if tomllib.loads(new) != said:
            raise ValueError
    except (ValueError, KeyError, IndexError, TypeError, AttributeError, TOMLKitError, RecursionError):
        raise SpecError("box", (Problem("", _LAID_OUT),)) from None
    return mark + new.replace("\n", newline)


def _put(tables: Any, path: Path, value: object) -> None:  # noqa: ANN401 - plain tables or those of a text
    holders = [tables]
    for step, after in pairwise(path):
        holder = holders[-1]
        if isinstance(step, int) and step == len(holder) and value is not None:
            holder.append({})
        elif isinstance(step, str) and step not in holder:
            if value is None:
                return
            holder[step] = _empty(tables, in_list=isinstance(after, int))
        holders.append(holder[step])
    if value is not None:
        holders[-1][path[-1]] = value
        return
    for holder, step in zip(reversed(holders), reversed(path), strict=True):
        if isinstance(step, int) or step in holder:
            del holder[step]
        if len(holder):
            break


def _empty(tables: object, in_list: bool) -> Any:  # noqa: ANN401
    if isinstance(tables, tomlkit.TOMLDocument):
        return tomlkit.aot() if in_list else tomlkit.table()
    return [] if in_list else {}
