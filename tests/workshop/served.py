"""A server of a folder of nets, in a thread, on a port of its own."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import uvicorn
from starlette.applications import Starlette

from net3d.workshop.app import application
from net3d.workshop.connections import Connection
from net3d.workshop.folder import Folder
from net3d.workshop.serving import open_port


@contextmanager
def served(folder: Path) -> Iterator[tuple[Starlette, int]]:
    """The application, and its port."""
    app = application(Folder(folder))
    config = uvicorn.Config(
        app, http=Connection, lifespan="on", log_level="error", timeout_graceful_shutdown=1
    )
    server = uvicorn.Server(config)
    with open_port(0) as opened:
        thread = threading.Thread(target=server.run, kwargs={"sockets": [opened]})
        thread.start()
        try:
            yield app, opened.getsockname()[1]
        finally:
            app.state.pages.end()
            server.should_exit = True
            thread.join(10)
