"""Keys and values in the text of one table, changed where they stand: comments and layout stay."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import reduce
from itertools import takewhile
from operator import getitem
from typing import Any

import tomlkit
from tomlkit.items import InlineTable, Item

Typed = Mapping[str, Any]
Path = tuple[str, ...]


def retyped_pairs(text: str, old: Typed, new: Typed, newline: str) -> str:
    r"""The text of a table's keys with some of them changed, added or taken away.

    Parameters
    ----------
    text : lines of keys and values
    old : those of its keys that change or go, as they are typed
    new : those of its keys that change or come, as they are to be typed
    newline : how lines end

    Examples
    --------
    >>> old, new = {"rod": 1, "flip": True}, {"rod": "3/4", "turn": 2}
    >>> retyped_pairs("rod  = 1 # thick\nflip = true\n", old, new, "\n")
    'rod  = "3/4" # thick\nturn = 2\n'
    """
    kept = text
    known = {key: value for key, value in new.items() if key in old}
    for path, before, after in _steps(tomlkit.parse(text), old, known):
        page = tomlkit.parse(kept)  # anew: dotted keys lose their places when one of them goes
        holder = reduce(getitem, path, page)
        _retype_keys(holder, before, after)
        kept = page.as_string()
    lines = new_pairs({key: value for key, value in new.items() if key not in old}, text, newline)
    return kept + (newline if lines and kept and not kept.endswith("\n") else "") + lines


def _steps(page: Any, old: Typed, new: Typed, path: Path = ()) -> Iterator[tuple[Path, Typed, Typed]]:  # noqa: ANN401
    """Changes of one key at a time: the tables it is in, and what they hold of it before and after.

    What goes comes last, since a table of dotted keys goes with the last of them.
    """
    for key, after in new.items():
        before = old.get(key)
        tables = isinstance(before, Mapping) and isinstance(after, Mapping)
        if tables and not isinstance(page[key], InlineTable):
            yield from _steps(page[key], before or {}, after, (*path, key))
        elif key not in old or not alike(before, after):
            yield path, {key: before} if key in old else {}, {key: after}
    for key in old:
        if key not in new:
            yield path, {key: old[key]}, {}


def new_pairs(keys: Typed, like: str, newline: str) -> str:
    r"""The text of a table's keys, laid out like those of another table; in line where that has none.

    >>> new_pairs({"rod": 1, "material": "oak"}, "across   = 3\nmaterial = 4\n", "\n")
    'rod      = 1\nmaterial = "oak"\n'
    """
    column, indent = _layout(like)
    if column or not like:
        column = max([column, *(len(key_name(key)) for key in keys)])
    return "".join(f"{indent}{key_name(key):<{column}} = {literal(keys[key])}{newline}" for key in keys)


def literal(value: Any) -> str:  # noqa: ANN401 - anything that is typed
    """A value on one line of TOML.

    >>> literal({"deep": [5.5, "6"], "weight": True})
    '{ deep = [5.5, "6"], weight = true }'
    """
    if isinstance(value, Mapping):
        return _braced([f"{key_name(key)} = {literal(inner)}" for key, inner in value.items()])
    if isinstance(value, list):
        return f"[{', '.join(map(literal, value))}]"
    return str(tomlkit.item(value).as_string())


def alike(one: Any, other: Any) -> bool:  # noqa: ANN401 - anything that is typed
    """Whether two values are typed alike: 1 is neither 1.0 nor true.

    >>> alike([1, {"a": 2.0}], [1, {"a": 2.0}]), alike(1, 1.0)
    (True, False)
    """
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(alike(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(alike, one, other))
    return type(one) is type(other) and bool(one == other)


def _layout(text: str) -> tuple[int, str]:
    """The column that a table's signs of equality stand in, 0 where they do not, and its keys' indent."""
    keys = [(key, item) for key, item in tomlkit.parse(text).body if key and not key.is_dotted()]
    columns = {len(key.as_string() + key.sep.partition("=")[0]) - 1 for key, _ in keys}
    column = columns.pop() if len(columns) == 1 and len({key.key for key, _ in keys}) > 1 else 0
    return column, keys[0][1].trivia.indent if keys else ""


def key_name(name: str) -> str:
    """A key as it is written, in quotes where it must be."""
    return tomlkit.key(name).as_string().strip()


def _braced(parts: Sequence[str]) -> str:
    return "{ " + ", ".join(parts) + " }" if parts else "{}"


def _retype_keys(table: Any, old: Typed, new: Typed) -> None:  # noqa: ANN401 - any of tomlkit's tables
    for key in new:
        if key not in old:
            table[key] = _item(new[key])
        elif not alike(old[key], new[key]):
            _retype(table, key, old[key], new[key])
    for key in old:  # last: a table of dotted keys loses its places when one of them goes
        if key not in new:
            del table[key]


def _retype(holder: Any, key: str | int, old: Any, new: Any) -> None:  # noqa: ANN401
    """Change a value where it stands, and no more of it than changes."""
    item = holder[key]
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        if isinstance(item, InlineTable) and old.keys() != new.keys():
            holder[key] = tomlkit.value(_with_keys(item, new))
            old = {name: old.get(name, new[name]) for name in new}
        _retype_keys(holder[key], old, new)
    elif isinstance(old, list) and isinstance(new, list):
        _retype_list(holder, key, old, new)
    else:
        holder[key] = _item(new)


def _item(value: Any) -> Item:  # noqa: ANN401
    return tomlkit.value(literal(value))


def _with_keys(table: InlineTable, new: Typed) -> str:
    """The text of an inline table with these keys, those that it has already as they are."""
    own = {key.key: f"{key.as_string()}{key.sep}{_text(item)}" for key, item in table.value.body if key}
    kept = [text for key, text in own.items() if key in new]
    return _braced(
        kept + [f"{key_name(key)} = {literal(value)}" for key, value in new.items() if key not in own]
    )


def _retype_list(holder: Any, key: str | int, old: list[Any], new: list[Any]) -> None:  # noqa: ANN401
    """Change what is between the entries at either end that stay."""
    array = holder[key]
    first = _kept(old, new)
    last = min(_kept(old[::-1], new[::-1]), len(old) - first, len(new) - first)
    before, after = old[first : len(old) - last], new[first : len(new) - last]
    for place, (one, other) in enumerate(zip(before, after, strict=False), start=first):
        if not alike(one, other):
            _retype(array, place, one, other)
    place = first + min(len(before), len(after))
    if len(before) != len(after) and "\n" not in array.as_string():
        entries = [_text(entry) for entry in array]
        entries[place : len(old) - last] = [literal(value) for value in after[len(before) :]]
        holder[key] = tomlkit.value(f"[{', '.join(entries)}]")
        return
    for _ in range(len(before) - len(after)):
        del array[place]
    for value in reversed(after[len(before) :]):
        array.insert(place, _item(value))


def _kept(old: list[Any], new: list[Any]) -> int:
    return len(list(takewhile(bool, map(alike, old, new))))


def _text(item: Any) -> str:  # noqa: ANN401 - tomlkit hands out plain booleans
    return str(item.as_string()).strip() if isinstance(item, Item) else literal(item)
