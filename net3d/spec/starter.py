"""The commented spec that a maker starts from."""

from __future__ import annotations

import json
from importlib.resources import files

from pydantic import TypeAdapter, ValidationError

from net3d.errors import Problem, SpecError
from net3d.spec.quantities import Title

_TITLE_LINE = 'title = "River net 36"'


def starter_spec(title: str) -> str:
    """A commented spec of a five-hoop river net, ready to be changed.

    Parameters
    ----------
    title : what the net is called

    Raises
    ------
    SpecError
        When the title cannot be printed on one line.

    Examples
    --------
    >>> starter_spec("Backwater 36").splitlines()[3]
    'title = "Backwater 36"'
    """
    try:
        plain = TypeAdapter(Title).validate_python(title)
    except ValidationError as error:
        message = error.errors(include_url=False)[0]["msg"]
        raise SpecError("new spec", (Problem("title", message),)) from None
    text = files("net3d.spec").joinpath("starter.toml").read_text("utf-8")
    return text.replace(_TITLE_LINE, f"title = {json.dumps(plain, ensure_ascii=False)}")
