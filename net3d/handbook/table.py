"""Reading the handbook's tables: one CSV file each, a source in every row."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files


@cache
def read_table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of a handbook table, as text.

    Parameters
    ----------
    name : file name without its ending, such as ``"twine"``

    Examples
    --------
    >>> read_table("fibres")[0]["fibre"]
    'PA'
    """
    text = files("net3d.handbook").joinpath(f"{name}.csv").read_text("utf-8")
    return tuple(csv.DictReader(text.splitlines()))
