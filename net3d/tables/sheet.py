"""Sheets: tables for the bench, printed and written from the same record.

Keys are for scripts and for the other rooms, and are never renamed; headings and notes are words for the
maker, and may be. Numbers are in SI, and their kind says how the maker's tape writes them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from net3d.units import Tape

Cell = str | int | float | None
NoteKind = Literal["caution", "how", "fact", "source"]


@dataclass(frozen=True)
class Column:
    """One column: its key, what the maker calls it, and the kind of its numbers.

    Parameters
    ----------
    key : snake_case, without a unit, never renamed
    heading : words for the maker
    kind : of its numbers, for the tape: ``"reading"``, ``"force"``; empty for counts, shares and words
    number : place in a series of columns that share a key, from 1; 0 for a column by itself
    told : whether people read it; else it is in files alone
    """

    key: str
    heading: str
    kind: str = ""
    number: int = 0
    told: bool = True

    @property
    def name(self) -> str:
        """Its key, numbered in a series: what scripts find it by.

        >>> Column("mark", "mark 2", "reading", number=2).name
        'mark_2'
        """
        return f"{self.key}_{self.number}" if self.number else self.key


@dataclass(frozen=True)
class Note:
    """A sentence below a table.

    Its kind: ``caution`` where work can hurt someone, ``how`` to do it or to read the table, ``fact`` of this
    net, ``source`` of its figures.
    """

    kind: NoteKind
    text: str


def noted(kind: NoteKind, *texts: str) -> tuple[Note, ...]:
    """Sentences of one kind."""
    return tuple(Note(kind, text) for text in texts)


@dataclass(frozen=True)
class Grid:
    """A sheet in words: what stands above its columns, its lines, and which columns hold sentences."""

    headings: tuple[str, ...]
    lines: tuple[tuple[str, ...], ...]
    wordy: tuple[bool, ...]


@dataclass(frozen=True)
class Sheet:
    """A table with a name, a title, the tape it is written by, and notes that the work at the bench needs.

    ``read_down`` sheets are printed with one column for each row, since that is how their long rows
    of readings are used; in a CSV file they stay rows.
    """

    name: str
    title: str
    tape: Tape
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[Note, ...] = ()
    read_down: bool = False

    @property
    def cautions(self) -> tuple[str, ...]:
        """Its notes on where the work can hurt someone."""
        return tuple(note.text for note in self.notes if note.kind == "caution")

    @property
    def remarks(self) -> tuple[str, ...]:
        """All its other notes."""
        return tuple(note.text for note in self.notes if note.kind != "caution")

    @property
    def records(self) -> tuple[dict[str, Cell], ...]:
        """Its rows by the names of the columns."""
        names = [column.name for column in self.columns]
        return tuple(dict(zip(names, row, strict=True)) for row in self.rows)

    def picked(self, keys: Sequence[str]) -> Sheet:
        """Only the columns of some keys, in the order of the keys. Raises KeyError for one that there is not.

        >>> steps = (Column("step", "step"), Column("work", "work"))
        >>> Sheet("order", "Order", Tape("in"), steps, ((1, "Knit."),)).picked(["work", "step"]).rows
        (('Knit.', 1),)
        """
        there = [column.key for column in self.columns]
        missing = [key for key in keys if key not in there]
        if missing:
            raise KeyError(f"{self.name} has no column {', '.join(missing)}")
        return self._kept([place for key in keys for place, own in enumerate(there) if own == key])

    def without(self, *keys: str) -> Sheet:
        """All columns but those of some keys."""
        return self._kept([place for place, column in enumerate(self.columns) if column.key not in keys])

    def filled(self) -> Sheet:
        """What people read of it: without the columns that are empty in every row or stand in files alone."""
        places = [place for place, column in enumerate(self.columns) if column.told]
        return self._kept(
            [place for place in places if any(row[place] not in (None, "") for row in self.rows)]
        )

    def grid(self, down: bool = False) -> Grid:
        """The sheet as the maker reads it; ``down``: a column for each row."""
        told = [place for place, column in enumerate(self.columns) if column.told]
        words = [self._in_words(place) for place in told]
        headings = tuple(heading for heading, _ in words)
        lines = tuple(zip(*(cells for _, cells in words), strict=True))
        if down:
            first, *others = zip(headings, *lines, strict=True)
            return Grid(first, tuple(others), (True, *[False] * len(lines)))
        wordy = tuple(any(isinstance(row[place], str) for row in self.rows) for place in told)
        return Grid(headings, lines, wordy)

    def _in_words(self, place: int) -> tuple[str, tuple[str, ...]]:
        """A column's heading with its unit, and its cells; of several units each cell has its own."""
        column, cells = self.columns[place], [row[place] for row in self.rows]
        texts = tuple(cell_text(cell, column.kind, self.tape) for cell in cells)
        spelled: dict[str, Callable[[float], str]] = {"cut": self.tape.length, "mass": self.tape.mass}
        told = spelled.get(column.kind)
        if told is None or not any(map(_has_letters, texts)):
            return self.tape.header(column.heading, column.kind), texts
        pairs = zip(cells, texts, strict=True)
        return column.heading, tuple(told(cell) if isinstance(cell, float) else text for cell, text in pairs)

    def _kept(self, places: list[int]) -> Sheet:
        columns = tuple(self.columns[place] for place in places)
        return replace(
            self, columns=columns, rows=tuple(tuple(row[place] for place in places) for row in self.rows)
        )


def _has_letters(text: str) -> bool:
    return any(map(str.isalpha, text))


def cell_text(cell: Cell, kind: str, tape: Tape) -> str:
    """A cell as the maker reads it; the unit stands above its column.

    >>> cell_text(0.0873, "reading", Tape("in")), cell_text(4, "", Tape("in"))
    ('3 7/16', '4')
    """
    if cell is None:
        return ""
    return str(cell) if isinstance(cell, str | int) else tape.cell(cell, kind)
