"""The folder that is worked in: the specs and wanted lists in it, and nothing outside it."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from net3d.errors import OutputError
from net3d.spec.log import LOG
from net3d.spec.read import MAX_BYTES
from net3d.spec.shop import SHOP
from net3d.spec.wanted_text import is_wanted
from net3d.writers.file import write_new_file
from net3d.writers.names import checked_name

OTHERS = (SHOP, LOG)  # files of the folder that are no nets


class NotHereError(Exception):
    """A net that is not one of the folder's."""


@dataclass(frozen=True)
class Folder:
    """A folder of specs, each known by its file's name without its ending."""

    root: Path

    def names(self) -> list[str]:
        """The nets, by name; hidden files, the shop's, the log and links out of the folder are none."""
        return [path.stem for path in self._files() if not _is_list(path)]

    def lists(self) -> list[str]:
        """The wanted lists, by name."""
        return [path.stem for path in self._files() if _is_list(path)]

    def _files(self) -> list[Path]:
        files = [path for path in self.root.glob("*.toml") if path.name not in OTHERS and path.name[0] != "."]
        inside = self.root.resolve()
        return sorted(path for path in files if path.is_file() and path.resolve().parent == inside)

    def path(self, name: str) -> Path:
        """The file of a net. Raises NotHereError for any name but those of ``names``."""
        if name not in self.names():
            raise NotHereError(name)
        return self.root / f"{name}.toml"

    def list_path(self, name: str) -> Path:
        """The file of a wanted list. Raises NotHereError for any name but those of ``lists``."""
        if name not in self.lists():
            raise NotHereError(name)
        return self.root / f"{name}.toml"

    def add(self, title: str, text: str) -> str:
        """Write a new net under a name that its title gives, never over a file; gives the name.

        Raises OutputError where it cannot be written.
        """
        name = free_name(title, {path.stem.casefold() for path in self.root.glob("*.toml")})
        try:
            write_new_file(self.root / f"{checked_name(name)}.toml", text)
        except OSError as error:
            raise OutputError(f"{name}.toml: cannot be written: {error.strerror or error}") from error
        return name


def _is_list(path: Path) -> bool:
    try:
        state = path.stat()
        return state.st_size <= MAX_BYTES and _holds_list(path, state.st_mtime_ns, state.st_size)
    except (OSError, ValueError):
        return False


@lru_cache(maxsize=4096)
def _holds_list(path: Path, changed: int, size: int) -> bool:
    """Whether a file holds a wanted list, read once as long as it stays as it is."""
    return is_wanted(path.read_text("utf-8"))


def free_name(title: str, taken: set[str]) -> str:
    """A file's name for a title, none of those that are taken (in small letters).

    >>> free_name("Weir Net 36", {"weir-net-36"}), free_name("../../", set())
    ('weir-net-36-2', 'net')
    """
    letters = unicodedata.normalize("NFC", title).lower()
    words = "".join(letter if letter.isalnum() else " " for letter in letters).split()
    plain = "-".join(words)[:60].strip("-") or "net"
    plain = f"{plain}-net" if f"{plain}.toml" in OTHERS else plain
    numbered = (plain if number == 1 else f"{plain}-{number}" for number in range(1, len(taken) + 2))
    return next(name for name in numbered if name.casefold() not in taken)
