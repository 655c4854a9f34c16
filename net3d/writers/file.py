"""A single output file: the old one or the new one, whole."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from net3d.errors import OutputError
from net3d.writers import drafts
from net3d.writers.text import write_text


@contextmanager
def output_file(path: Path, *, make_folder: bool = False) -> Iterator[Path]:
    """Give a new file to write in, and make it ``path`` when all went well.

    When anything goes wrong, or the command is interrupted, what stood at ``path`` stays as it was. Where a
    link stands there, what it leads to is replaced; a device or a pipe is written to as it is.

    Parameters
    ----------
    path : the file
    make_folder : whether to make the folder that it goes into, when that is missing

    Raises
    ------
    OutputError : the file cannot be written

    Example
    -------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as home:
    ...     with output_file(Path(home, "drag.svg")) as draft:
    ...         _ = draft.write_text("<svg/>", encoding="utf-8")
    ...     [path.name for path in Path(home).iterdir()]
    ['drag.svg']
    """
    made: list[Path] = []
    try:
        made = drafts.make_folder(path.parent) if make_folder else []
        if path.exists() and not path.is_file():
            yield path
        else:
            with _draft_of(Path(os.path.realpath(path))) as draft:
                yield draft
    except BaseException as error:
        drafts.remove_empty(made)
        if not isinstance(error, OSError):
            raise
        raise OutputError(f"{path}: cannot be written: {error.strerror or error}") from error


def write_file(path: Path, content: str | bytes, *, make_folder: bool = False) -> None:
    """Write what is at hand already as ``output_file`` does. Raises OutputError if it cannot be written."""
    with output_file(path, make_folder=make_folder) as draft:
        if isinstance(content, str):
            write_text(draft, content)
        else:
            draft.write_bytes(content)


def write_new_file(path: Path, text: str) -> None:
    """Write a text where nothing stands yet. Raises FileExistsError, or OSError if it cannot be written."""
    file = path.open("x", encoding="utf-8", newline="\n")
    try:
        with file:
            file.write(text)
    except BaseException:
        path.unlink()  # half a file would be in the way of the next try
        raise


@contextmanager
def _draft_of(target: Path) -> Iterator[Path]:
    with drafts.locked(target.parent):
        drafts.clear_dead_drafts(target.parent, target.name)
        draft = drafts.hidden_path(target.parent, target.name, "draft")
        _begin(draft, target)
        held = drafts.claim(draft)
    try:
        yield draft
        os.replace(draft, target)
    except BaseException:
        drafts.remove(draft)
        raise
    finally:
        drafts.release(held)


def _begin(draft: Path, target: Path) -> None:
    """Make the empty draft, as open to others as the file that it will replace."""
    if target.exists():
        with target.open("r+b"):  # refused here if the file that stands there may not be written
            pass
    draft.touch(exist_ok=False)
    if target.exists():
        shutil.copymode(target, draft)
