"""Files to take along and comparisons, made in a process of their own that no change ends."""

from __future__ import annotations

import asyncio
import multiprocessing
import os
import signal
import threading
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path
from typing import Any, Final, TypeVar

from net3d.errors import NetError, ShapeError
from net3d.workshop.solving import warm_context

Made = TypeVar("Made")
FILES: Final = {
    "sheet.pdf": "application/pdf",
    "quote.pdf": "application/pdf",
    "page.html": "text/html",
    "net.glb": "model/gltf-binary",
    "picture.png": "image/png",
}


class Maker:
    """One process for all that takes its time and was asked for."""

    def __init__(self) -> None:
        self._pool: ProcessPoolExecutor | None = None

    async def make(self, text: str, path: Path, name: str) -> bytes:
        """A file made of a spec's text. Raises NetError where the net has no shape to make it of."""
        made: bytes = await self._run(_made, text, path, name)
        return made

    async def compare(self, one: tuple[str, Path], other: tuple[str, Path]) -> dict[str, Any]:
        """What differs between two nets, in keys and in what comes of them. Raises NetError likewise."""
        made: dict[str, Any] = await self._run(_compared, one, other)
        return made

    def close(self) -> None:
        """End the process."""
        if self._pool is not None:
            self._pool.shutdown(wait=False, cancel_futures=True)
            for process in list((self._pool._processes or {}).values()):
                process.kill()

    async def _run(self, work: Any, *asked: Any) -> Any:  # noqa: ANN401 - whatever the work gives
        if self._pool is None:
            self._pool = ProcessPoolExecutor(1, warm_context(), _begin)
        try:
            made = await asyncio.get_running_loop().run_in_executor(self._pool, work, *asked)
        except BrokenProcessPool:
            self._pool = None
            raise ShapeError("It could not be made; ask once more.") from None
        if isinstance(made, str):
            raise ShapeError(made)
        return made


def _begin() -> None:
    """Leave Ctrl-C to the server, and do not outlive it, however it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_server, daemon=True).start()


def _end_with_server() -> None:
    if server := multiprocessing.parent_process():
        server.join()
        os.kill(os.getpid(), signal.SIGTERM)


def _made(text: str, path: Path, name: str) -> bytes | str:
    from net3d.workshop.files import file_of  # noqa: PLC0415 - loaded in that process alone

    try:
        return file_of(text, path, name)
    except NetError as error:
        return str(error)


def _compared(one: tuple[str, Path], other: tuple[str, Path]) -> dict[str, Any] | str:
    from net3d.workshop.beside import beside  # noqa: PLC0415 - loaded in that process alone

    try:
        return beside(one, other)
    except NetError as error:
        return str(error)
