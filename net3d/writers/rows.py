"""A table that grows row by row: what was written stays, whenever and however the work ends."""

from __future__ import annotations

import csv
import io
import os
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path

from net3d.errors import OutputError
from net3d.writers import drafts
from net3d.writers.csv_tables import safe
from net3d.writers.file import output_file, write_file

Cell = str | float | int | bool | None
END = b"\r\n"  # as in RFC 4180
DIGITS = 9  # of a number: what two processors can differ by stands further behind


class RowFile:
    """The file of a table whose rows are known by their first cell."""

    def __init__(self, path: Path, header: Sequence[str], known: Iterable[str]) -> None:
        """Read what is there; a last row that was torn while it was written is cut off.

        Raises ``OutputError`` where something else stands there, which is left as it is.
        """
        self.path, self.header = path, list(header)
        self.rows: dict[str, str] = {}
        try:
            self._take_up(set(known))
            self._file = path.open("ab")
        except OSError as error:
            raise _unwritten(path, error) from error

    def _take_up(self, known: set[str]) -> None:
        content = self.path.read_bytes()
        whole = content[: content.rfind(END) + len(END)] if END in content else b""
        head, *rows = whole.decode("utf-8", "replace").split(END.decode())[:-1] or [""]
        keys = [row.split(",", 1)[0] for row in rows]
        if next(csv.reader([head]), []) != self.header:
            raise self._other("it holds other columns")
        if strange := [key for key in keys if key not in known]:
            raise self._other(
                f"{len(strange)} of its {len(keys)} rows are of nets that are not asked for now"
            )
        self.rows = {key: row + END.decode() for key, row in zip(keys, rows, strict=True)}
        with self.path.open("r+b") as file:
            file.truncate(len(whole))

    def _other(self, why: str) -> OutputError:
        return OutputError(
            f"{self.path} is there already and {why}, so it cannot be gone on with; it was left as it is. "
            "Name another file with -o, or move it away."
        )

    def add(self, row: Sequence[Cell]) -> None:
        """Write a row so that it stays there. Raises ``OutputError`` if it cannot be written."""
        text = row_text(row)
        self.rows[str(row[0])] = text
        try:
            self._file.write(text.encode())
            self._file.flush()
            os.fsync(self._file.fileno())
        except OSError as error:
            raise _unwritten(self.path, error) from error

    def finish(self, order: Iterable[str]) -> None:
        """Put the rows in order, in one step."""
        self.close()
        write_file(self.path, row_text(self.header) + "".join(self.rows[key] for key in order))

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()


@contextmanager
def row_file(path: Path, header: Sequence[str], known: Iterable[str]) -> Iterator[RowFile]:
    """A table to add rows to, held against others who would add to it, too.

    Parameters
    ----------
    path : the file, taken up where it is there
    header : names of the columns
    known : the first cells of all rows that belong in it
    """
    if not path.exists():
        write_file(path, row_text(header), make_folder=True)
    held = drafts.claim(path)
    if held is None and sys.platform != "win32":
        raise OutputError(
            f"{path} cannot be read, or another sweep writes it: wait, or name another file with -o."
        )
    rows = None
    try:
        rows = RowFile(path, header, known)
        yield rows
    finally:
        if rows:
            rows.close()
        drafts.release(held)


def row_text(row: Sequence[Cell]) -> str:
    r"""A row as CSV, numbers in nine figures.

    >>> row_text(["a", 1 / 3, 40, None, True, "one, two"])
    'a,0.333333333,40,,true,"one, two"\r\n'
    """
    text = io.StringIO()
    csv.writer(text, lineterminator=END.decode()).writerow(map(_cell, row))
    return text.getvalue()


def _cell(cell: Cell) -> str:
    if isinstance(cell, bool):
        return "true" if cell else "false"
    if isinstance(cell, str):
        return safe(cell)
    return "" if cell is None else f"{cell:.{DIGITS}g}" if isinstance(cell, float) else str(cell)


def write_parquet(path: Path, table: Path, words: Sequence[str]) -> None:
    """Write a table of rows as Parquet too, columns of ``words`` as text whatever they hold."""
    from pyarrow import csv as reader  # noqa: PLC0415 - an extra
    from pyarrow import parquet, string  # noqa: PLC0415

    kinds = reader.ConvertOptions(column_types={name: string() for name in words})
    with output_file(path) as draft:
        parquet.write_table(reader.read_csv(table, convert_options=kinds), draft)


def need_parquet(path: Path) -> None:
    """Raise ``OutputError`` where Parquet cannot be written, before any work is done for it."""
    if find_spec("pyarrow") is None:
        raise OutputError(f"{path}: Parquet needs pip install 'net3d[parquet]'; CSV needs nothing.")


def _unwritten(path: Path, error: OSError) -> OutputError:
    return OutputError(f"{path}: cannot be written: {error.strerror or error}")
