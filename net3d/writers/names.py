"""Names of files and folders that every system takes: what is built here may be carried elsewhere."""

from __future__ import annotations

import unicodedata

from net3d.errors import OutputError

FORBIDDEN = frozenset('<>:"/\\|?*')
# Windows' names for devices, with any ending: https://learn.microsoft.com/windows/win32/fileio/naming-a-file
PORTS = [f"{port}{number}" for port in ("com", "lpt") for number in "0123456789¹²³"]
DEVICES = frozenset(("con", "prn", "aux", "nul", "conin$", "conout$", *PORTS))
STEERING = frozenset(("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"))  # turn text around


def checked_name(name: str) -> str:
    """The same name, if a file or folder can be called so on Linux, macOS and Windows.

    Raises ``OutputError`` where it cannot, with the reason.

    >>> checked_name("backwater-36")
    'backwater-36'
    """
    reason = _reason(name)
    if reason:
        raise OutputError(f"{name!r} is no name for a file or folder: {reason}. Take another, such as river.")
    return name


def steers(letter: str) -> bool:
    """Whether a letter would steer a terminal, or turn what follows around, instead of being printed.

    >>> steers(chr(27)), steers(chr(0x202E)), steers("é")
    (True, True, False)
    """
    return unicodedata.category(letter) == "Cc" or unicodedata.bidirectional(letter) in STEERING


def _reason(name: str) -> str:
    if not name or name.startswith(".") or name.startswith(" "):
        return "it must start with a letter or digit"
    if name[-1] in ". ":
        return "Windows drops a point or blank at its end"
    if forbidden := sorted(FORBIDDEN & set(name)):
        return f"it must not hold {' '.join(forbidden)}"
    if any(map(steers, name)):
        return "it holds letters that cannot be printed"
    if name.partition(".")[0].rstrip().lower() in DEVICES:
        return "Windows keeps it for a device"
    return ""
