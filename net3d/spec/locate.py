"""On which line of a TOML text each key stands; tomllib does not say.

The scanner expects a text that tomllib has read. Where it meets something else it stops and keeps
what it has: a message without a line is better than none.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping
from contextlib import suppress

from net3d.spec.keys import Path

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_STRING = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}(?!")' r"|'''.*?'{3,5}(?!')" r'|"(?:[^"\\\n]|\\.)*"' r"|'[^'\n]*'", re.DOTALL
)
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_DOT = re.compile(r"[ \t]*\.[ \t]*")
_DEEPEST = 8  # no key of a spec stands deeper
_SCALAR = re.compile(r"[^,\]}#\n]+")


def locate(text: str) -> dict[Path, int]:
    r"""The line of every key and list entry of a TOML text, by path.

    Examples
    --------
    >>> locate("a = 1\n[[hoop]]\nrod = 2\n")
    {('a',): 1, ('hoop',): 2, ('hoop', 0): 2, ('hoop', 0, 'rod'): 3}
    """
    scanner = _Scanner(text)
    with suppress(LostError, RecursionError, tomllib.TOMLDecodeError):
        scanner.scan()
    return scanner.lines


def headers(text: str) -> list[tuple[int, Path]]:
    r"""Where the line of every header begins in a TOML text, and the path of its table.

    Raises LostError where the scanner does not get to the end.

    Examples
    --------
    >>> headers("a = 1\n [[hoop]]\nrod = 2\n[tail]")
    [(6, ('hoop', 0)), (24, ('tail',))]
    """
    scanner = _Scanner(text)
    scanner.scan()
    return scanner.headers


def line_of(path: Path, lines: Mapping[Path, int]) -> int | None:
    """The line of a key, or of the nearest table around it that has one.

    Examples
    --------
    >>> line_of(("hoop", 0, "bore"), locate("[[hoop]]"))
    1
    """
    known = (path[:length] for length in range(len(path), 0, -1))
    return next((lines[part] for part in known if part in lines), None)


class LostError(Exception):
    """The text is not what the scanner expects here."""


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.place = 0
        self.line_starts = [0, *(match.end() for match in re.finditer("\n", text))]
        self.lines: dict[Path, int] = {}
        self.counts: dict[Path, int] = {}  # entries so far of each array of tables
        self.headers: list[tuple[int, Path]] = []

    def scan(self) -> None:
        table: Path = ()
        while self._skip_blank():
            if self.text.startswith("[", self.place):
                table = self._header()
            else:
                self._pair(table)

    def _skip_blank(self) -> bool:
        self._take(_BLANK)
        return self.place < len(self.text)

    def _take(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.place)
        if match is None:
            raise LostError
        self.place = match.end()
        return match[0]

    def _expect(self, mark: str) -> None:
        self._take(_BLANK)
        if not self.text.startswith(mark, self.place):
            raise LostError
        self.place += len(mark)

    def _note(self, path: Path) -> None:
        line = bisect_right(self.line_starts, self.place)
        for length in range(1, min(len(path), _DEEPEST) + 1):
            self.lines.setdefault(path[:length], line)

    def _header(self) -> Path:
        start = self.place
        mark = "[[" if self.text.startswith("[[", start) else "["
        self._expect(mark)
        path: Path = ()
        for key in self._key():
            path = self._current((*path, key))
        if mark == "[[":
            path = self._next_entry(path)
        self._note(path)
        self.headers.append((self.line_starts[bisect_right(self.line_starts, start) - 1], path))
        self._expect("]" * len(mark))
        return path

    def _current(self, path: Path) -> Path:
        """A header means the last entry of an array of tables that it passes through."""
        return (*path, self.counts[path] - 1) if path in self.counts else path

    def _next_entry(self, path: Path) -> Path:
        array = path[:-1] if path and isinstance(path[-1], int) else path
        self.counts[array] = self.counts.get(array, 0) + 1
        return (*array, self.counts[array] - 1)

    def _key(self) -> list[str]:
        keys = [self._key_part()]
        while _DOT.match(self.text, self.place):
            self._take(_DOT)
            keys.append(self._key_part())
        return keys

    def _key_part(self) -> str:
        self._take(_BLANK)
        if self.text[self.place : self.place + 1] in ('"', "'"):
            quoted = self._take(_STRING)
            return quoted[1:-1] if "\\" not in quoted else _unescaped(quoted)
        return self._take(_BARE_KEY)

    def _pair(self, table: Path) -> None:
        self._take(_BLANK)
        start = self.place
        path = (*table, *self._key())
        end, self.place = self.place, start
        self._note(path)
        self.place = end
        self._expect("=")
        self._value(path)

    def _value(self, path: Path) -> None:
        self._take(_BLANK)
        opening = self.text[self.place : self.place + 1]
        if opening == "[":
            self._list(path)
        elif opening == "{":
            self._inline_table(path)
        else:
            self._take(_STRING if opening in ('"', "'") else _SCALAR)

    def _list(self, path: Path) -> None:
        self._expect("[")
        for number in range(len(self.text)):
            if self._closed("]"):
                return
            self._note((*path, number))
            self._value((*path, number))
            self._comma("]")

    def _inline_table(self, path: Path) -> None:
        self._expect("{")
        while not self._closed("}"):
            self._pair(path)
            self._comma("}")

    def _closed(self, mark: str) -> bool:
        self._take(_BLANK)
        closed = self.text.startswith(mark, self.place)
        self.place += closed
        return closed

    def _comma(self, closing: str) -> None:
        self._take(_BLANK)
        if not self.text.startswith(closing, self.place):
            self._expect(",")


def _unescaped(quoted: str) -> str:
    key = next(iter(tomllib.loads(f"{quoted} = 0")), None)
    if key is None:
        raise LostError
    return key
