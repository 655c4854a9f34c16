"""Text as it is written on every system alike."""

from __future__ import annotations

from pathlib import Path


def write_text(path: Path, text: str) -> None:
    """Write a text as UTF-8 with the line ends that it has. Raises OSError if it cannot be written."""
    path.write_text(text, encoding="utf-8", newline="\n")
