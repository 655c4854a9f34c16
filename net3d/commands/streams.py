"""Standard streams as a program may be started with them: closed, or without some letters."""

from __future__ import annotations

import errno
import io
import os
import sys

INPUT, OUTPUT, ERROR = 0, 1, 2


def ready_streams() -> None:
    """Put something behind streams that are closed, and let a terminal that lacks a letter show ? for it.

    A file that is opened later would else take the place of a closed stream, and what a library prints would
    go into it. What is asked for cannot be printed to a closed output, which must be said; messages that
    nobody hears are lost.
    """
    _occupy(INPUT, os.O_RDONLY)
    _occupy(OUTPUT, os.O_RDONLY)  # so that writing fails
    _occupy(ERROR, os.O_WRONLY)
    sys.stdout = sys.stdout or _open(OUTPUT)
    sys.stderr = sys.stderr or _open(ERROR)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def drop_unprinted() -> None:
    """Let go of what waits in vain to be printed: Python would try again when it ends, and end with 120."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def why_unprinted(error: OSError) -> str:
    """Why something could not be printed."""
    return "the output is closed" if error.errno == errno.EBADF else error.strerror or str(error)


def _occupy(number: int, flags: int) -> None:
    try:
        os.fstat(number)
    except OSError:
        os.open(os.devnull, flags)  # takes the lowest number that is free, and those below are taken


def _open(number: int) -> io.TextIOWrapper:
    return os.fdopen(number, "w", encoding="utf-8", closefd=False)
