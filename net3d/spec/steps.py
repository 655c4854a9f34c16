"""In which steps the number of a key goes: wholes, halves, or any."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

from net3d.spec.keys import Path
from net3d.spec.quantities import Number
from net3d.spec.report import model_at


def step_of(path: Path) -> float:
    """The step of a key's number [-]; 0 where any number will do, or it is no plain number.

    >>> step_of(("netting", "around")), step_of(("sections", "deep", 1)), step_of(("hoop", 0, "diameter"))
    (1, 0.5, 0)
    """
    names = [key for key in path if isinstance(key, str)]
    if not names:
        return 0
    field = model_at(tuple(names[:-1])).model_fields.get(names[-1])
    steps = (
        (one.step for one in _readers((field.annotation, field.metadata)) if isinstance(one, Number))
        if field
        else ()
    )
    return next(iter(steps), 0)


def _readers(kind: Any) -> Iterator[object]:  # noqa: ANN401 - any annotation
    """Everything that stands beside a type, or beside one inside it."""
    if isinstance(kind, tuple | list):
        for one in kind:
            yield from _readers(one)
    else:
        yield kind
        yield from _readers([*getattr(kind, "__metadata__", ()), *get_args(kind)])
