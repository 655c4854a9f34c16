"""Changes of a spec typed into its text: only what changes is retyped, comments, order and layout stay."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any

from tomlkit.exceptions import TOMLKitError

from net3d.errors import Problem, SpecError
from net3d.spec.blocks import blocks_of, joined
from net3d.spec.changes import vary
from net3d.spec.edit import edited
from net3d.spec.locate import LostError
from net3d.spec.pairs import alike
from net3d.spec.read import parse_spec
from net3d.spec.retyping import Page

_LAID_OUT = (
    "these changes cannot be typed into the file as it is laid out without changing more of it: make them by "
    "hand, or write the tables they are in with one key a line"
)


def rewritten(
    text: str, changes: Mapping[str, object], source: str = "spec", shop: Mapping[str, Any] | None = None
) -> str:
    r"""The text of a spec with changes typed into it; what it says then is what ``vary`` says.

    Parameters
    ----------
    text : TOML
    changes : what is typed now, by key, as for ``vary``
    source : what to call the spec in messages
    shop : the tables of the shop's file, which stays as it is

    Raises
    ------
    SpecError
        With every problem of the text or of the changes; and where a text is laid out so that they cannot
        be made in it.

    Examples
    --------
    >>> from net3d.spec import starter_spec
    >>> text = rewritten(starter_spec("Backwater"), {"tail.deep": 8.5, "rigging.bridle.legs": 2})
    >>> [line for line in text.splitlines() if "legs" in line or "8.5" in line][0]
    'deep = 8.5                        # meshes behind the last hoop, gathered by a drawstring'
    """
    spec = parse_spec(text, source, shop)
    varied = vary(spec, changes)
    mark = text[: text.startswith("\ufeff")]
    try:
        page = Page(blocks_of(text.removeprefix(mark)), spec.source.typed)
        page.retype(edited(spec.source.typed, changes))
        new = joined(page.blocks)
        same = (
            alike(_said(tomllib.loads(new)), _said(varied.source.typed))
            and parse_spec(new, source, shop) == varied
        )
    except (LostError, TOMLKitError, tomllib.TOMLDecodeError, SpecError):
        same = False
    if not same:
        raise SpecError(source, (Problem("", _LAID_OUT),))
    return mark + new


def _said(typed: Mapping[str, Any]) -> dict[str, Any]:
    """What is typed but for empty tables and lists, which say nothing."""
    return {key: value for key, value in typed.items() if value not in ({}, [])}
