"""A page that is served to this machine alone and follows its spec."""

from __future__ import annotations

import socket
import time
import unicodedata
import uuid
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path

import anyio
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response, StreamingResponse
from starlette.routing import Route
from watchfiles import awatch

from net3d.chain import Design, shaped
from net3d.commands.printing import tell
from net3d.commands.reading import told_spec
from net3d.errors import NetError, SpecError
from net3d.page.page import Live, page_html
from net3d.page.picture import picture_webp
from net3d.spec import files_of
from net3d.workshop.serving import serve

HOSTS = ["127.0.0.1", "localhost"]
GUARDS = {
    "Cache-Control": "no-store",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}
SETTLED, AT_MOST = 20, 200  # ms: a save is over when the file rests so long; how long to wait for that
LOOKS = 0.05  # s between looks for news to tell


class Preview:
    """The last good net of a spec, its page, and what is wrong with the spec since then."""

    def __init__(self, path: Path) -> None:
        """Work the net out. Raises NetError when that cannot be done: there is nothing to show then."""
        self.path = path
        self.ended = False
        self.problems: tuple[str, ...] = ()
        self.files = files_of(path)
        self._drawn: tuple[Design, bytes] | None = None
        start = time.perf_counter()
        self.design = shaped(told_spec(path))
        self._show(start)

    def renew(self) -> None:
        """Read the spec again; one that cannot be used leaves the net as it was and says what is wrong."""
        start, self.files = time.perf_counter(), files_of(self.path)
        try:
            self.design, self.problems = shaped(told_spec(self.path)), ()
        except SpecError as error:
            whose = "" if error.source == str(self.path) else f"{error.source}, "
            self.problems = tuple(f"{whose}{problem}" for problem in error.problems)
        except NetError as error:
            self.problems = (str(error),)
        self._show(start)
        tell(self.said)

    def picture(self) -> bytes:
        """The picture of the net shown, drawn when it is asked for."""
        if self._drawn is None or self._drawn[0] is not self.design:
            self._drawn = self.design, picture_webp(self.design.at_work)
        return self._drawn[1]

    def _show(self, start: float) -> None:
        revision = uuid.uuid4().hex
        live = Live(revision, f"picture.webp?{revision}", self.problems)
        self.page = page_html(self.design, date.today(), live)
        self.revision = revision  # last, since who sees it asks for the page
        took = time.perf_counter() - start
        wrong = "\n  ".join(("The spec cannot be used; the net stays as it was.", *self.problems))
        self.said = wrong if self.problems else f"{self.design.spec.title}: worked out in {took:.1f} s."


def serve_preview(preview: Preview, opened: socket.socket) -> None:
    """Serve a preview until it is interrupted. Raises KeyboardInterrupt when all is closed."""

    def ending() -> None:
        preview.ended = True

    serve(application(preview), opened, ending)


def application(preview: Preview) -> Starlette:
    """The page, its picture and news of it; everything else is not found, and other hosts' names refused."""

    @asynccontextmanager
    async def following(_: Starlette) -> AsyncIterator[None]:
        async with anyio.create_task_group() as tasks:
            over = anyio.Event()
            tasks.start_soon(_follow, preview, over)
            yield
            over.set()
            tasks.cancel_scope.cancel()

    async def page(_: Request) -> Response:
        return HTMLResponse(preview.page, headers=GUARDS)

    async def picture(_: Request) -> Response:
        content = await anyio.to_thread.run_sync(preview.picture)
        return Response(content, media_type="image/webp", headers=GUARDS)

    async def changes(_: Request) -> Response:
        return StreamingResponse(_news(preview), media_type="text/event-stream", headers=GUARDS)

    app = Starlette(
        routes=[Route("/", page), Route("/picture.webp", picture), Route("/changes", changes)],
        middleware=[Middleware(TrustedHostMiddleware, allowed_hosts=HOSTS, www_redirect=False)],
        lifespan=following,
    )
    app.router.redirect_slashes = False
    return app


def same_name(one: str, other: str) -> bool:
    """Whether two names may mean one file: some systems take capitals as small, or split accents off.

    >>> same_name("Fluss.toml", "fluss.toml"), same_name("River.toml", "creek.toml")
    (True, False)
    """
    plain, other_plain = (unicodedata.normalize("NFC", name).casefold() for name in (one, other))
    return plain == other_plain


async def _follow(preview: Preview, over: anyio.Event) -> None:
    """Renew the preview whenever its spec or the shop's file is saved, by whatever way an editor saves."""
    folders = {file.absolute().parent for file in preview.files}
    changes = awatch(
        *(folder for folder in folders if folder.is_dir()),
        watch_filter=lambda _, changed: any(
            same_name(Path(changed).name, file.name) for file in preview.files
        ),
        debounce=AT_MOST,
        step=SETTLED,
        recursive=False,
        stop_event=over,
    )
    async for _ in changes:
        await anyio.to_thread.run_sync(preview.renew, abandon_on_cancel=True)


async def _news(preview: Preview) -> AsyncIterator[str]:
    """The revision at once, and every later one."""
    told = ""
    while not preview.ended:
        if preview.revision != told:
            told = preview.revision
            yield f"data: {told}\n\n"
        await anyio.sleep(LOOKS)
