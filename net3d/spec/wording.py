"""Words for what was given and what is known, shared by all messages about a spec."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable

MAX_SHOWN = 40


def shown(given: object) -> str:
    """A value as it stands in the file, shortened.

    Examples
    --------
    >>> shown("3 lbf"), shown(True), shown([1, 2])
    ('"3 lbf"', 'true', 'a list')
    """
    if isinstance(given, bool):
        return "true" if given else "false"
    if isinstance(given, str):
        return f'"{printable(given)}"'
    if isinstance(given, int):
        return str(given) if abs(given) < 10**20 else "a number of more than 20 digits"
    if isinstance(given, float):
        return repr(given)
    if isinstance(given, dict):
        return "a table"
    return "a list" if isinstance(given, list) else "a date or time"


def printable(text: str) -> str:
    """A text on one line, shortened, with ? for what cannot be printed.

    Examples
    --------
    >>> printable("tab" + chr(9) + "here")
    'tab?here'
    """
    short = text if len(text) <= MAX_SHOWN else text[: MAX_SHOWN - 3] + "..."
    return "".join("?" if is_control(letter) else letter for letter in short)


def is_control(letter: str) -> bool:
    """Whether a letter steers a terminal instead of being printed.

    Examples
    --------
    >>> is_control(chr(27)), is_control("é")
    (True, False)
    """
    return unicodedata.category(letter) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")


def nearest(given: str, known: Iterable[str]) -> str:
    """A hint at the known word that comes nearest, or nothing.

    Examples
    --------
    >>> nearest("steal", ["steel", "oak"])
    '; did you mean steel?'
    """
    spellings = {name.lower(): name for name in known}
    near = difflib.get_close_matches(given[:100].lower(), list(spellings), n=1, cutoff=0.6)
    return f"; did you mean {spellings[near[0]]}?" if near else ""


def listed(names: Iterable[str]) -> str:
    """Names in quotes, with an "or" before the last.

    Examples
    --------
    >>> listed(["tail", "mouth"])
    '"tail" or "mouth"'
    """
    *most, last = [f'"{printable(name)}"' for name in names]
    return f"{', '.join(most)} or {last}" if most else last
