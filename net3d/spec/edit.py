"""Changes made to what was typed: keys set and taken away, tables added, moved and taken away."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final, get_origin

from net3d.spec.draft import model_in
from net3d.spec.faults import Fault
from net3d.spec.form import NetForm
from net3d.spec.keys import Path, key_path
from net3d.spec.locate import headers, locate
from net3d.spec.measures import MAX_HOOPS
from net3d.spec.report import model_at
from net3d.spec.spec import Source
from net3d.spec.wording import shown

Origin = tuple[str, int]  # key and number from 0 of a table as it was typed

# The tables of which there may be several: [[hoop]] and the like.
LISTED: Final = {
    key: model
    for key, field in NetForm.model_fields.items()
    if get_origin(field.annotation) is tuple and (model := model_in(field.annotation))
}
_GONE: Final = object()


@dataclass(frozen=True)
class Edited:
    """What is typed after changes, where each listed table comes from, and which changes lead nowhere."""

    typed: dict[str, Any]
    origins: dict[str, list[Origin | None]]  # None: a new table
    astray: list[Fault]


def edited(typed: Mapping[str, object], changes: Mapping[str, object]) -> Edited:
    """What was typed with changes made to it; the rules are not asked.

    Examples
    --------
    >>> edited({"hoop": [{"rod": 1, "repeat": 3}]}, {"hoop.2.rod": 2}).typed
    {'hoop': [{'rod': 1}, {'rod': 2}, {'rod': 1}]}
    """
    edit = _Edit(typed)
    edit.make(changes)
    return edit.made()


def each_standing(key: str, tables: object) -> Iterator[tuple[Any, int]]:
    """Every listed table by itself, repeats one by one, with the number of its table from 0.

    Whatever is no table, or is repeated too often, is left as it is.

    Examples
    --------
    >>> list(each_standing("hoop", [{"rod": 1, "repeat": 2}, {"rod": 2}]))
    [({'rod': 1}, 0), ({'rod': 1}, 0), ({'rod': 2}, 1)]
    """
    room = MAX_HOOPS
    for number, table in enumerate(tables if isinstance(tables, list) else ()):
        count = _repeats(key, table)
        if 1 < count <= room:
            one = {name: value for name, value in table.items() if name != "repeat"}
            yield from ((one, number) for _ in range(count))
        else:
            yield table, number
        room -= count


def place_in(source: Source, key: str) -> str:
    r"""Where in a text a key, as changes count it, is typed or is to be; empty where it has no one place.

    Examples
    --------
    >>> text = "[tail]\ndeep = 8\n[[hoop]]\nrod = 1\nrepeat = 2\n"
    >>> source = Source("spec", text, {"tail": {"deep": 8}, "hoop": [{"rod": 1, "repeat": 2}]})
    >>> [place_in(source, key) for key in ("tail.deep", "tail.around", "hoop.2.rod", "built.wet")]
    ['line 2', 'below line 1', '', '']
    """
    path = key_path(key) or ()
    if len(path) > 1 and path[0] in LISTED and isinstance(path[1], int):
        numbers = [number for _, number in each_standing(path[0], source.typed.get(path[0]))]
        if path[1] >= len(numbers) or numbers.count(numbers[path[1]]) > 1:
            return ""
        path = (path[0], numbers[path[1]], *path[2:])
    lines, tables = locate(source.text), {table for _, table in headers(source.text)}
    above = next((one for one in (path[:length] for length in range(len(path), 0, -1)) if one in lines), None)
    if above is None or source.moved:
        return ""
    return f"{'below ' if above in tables else ''}line {lines[above]}"


def plain(value: Any) -> Any:  # noqa: ANN401 - anything that is typed
    """A copy of what is typed; keys that are None are left out."""
    if isinstance(value, Mapping):
        return {str(key): plain(inner) for key, inner in value.items() if inner is not None}
    return [plain(inner) for inner in value] if isinstance(value, list | tuple) else value


def _repeats(key: str, table: Any) -> int:  # noqa: ANN401 - anything that is typed
    """How many a table is for; 1 as well where that cannot be known."""
    may = isinstance(table, Mapping) and "repeat" in LISTED[key].model_fields
    count = table.get("repeat", 1) if may else 1
    return count if isinstance(count, int) and not isinstance(count, bool) and 0 < count <= MAX_HOOPS else 1


class _Entry(dict[str, Any]):
    """A listed table by itself, which may have shared its text with others by ``repeat``."""

    def __init__(self, keys: Mapping[str, Any], origin: Origin, shared: bool) -> None:
        super().__init__(plain(keys))
        self.origin = origin
        self.shared = shared
        self.repeat: object = _GONE  # what a change makes of the repeat that it stands for

    def again(self, form: str) -> _Entry:
        """The same table once more, with those of its keys that another form has too."""
        known = LISTED[form].model_fields
        keys = {key: value for key, value in self.items() if key in known}
        return _Entry(keys, self.origin, self.shared)


class _AstrayError(Exception):
    """A change that cannot be followed."""

    def __init__(self, path: Path, message: str) -> None:
        super().__init__(message)
        self.fault = Fault(path, message)


class _Edit:
    def __init__(self, typed: Mapping[str, object]) -> None:
        self.was = {key: _entries(key, typed[key]) for key in LISTED if key in typed}
        self.typed = plain({key: value for key, value in typed.items() if key not in self.was})
        self.typed |= {key: [entry.again(key) for entry in entries] for key, entries in self.was.items()}
        self.thinned: list[list[Any]] = []
        self.astray: list[Fault] = []

    def make(self, changes: Mapping[str, object]) -> None:
        """Make the changes, those of whole tables before those of their keys."""
        paths = {path: plain(value) for key, value in changes.items() if (path := key_path(key))}
        self.astray += [Fault((key,), _NO_KEY) for key in changes if not key_path(key)]
        for path in sorted(paths, key=_order):
            try:
                self._change(path, paths[path])
            except _AstrayError as astray:
                self.astray.append(astray.fault)

    def made(self) -> Edited:
        """What is typed now."""
        for entries in self.thinned:
            entries[:] = [entry for entry in entries if entry is not _GONE]
        emptied = {key for key in LISTED if not self.typed.get(key, True) and self.typed[key] in self.thinned}
        typed = {key: value for key, value in self.typed.items() if key not in emptied}
        listed = {key: _joined(typed[key]) for key in LISTED if isinstance(typed.get(key), list)}
        typed |= {key: [table for table, _ in tables] for key, tables in listed.items()}
        return Edited(typed, {key: [origin for _, origin in one] for key, one in listed.items()}, self.astray)

    def _change(self, path: Path, value: object) -> None:
        holder: Any = self.typed
        for length in range(1, len(path)):
            holder = self._inside(holder, path[:length], make=value is not None)
            if holder is None:
                return
        if path[0] in LISTED and len(path) <= 2:
            value = self._named(path, value)
        if isinstance(holder, _Entry) and holder.shared and path[2:] == ("repeat",):
            holder.repeat = value
        elif isinstance(holder, dict):
            _set_key(holder, path[-1], value)
        else:
            self._set_entry(holder, path, value)

    def _inside(self, holder: Any, path: Path, make: bool) -> Any:  # noqa: ANN401
        """What stands at the end of a path, in its holder; made where it is missing, or else None."""
        if isinstance(holder, dict):
            if make:
                holder.setdefault(_word(path[-1]), [] if _is_list(path) else {})
            return holder.get(_word(path[-1]))
        number = _number(holder, path, make)
        if number == len(holder):
            holder.append({})
        if holder[number] is _GONE:
            raise _AstrayError(path, "is taken away by another change: make one of the two")
        return holder[number]

    def _set_entry(self, holder: Any, path: Path, value: object) -> None:  # noqa: ANN401
        number = _number(holder, path, make=value is not None)
        holder[number : number + 1] = [_GONE if value is None else value]
        if value is None:
            self.thinned.append(holder)

    def _named(self, path: Path, value: Any) -> Any:  # noqa: ANN401
        """A listed table, or a list of them; those that are named by number or key as they were."""
        if len(path) == 1 and isinstance(value, list):
            return [self._named((*path, number), item) for number, item in enumerate(value)]
        if len(path) == 1 or isinstance(value, bool) or not isinstance(value, int | str):
            return value
        key, number = (str(path[0]), value - 1) if isinstance(value, int) else _reference(value)
        if 0 <= number < len(self.was.get(key, ())):
            return self.was[key][number].again(str(path[0]))
        raise _AstrayError(path, f"{shown(value)} names no table: {_HOW_TO_NAME}")


_NO_KEY = "is not a key: write it as in throat.1.strings.length"
_HOW_TO_NAME = 'write a table, or the number of one such as 2, or its key such as "pile.1"'


def _entries(key: str, tables: object) -> list[_Entry]:
    each = list(each_standing(key, tables))
    sharing = Counter(number for _, number in each)
    return [_Entry(table, (key, number), shared=sharing[number] > 1) for table, number in each]


def _reference(name: str) -> tuple[str, int]:
    match key_path(name):
        case (str() as key, int() as number):
            return key, number
    return "", -1


def _order(path: Path) -> tuple[object, ...]:
    return (len(path), *((isinstance(step, int), step) for step in path))


def _word(step: str | int) -> str:
    """A step as a name: own twines may be called by a number."""
    return str(step + 1) if isinstance(step, int) else step


def _is_list(path: Path) -> bool:
    """Whether a list belongs at a path, and no table."""
    field = model_at(path[:-1]).model_fields.get(str(path[-1]))
    return field is not None and get_origin(field.annotation) is tuple


def _set_key(table: dict[str, Any], step: str | int, value: object) -> None:
    if value is None:
        table.pop(_word(step), None)
    else:
        table[_word(step)] = value


def _number(holder: object, path: Path, make: bool) -> int:
    """The number from 0 of an entry in its list, or the next one where it may be made."""
    if not isinstance(holder, list):
        raise _AstrayError(path[:-1], f"{shown(holder)} is given here, and it holds no keys")
    count, number = len(holder), path[-1]
    if isinstance(number, int) and number < count + make:
        return number
    known = f"they are counted from 1 to {count}" if count else "there is none yet"
    more = f"{count + 1} adds one" if make else "no other can be taken away"
    raise _AstrayError(path, f"there is no such entry: {known}, and {more}")


def _joined(entries: list[Any]) -> list[tuple[Any, Origin | None]]:
    """Tables again, those that shared one and still say the same as one."""
    runs: list[list[Any]] = []
    for entry in entries:
        if runs and isinstance(entry, _Entry) and _share(runs[-1][0], entry):
            runs[-1].append(entry)
        else:
            runs.append([entry])
    return [(_run(run), run[0].origin if isinstance(run[0], _Entry) else None) for run in runs]


def _share(one: object, entry: _Entry) -> bool:
    return isinstance(one, _Entry) and entry.shared and one.origin == entry.origin and one == entry


def _run(run: list[Any]) -> Any:  # noqa: ANN401
    if not isinstance(run[0], _Entry):
        return run[0]
    said = [entry.repeat for entry in run if entry.repeat is not _GONE]
    repeat = said[0] if said else len(run) if len(run) > 1 else None
    return dict(run[0]) | ({} if repeat is None else {"repeat": repeat})
