"""What the workshop answers: its pages, news of a net, and what is to be done to it."""

from __future__ import annotations

import secrets
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from typing import Any

import anyio
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from net3d.errors import NetError
from net3d.workshop.folder import Folder, NotHereError
from net3d.workshop.guard import GUARDS, Guard, RefusedError, posted
from net3d.workshop.making import FILES, Maker
from net3d.workshop.pages import nets_page, start_page, wanting_page, work_page
from net3d.workshop.phone import Gate, Phone
from net3d.workshop.shop import Workshop
from net3d.workshop.wanting import Wanting
from net3d.workshop.work import Work, told_problems

LOOKS = 0.04  # s between looks for news to tell
ABOUT = {"picture.webp": "image/webp", "about.json": "application/json"}
FILE_LOOKS = 0.2  # s between looks at the file on disk
Answer = Callable[[Request], Awaitable[Response]]


def application(folder: Folder, phone: Phone | None = None) -> Starlette:
    """The workshop of a folder; whatever is not one of its pages is not found. A ``phone`` may read."""
    return _Pages(folder, phone).application()


class _Pages:
    def __init__(self, folder: Folder, phone: Phone | None) -> None:
        self.phone = phone
        self.secret = secrets.token_urlsafe(32)
        self.shop = Workshop(folder)
        self.maker = Maker()
        self.wanting = Wanting(folder)
        self.one = anyio.Lock()  # changes are made one after the other
        self.ended = False

    def application(self) -> Starlette:
        routes = [
            Route("/", self._start),
            Route("/new", self._asked(self._new), methods=["POST"]),
            Route("/wanted", self._list),
            Route("/wanted/{name}", self._list),
            Route("/wanted/search/{number:int}/{since:int}", self._searched),
            Route("/wanted/{deed}", self._asked(self._want), methods=["POST"]),
            Route("/net/{name}", self._work),
            Route("/net/{name}/news", self._news),
            Route("/net/{name}/about/{file}", self._kept),
            Route("/net/{name}/bench", self._made(self._bench)),
            Route("/net/{name}/take/{file}", self._made(self._take)),
            Route("/net/{name}/beside/{other}", self._made(self._beside)),
            Route("/net/{name}/{deed}", self._asked(self._do), methods=["POST"]),
        ]
        guards = [Middleware(Guard, secret=self.secret)]
        if self.phone is not None:
            read = [Route("/", self._nets), Route("/net/{name}", self._made(self._bench))]
            guards.insert(0, Middleware(Gate, phone=self.phone, pages=Starlette(routes=read)))
        app = Starlette(routes=routes, middleware=guards, lifespan=self._life)
        app.router.redirect_slashes = False
        app.state.pages = self
        return app

    @asynccontextmanager
    async def _life(self, _: Starlette) -> AsyncIterator[None]:
        try:
            yield
        finally:
            self.ended = True
            self.shop.close()
            self.maker.close()
            self.wanting.close()

    def end(self) -> None:
        """Let open streams of news end."""
        self.ended = True

    async def _start(self, _: Request) -> Response:
        return self._begin()

    def _begin(self, problem: str = "") -> Response:
        folder = self.shop.folder
        return HTMLResponse(start_page(folder.names(), folder.lists(), self.secret, problem), headers=GUARDS)

    async def _list(self, request: Request) -> Response:
        """The page of a wanted list, or of one to begin with."""
        try:
            opened = self.wanting.opened(request.path_params.get("name", ""))
        except NotHereError:
            return _missing()
        except NetError as error:
            return self._begin(str(error))
        return HTMLResponse(wanting_page(opened, self.secret), headers=GUARDS)

    async def _searched(self, request: Request) -> Response:
        """How far the search for nets of a wanted list is."""
        asked = request.path_params
        return JSONResponse(self.wanting.told(asked["number"], asked["since"]), headers=GUARDS)

    async def _want(self, request: Request) -> Response:
        asked = await posted(request)
        async with self.one:
            try:
                done = await anyio.to_thread.run_sync(self.wanting.do, request.path_params["deed"], asked)
            except NotHereError:
                return _missing()
        return JSONResponse(done, headers=GUARDS)

    async def _work(self, request: Request) -> Response:
        try:
            work = await self._opened(request)
        except NetError as error:
            return self._begin(str(error))
        if work is None:
            return _missing()
        others = [name for name in self.shop.folder.names() if name != work.path.stem]
        return HTMLResponse(work_page(work.path.stem, others, self.secret, self.phone), headers=GUARDS)

    async def _nets(self, _: Request) -> Response:
        """What a phone may read."""
        return HTMLResponse(nets_page(self.shop.folder.names()), headers=GUARDS)

    async def _bench(self, request: Request) -> Response:
        """The net's page, made of what is seen."""
        work = await self._opened(request)
        if work is None:
            return _missing()
        return HTMLResponse(await self.maker.make(work.text, work.path, "page.html"), headers=GUARDS)

    async def _opened(self, request: Request) -> Work | None:
        try:
            async with self.one:
                return await anyio.to_thread.run_sync(self.shop.open, request.path_params["name"])
        except NotHereError:
            return None

    async def _news(self, request: Request) -> Response:
        work = await self._opened(request)
        if work is None:
            return _missing()
        return StreamingResponse(self._told(work), media_type="text/event-stream", headers=GUARDS)

    async def _told(self, work: Work) -> AsyncIterator[str]:
        """The newest of every kind of news at once, and every later one."""
        since, looked = 0, 0.0
        while not self.ended:
            for tick, kind, payload in work.news(since):
                since = tick
                yield f"event: {kind}\ndata: {payload}\n\n"
            await anyio.sleep(LOOKS)
            if (looked := looked + LOOKS) >= FILE_LOOKS:
                looked = 0.0
                async with self.one:
                    await anyio.to_thread.run_sync(work.look)

    async def _do(self, request: Request) -> Response:
        work = await self._opened(request)
        if work is None:
            return _missing()
        asked = await posted(request)
        async with self.one:
            done = await anyio.to_thread.run_sync(self.shop.do, work, request.path_params["deed"], asked)
        return JSONResponse(done, headers=GUARDS)

    async def _new(self, request: Request) -> Response:
        asked = await posted(request)
        async with self.one:
            return JSONResponse(
                {"name": await anyio.to_thread.run_sync(self.shop.new, asked)}, headers=GUARDS
            )

    async def _kept(self, request: Request) -> Response:
        """Picture or sizes of what stands in the file: the start page shows what is kept."""
        file = request.path_params["file"]
        try:
            if file not in ABOUT:
                return _missing()
            path = self.shop.folder.path(request.path_params["name"])
            text = path.read_text("utf-8")
            content = await self.maker.make(text, path, file)
        except (NotHereError, NetError, OSError, ValueError):
            return _missing()
        return Response(content, media_type=ABOUT[file], headers=GUARDS)

    async def _take(self, request: Request) -> Response:
        """A file made of what is seen."""
        name, work = request.path_params["file"], await self._opened(request)
        if work is None or name not in FILES:
            return _missing()
        content = await self.maker.make(work.text, work.path, name)
        told = {**GUARDS, "Content-Disposition": f'attachment; filename="{name}"'}
        return Response(content, media_type=FILES[name], headers=told)

    async def _beside(self, request: Request) -> Response:
        """What differs between a net and another, or itself as it is kept."""
        work = await self._opened(request)
        other = await anyio.to_thread.run_sync(self.shop.text_of, request.path_params["other"])
        if work is None or other is None:
            return _missing()
        return JSONResponse(await self.maker.compare((work.text, work.path), other), headers=GUARDS)

    @staticmethod
    def _made(answer: Answer) -> Answer:
        """An answer that is told in a sentence where it cannot be made."""

        async def guarded(request: Request) -> Response:
            try:
                return await answer(request)
            except NetError as error:
                return Response(str(error), status_code=422, media_type="text/plain", headers=GUARDS)

        return guarded

    @staticmethod
    def _asked(answer: Answer) -> Answer:
        """An answer whose refusals are told as what is wrong, with the keys of the boxes."""

        async def guarded(request: Request) -> Response:
            try:
                return await answer(request)
            except RefusedError as error:
                return JSONResponse(_wrong(error), status_code=error.status, headers=GUARDS)
            except NetError as error:
                return JSONResponse({"problems": told_problems(error)}, status_code=422, headers=GUARDS)

        return guarded


def _wrong(error: Exception) -> dict[str, Any]:
    return {"problems": [{"key": "", "message": str(error)}]}


def _missing() -> Response:
    return Response("There is nothing here.", status_code=404, media_type="text/plain", headers=GUARDS)
