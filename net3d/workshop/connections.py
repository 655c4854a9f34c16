"""Connections to the page's server: who asks for nothing is hung up on; of too many, the longest idle."""

from __future__ import annotations

import asyncio

from uvicorn.protocols.http.h11_impl import H11Protocol

PATIENCE = 10.0  # s for a whole request, from the connection or from the answer before
MOST = 64  # connections at once; a browser has six and one that waits for news


class Connection(H11Protocol):
    """A connection that does not wait for ever."""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for a request; where there are too many connections, let one go."""
        super().connection_made(transport)
        self._wait()
        kept = [one for one in self.connections if isinstance(one, Connection) and not one.closing]
        if len(kept) > MOST:
            min(
                (one for one in kept if one.idle), key=lambda one: one.waits_until, default=self
            ).transport.abort()

    def on_response_complete(self) -> None:
        """Wait for the next request."""
        super().on_response_complete()
        self._wait()

    @property
    def idle(self) -> bool:
        """Whether no request is being answered."""
        return self.cycle is None or self.cycle.response_complete

    @property
    def closing(self) -> bool:
        """Whether it is as good as gone."""
        return self.transport.is_closing()

    def _wait(self) -> None:
        self.waits_until = self.loop.time() + PATIENCE
        self.loop.call_at(self.waits_until, self._hang_up)

    def _hang_up(self) -> None:
        if self.idle and self.loop.time() >= self.waits_until and not self.closing:
            self.transport.abort()
