"""Who may ask: this server's pages, under this machine's own name; who may change: those with its secret."""

from __future__ import annotations

import hmac
import json
from typing import Any

import anyio
from starlette.datastructures import Headers
from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Receive, Scope, Send

HOSTS = ("127.0.0.1", "localhost")
GUARDS = {
    "Cache-Control": "no-store",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "same-origin",  # with none, browsers do not say whose page asks
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}
MOST = 100_000  # bytes of what is posted
PATIENCE = 10.0  # s for all of it


class RefusedError(Exception):
    """A request that is not followed."""

    def __init__(self, message: str, status: int = 400) -> None:
        super().__init__(message)
        self.status = status


class Guard:
    """Before every answer: the host asked for is this machine, and no other site's page asks."""

    def __init__(self, app: ASGIApp, secret: str) -> None:
        self.app, self.secret = app, secret

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or refuse."""
        if scope["type"] == "http" and (why := self._amiss(scope["method"], Headers(scope=scope))):
            refusal = PlainTextResponse(why, status_code=400 if "host" in why else 403, headers=GUARDS)
            return await refusal(scope, receive, send)
        return await self.app(scope, receive, send)

    def _amiss(self, method: str, headers: Headers) -> str:
        host, origin = headers.get("host", ""), headers.get("origin")
        if host.partition(":")[0] not in HOSTS:
            return "This host is not served."
        if origin is not None and origin != f"http://{host}":
            return "Only this server's own pages may ask."
        if method in ("GET", "HEAD"):
            return ""
        given = headers.get("x-secret", "").encode()
        if origin is None or not hmac.compare_digest(given, self.secret.encode()):
            return "Only this server's own pages may change anything: open the page anew."
        return ""


async def posted(request: Request) -> dict[str, Any]:
    """What was posted. Raises RefusedError where it is too much, not JSON, or does not come."""
    content = b""
    try:
        with anyio.fail_after(PATIENCE):
            async for part in request.stream():
                content += part
                if len(content) > MOST:
                    raise RefusedError(f"More than {MOST:,} bytes were sent.", 413)
        asked = json.loads(content)
    except TimeoutError:
        raise RefusedError("The rest of the request did not come.", 408) from None
    except (ClientDisconnect, ValueError, RecursionError):
        raise RefusedError("What was sent is not JSON.") from None
    if not isinstance(asked, dict):
        raise RefusedError("What was sent is no object.")
    return asked
