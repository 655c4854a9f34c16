"""Lines that are not TOML, read as they were meant: text without quotes, decimal commas, curly quotes.

One line after the other, each by what its key takes. Lines keep their numbers.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, get_args, get_origin

from net3d.errors import Problem
from net3d.spec.edit import LISTED
from net3d.spec.form import NetForm
from net3d.spec.quantities import Number, OneOf, Reader, YesNo
from net3d.spec.table import Table
from net3d.spec.wording import is_control
from net3d.units import UnitError, read_number

LONGEST = 1000  # letters of a line; a longer one is left as it is
MOST_TOLD = 120  # letters of a line in a message
_HEADER = re.compile(r"(\[{1,2})([^\[\]#]+)(\]{0,2})")
_PAIR = re.compile(r"([A-Za-z0-9_-]+(?:\.[A-Za-z0-9_-]+)*)[ \t]*=[ \t]*")
_LONG_TEXT = re.compile("\"{3}|'{3}")
_NUMBERED = re.compile(r"#[0-9]\S*")  # a twine's name, which begins like a note
_DECIMAL_COMMA = re.compile(r"(?<![0-9,])([0-9]+),([0-9]{1,2}|[0-9]{4,})(?![0-9,])")
_COUNT = re.compile(r"([0-9][0-9 /.]*?) *(?:mesh(?:es)?|hoops?|legs?|hitch(?:es)?|ties|points?|degrees?|%)")
_PLAIN = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)")
_ANSWERS = {"true": "true", "yes": "true", "on": "true", "false": "false", "no": "false", "off": "false"}
_STRAIGHT = str.maketrans(
    {
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{DOUBLE LOW-9 QUOTATION MARK}": '"',
        "\N{LEFT SINGLE QUOTATION MARK}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{NO-BREAK SPACE}": " ",
    }
)


@dataclass(frozen=True)
class Corrected:
    """A text with its mistyped lines as they should read, and what was wrong with each."""

    text: str
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class _Taken:
    """What a key takes: how one of its values is read, and whether it takes a list of them."""

    reader: Reader | None = None
    several: bool = False


def corrected(text: str) -> Corrected:
    r"""A text with every mistyped line that can be read as it was meant.

    Examples
    --------
    >>> corrected("[netting]\nstretched = 3 1/2\naround = 44 meshes").text
    '[netting]\nstretched = "3 1/2"\naround = 44'
    """
    if _LONG_TEXT.search(text):
        return Corrected(text, ())
    lines, problems = text.split("\n"), []
    for number, line, new in _changes(lines):
        lines[number] = new + ("\r" if line.endswith("\r") else "")
        message = f"{_told(line)} cannot be read as it stands: write {_told(new)}"
        problems.append(Problem("", message, number + 1))
    return Corrected("\n".join(lines), tuple(problems))


def _changes(lines: list[str]) -> Iterator[tuple[int, str, str]]:
    """Number, old and new text of every line to be changed."""
    table: tuple[str, ...] = ()
    open_list: _Taken | None = None  # of the list that goes on from the line before
    for number, line in enumerate(lines):
        plain = line.strip()
        if len(line) > LONGEST or not plain or plain.startswith("#"):
            continue
        if open_list is not None:
            new, ended = _list_line(plain, open_list), "]" in plain
            open_list = None if ended else open_list
        elif plain.startswith("["):
            table, new = _header(plain)
        else:
            new = _pair(plain, table)
            open_list = _opened(plain, table)
        if new != plain:
            yield number, line, line[: len(line) - len(line.lstrip())] + new


def _header(line: str) -> tuple[tuple[str, ...], str]:
    match = _HEADER.match(line)
    if match is None:
        return (), line
    opened, name, closed = match.groups()
    path = tuple(part.strip() for part in name.split(".", 1))
    listed = len(path) == 1 and path[0] in LISTED
    brackets = ("[[", "]]") if listed else (opened, closed)
    named = name.strip()
    if path[0] == "twine" and len(path) == 2 and not _reads(f"[{named}]"):
        named = f"twine.{json.dumps(path[1].strip(' ' + chr(34)), ensure_ascii=False)}"
    new = f"{brackets[0]}{named}{brackets[1]}"
    return path, line if _reads(match[0]) and not listed else new + line[match.end() :]


def _pair(line: str, table: tuple[str, ...]) -> str:
    match = _PAIR.match(line)
    if match is None or _reads(line):
        return line
    if _is_open(line[match.end() :]):
        entries = line[match.end() + 1 :].strip()
        begun = _list_line(entries, _taken((*table, *match[1].split("."))))
        return line if begun == entries else f"{match[0]}[{begun}"
    value, note = _parted(line[match.end() :].translate(_STRAIGHT))
    new = _value(value, (*table, *match[1].split("."))) if value else ""
    return f"{match[0]}{new}{note}" if new and _reads(f"x = {new}") else line


def _opened(line: str, table: tuple[str, ...]) -> _Taken | None:
    match = _PAIR.match(line)
    if match is None or not _is_open(line[match.end() :]):
        return None
    return _taken((*table, *match[1].split(".")))


def _is_open(value: str) -> bool:
    return value.startswith("[") and "]" not in value


def _list_line(line: str, taken: _Taken) -> str:
    """A line within a list: its entries, then perhaps the end of the list."""
    entries, note = _parted(line.translate(_STRAIGHT))
    inner, end, rest = entries.partition("]")
    new = ", ".join(_one(part, taken.reader) for part in _split(inner)) + ("," if inner.endswith(",") else "")
    return line if _reads(f"x = [{inner}]") else new + end + rest + note


def _parted(text: str) -> tuple[str, str]:
    """A value and the note behind it, with the blanks between."""
    numbered = _NUMBERED.match(text)
    place = numbered.end() if numbered else _note_place(text)
    value = text[:place].rstrip()
    return value, text[len(value) :]


def _note_place(text: str) -> int:
    quote = ""
    for place, letter in enumerate(text):
        if quote:
            quote = "" if letter == quote else quote
        elif letter == '"' or (letter == "'" and not text[:place].strip(" [{,=")):
            quote = letter if letter in text[place + 1 :] else ""
        elif letter == "#":
            return place
    return len(text)


def _value(value: str, path: tuple[str, ...]) -> str:
    taken = _taken(path)
    if value.startswith("{") and value.endswith("}"):
        return _inline(value[1:-1], path)
    if value.startswith("[") and value.endswith("]"):
        return f"[{', '.join(_one(part, taken.reader) for part in _split(value[1:-1]))}]"
    if taken.several and "," in value:
        return f"[{', '.join(_one(part, taken.reader) for part in _split(value))}]"
    return _one(value, taken.reader)


def _inline(inner: str, path: tuple[str, ...]) -> str:
    pairs = []
    for part in _split(inner):
        key, _, value = part.partition("=")
        pairs.append(f"{key.strip()} = {_one(value.strip(), _taken((*path, key.strip())).reader)}")
    return f"{{ {', '.join(pairs)} }}"


def _split(text: str) -> list[str]:
    """What stands between the commas that are not in quotes."""
    parts = re.findall(r'(?:"[^"]*"|[^,"]|")+', text)
    return [part.strip() for part in parts if part.strip()]


def _one(value: str, reader: Reader | None) -> str:
    """One value as TOML has it; nothing for nothing."""
    if not value or _reads(f"x = {value}"):
        return value
    plain = value.strip("'\"") if value[0] in "\"'" and value.count(value[0]) <= 2 else value
    if plain.lower() in _ANSWERS and (reader is None or isinstance(reader, YesNo)):
        return _ANSWERS[plain.lower()]
    plain = _DECIMAL_COMMA.sub(r"\1.\2", plain) if plain[:1].isdigit() else plain
    return _number(plain, reader) or json.dumps(_spelled_out(plain), ensure_ascii=False)


def _number(text: str, reader: Reader | None) -> str:
    """A number without quotes, where the key takes nothing else or it is one as it stands."""
    if _PLAIN.fullmatch(text):
        return f"{float(text):g}" if len(text) < 9 else ""
    counted = _COUNT.fullmatch(text)
    bare = counted[1] if counted and not text.endswith("%") else text
    if not counted and not isinstance(reader, Number | OneOf):
        return ""
    try:
        number = read_number(bare)
    except UnitError:
        return ""
    return f"{float(number):g}" if Fraction(f"{float(number):g}") == number else ""


def _spelled_out(text: str) -> str:
    """Feet and inches in words: their marks are quotes in TOML."""
    if not text[:1].isdigit():
        return text
    return re.sub(r"(?<=[0-9])\s*(['\"])\s*", lambda mark: {"'": " ft ", '"': " in "}[mark[1]], text).strip()


def _taken(path: tuple[str, ...]) -> _Taken:
    form: type[Table] | None = NetForm
    for key in path[:-1]:
        field = form.model_fields.get(key) if form else None
        if field is not None:
            form = next((part for part in _parts(field.annotation) if _is_table(part)), None)
    last = form.model_fields.get(path[-1]) if form else None
    if last is None:
        return _Taken()
    parts = [*_parts(last.annotation), *last.metadata]
    reader = next((part for part in parts if isinstance(part, Reader)), None)
    return _Taken(reader, any(get_origin(part) is tuple for part in parts))


def _parts(annotation: object) -> list[Any]:
    """A type and all that it is made of."""
    return [annotation, *(part for argument in get_args(annotation) for part in _parts(argument))]


def _is_table(part: object) -> bool:
    return isinstance(part, type) and issubclass(part, Table)


def _reads(text: str) -> bool:
    try:
        tomllib.loads(text)
    except (ValueError, RecursionError):
        return False
    return True


def _told(line: str) -> str:
    """A line without the note behind it, for a message."""
    plain = line.strip()
    pair = _PAIR.match(plain)
    begun = pair[0] if pair else ""
    bare = begun + _parted(plain[len(begun) :].translate(_STRAIGHT))[0]
    as_typed = plain[: len(bare)]
    return "".join("?" if is_control(letter) else letter for letter in as_typed[:MOST_TOLD])
