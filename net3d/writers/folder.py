"""The output folder of a build: all of its files or none."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from net3d.errors import OutputError
from net3d.writers.build_files import BUILD_FILES
from net3d.writers.drafts import (
    claim,
    clear_dead_drafts,
    hidden_path,
    hidden_paths,
    locked,
    make_folder,
    release,
    remove,
    remove_empty,
    swapped,
)
from net3d.writers.names import checked_name

OWN = frozenset(file.name for file in BUILD_FILES)  # nothing else in a folder may be replaced


@contextmanager
def output_folder(parent: Path, name: str) -> Iterator[Path]:
    """Give a new empty folder to write in, and make it ``parent/name`` when all went well.

    When anything goes wrong, or the build is interrupted, what stood at ``parent/name`` stays as it
    was. A folder that holds anything other than an earlier build is never replaced.

    Parameters
    ----------
    parent : folder that holds the builds, made when missing
    name : name of the build

    Raises
    ------
    OutputError : the folder cannot be written, or is not an earlier build's

    Example
    -------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as home:
    ...     with output_folder(Path(home), "net") as folder:
    ...         _ = (folder / "report.json").write_text("{}", encoding="utf-8")
    ...     [path.name for path in Path(home, "net").iterdir()]
    ['report.json']
    """
    target = parent / checked_name(name)
    try:
        made = make_folder(parent)
        refuse_strangers(target)
        with locked(parent):
            _clear_dead_builds(parent, name)
            draft = _new_draft(parent, name)
            held = claim(draft)
    except OSError as error:
        raise OutputError(f"{target}: cannot be written: {error.strerror or error}") from error
    try:
        yield draft
        with locked(parent):
            _put_in_place(draft, target)
    except BaseException as error:
        remove(draft)
        remove_empty(made)
        if isinstance(error, OSError):
            raise OutputError(f"{target}: cannot be written: {error.strerror or error}") from error
        raise
    finally:
        release(held)


def refuse_strangers(target: Path) -> None:
    """Refuse a target that is a file, a link, or a folder with anything but a build's files in it.

    Raises
    ------
    OutputError : naming what is in the way and what to do
    """
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise OutputError(f"{target} is a file or a link, not a folder. Move it, or choose another with -o.")
    strangers = (
        sorted(path.name for path in target.iterdir() if path.name not in OWN or path.is_dir())
        if target.exists()
        else []
    )
    if strangers:
        raise OutputError(
            f"{target} holds what net3d did not write there: {', '.join(strangers[:5])}. "
            "A build replaces the whole folder, so move that out first, or choose another with -o."
        )


def _new_draft(parent: Path, name: str) -> Path:
    draft = hidden_path(parent, name, "draft")
    draft.mkdir()
    return draft


def _put_in_place(draft: Path, target: Path) -> None:
    refuse_strangers(target)
    if target.exists() and swapped(draft, target):
        remove(draft)  # which is the earlier build now
        return
    aside = hidden_path(target.parent, target.name, "before")
    try:
        if target.exists():
            target.rename(aside)
        draft.rename(target)
    except BaseException:
        if aside.exists() and not target.exists():
            aside.rename(target)
        raise
    remove(aside)


def _clear_dead_builds(parent: Path, name: str) -> None:
    target = parent / name
    for aside in hidden_paths(parent, name, "before"):
        if target.exists():
            remove(aside)
        else:
            aside.rename(target)
    clear_dead_drafts(parent, name)
