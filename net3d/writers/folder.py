"""The output folder of a build: all of its files or none."""

from __future__ import annotations

import os
import shutil
import sys
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from net3d.errors import OutputError

if sys.platform != "win32":
    import fcntl

TABLES = ("marks.csv", "cuts.csv", "materials.csv")
FILES = ("net.glb", "net.stl", *TABLES, "sheet.pdf", "picture.png", "side.svg", "page.html", "report.json")


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
    ...         _ = (folder / "report.json").write_text("{}")
    ...     [path.name for path in Path(home, "net").iterdir()]
    ['report.json']
    """
    target = parent / _checked_name(name)
    try:
        made = _make_parents(parent)
        refuse_strangers(target)
        with _locked(parent):
            _clear_dead_builds(parent, name)
            draft = _new_draft(parent, name)
            claim = _claim(draft)
    except OSError as error:
        raise OutputError(f"{target}: cannot be written: {error.strerror or error}") from error
    try:
        yield draft
        with _locked(parent):
            _put_in_place(draft, target)
    except BaseException as error:
        shutil.rmtree(draft, ignore_errors=True)
        _remove_empty(made)
        if isinstance(error, OSError):
            raise OutputError(f"{target}: cannot be written: {error.strerror or error}") from error
        raise
    finally:
        _release(claim)


def refuse_strangers(target: Path) -> None:
    """Refuse a target that is a file, a link, or a folder with anything but a build's files in it.

    Raises
    ------
    OutputError : naming what is in the way and what to do
    """
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise OutputError(f"{target} is a file or a link, not a folder. Move it, or choose another with -o.")
    strangers = (
        sorted(path.name for path in target.iterdir() if path.name not in FILES) if target.exists() else []
    )
    if strangers:
        raise OutputError(
            f"{target} holds what net3d did not write there: {', '.join(strangers[:5])}. "
            "A build replaces the whole folder, so move that out first, or choose another with -o."
        )


def _checked_name(name: str) -> str:
    if not name or name.startswith(".") or Path(name).name != name:
        raise OutputError(f"{name!r} is no name for a folder: rename the spec, for example river.toml.")
    return name


def _make_parents(parent: Path) -> list[Path]:
    missing = [folder for folder in (parent, *parent.parents) if not folder.exists()]
    parent.mkdir(parents=True, exist_ok=True)
    return missing


def _remove_empty(folders: list[Path]) -> None:
    for folder in folders:
        try:
            folder.rmdir()
        except OSError:
            return


def _new_draft(parent: Path, name: str) -> Path:
    draft = parent / f".{name}.draft-{uuid.uuid4().hex}"
    draft.mkdir()
    return draft


def _put_in_place(draft: Path, target: Path) -> None:
    refuse_strangers(target)
    aside = target.with_name(f".{target.name}.before-{uuid.uuid4().hex}")
    try:
        if target.exists():
            target.rename(aside)
        draft.rename(target)
    except BaseException:
        if aside.exists() and not target.exists():
            aside.rename(target)
        raise
    shutil.rmtree(aside, ignore_errors=True)


def _clear_dead_builds(parent: Path, name: str) -> None:
    target = parent / name
    for aside in parent.glob(f".{_literal(name)}.before-*"):
        if target.exists():
            shutil.rmtree(aside, ignore_errors=True)
        else:
            aside.rename(target)
    for draft in parent.glob(f".{_literal(name)}.draft-*"):
        claim = _claim(draft)
        if claim is not None:
            shutil.rmtree(draft, ignore_errors=True)
            _release(claim)


def _literal(name: str) -> str:
    return "".join(f"[{letter}]" if letter in "*?[" else letter for letter in name)


@contextmanager
def _locked(folder: Path) -> Iterator[None]:
    """Hold a folder against other builds; the system lets go when the process ends, however it ends."""
    if sys.platform == "win32":
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def _claim(draft: Path) -> int | None:
    """Mark a draft as alive; None when its build still runs (or on a system that cannot tell)."""
    if sys.platform == "win32":
        return None
    handle = os.open(draft, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        return None
    return handle


def _release(claim: int | None) -> None:
    if claim is not None:
        os.close(claim)
