"""Keys of a spec as the maker writes them, and as paths into its tables."""

from __future__ import annotations

import json
import re

from net3d.spec.wording import printable

Path = tuple[str | int, ...]  # entries of lists counted from 0

ORDERED = ("hoop", "pile", "throat")  # tables of which there may be several, in an order that matters
_BARE = re.compile("[A-Za-z0-9_-]+")
_PART = rf"{_BARE.pattern}|\"[^\"\\]*\"|'[^']*'"
_PARTS = re.compile(_PART)
_KEY = re.compile(rf"(?:{_PART})(?:\.(?:{_PART})|\[[0-9]+\])*")
_NUMBER = re.compile("[1-9][0-9]{0,8}")


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
            word = printable(key)
            text += ("." if text else "") + (word if _BARE.fullmatch(key) else f'"{word}"')
    return text


def key_path(text: str) -> Path | None:
    """The path of a key as the maker writes it, or None where it is no key.

    Entries are counted from 1, after a dot or in brackets; a name that is no plain word stands in quotes.

    Examples
    --------
    >>> key_path("hoop.2.diameter"), key_path("sections.deep[2]"), key_path('twine."2.5 mm".tex')
    (('hoop', 1, 'diameter'), ('sections', 'deep', 1), ('twine', '2.5 mm', 'tex'))
    """
    return tuple(map(_step, _PARTS.findall(text))) if _KEY.fullmatch(text) else None


def change_line(key: str, value: object) -> str:
    """A change of a spec as a line that can be typed; None takes a key away, a list of tables orders them.

    >>> change_line("throat.1.strings.length", "28 3/16"), change_line("hoop.5", None)
    ('throat.1.strings.length = "28 3/16"', 'take hoop.5 away')
    >>> change_line("hoop", [2, 1])
    'put the tables [[hoop]] in the order 2, 1'
    """
    if isinstance(value, list) and key in ORDERED:
        return f"put the tables [[{key}]] in the order {', '.join(map(str, value))}"
    return f"take {key} away" if value is None else f"{key} = {json.dumps(value, ensure_ascii=False)}"


def _step(part: str) -> str | int:
    if part[0] in "\"'":
        return part[1:-1]
    return int(part) - 1 if _NUMBER.fullmatch(part) else part
