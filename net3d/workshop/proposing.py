"""A search for nets of what is at hand, in a process of its own: how far it is, and what it found."""

from __future__ import annotations

import json
import multiprocessing
import os
import signal
import threading
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path
from typing import TYPE_CHECKING, Any

from net3d.errors import NetError
from net3d.workshop.solving import warm_context

if TYPE_CHECKING:
    from net3d.propose.search import Proposals

FAULT = "The search ended by itself: it may need more memory than there is. What was found is kept."


class Search:
    """One search. What it told last is read from another thread than its own."""

    def __init__(self, text: str, path: Path, seconds: float) -> None:
        context = warm_context()
        self.said, self.wrong, self.over = "Beginning", False, False
        self.told: dict[str, Any] = {"nets": [], "ruled": [], "ended": ""}
        self.tick = 0  # how often there was something new to be shown
        self._line, other = context.Pipe()
        self._process = context.Process(target=_search, args=(other, text, path, seconds))
        self._process.start()
        other.close()
        threading.Thread(target=self._listen, daemon=True).start()

    def stop(self) -> None:
        """Let it end after the nets that are in work; what was found is kept."""
        with suppress(OSError):
            self._line.send("stop")

    def close(self) -> None:
        """End it at once."""
        self._process.kill()
        self._process.join(5)

    def _listen(self) -> None:
        try:
            while not self.over:
                kind, told = self._line.recv()
                if kind == "said":
                    self.said = told
                elif kind == "failed":
                    self.said, self.wrong, self.over = told, True, True
                else:
                    self.told, self.tick = json.loads(told), self.tick + 1
                    self.over = kind == "over"
        except (EOFError, OSError):
            self.said, self.wrong, self.over = FAULT, True, True


def _search(line: Connection, text: str, path: Path, seconds: float) -> None:
    """The process: it ends with its server, however that ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the server's
    threading.Thread(target=_end_with_server, daemon=True).start()
    from net3d.many import processes  # noqa: PLC0415 - loaded in this process alone
    from net3d.propose import propose  # noqa: PLC0415
    from net3d.spec.wanted import wanted_beside  # noqa: PLC0415

    teller = _Teller(line)
    with suppress(BrokenPipeError):
        try:
            wanted = wanted_beside(text, path)
            with processes() as engine:
                result = propose(wanted, engine, seconds, teller.tell)
            line.send(("over", teller.shown(result)))
        except NetError as error:
            line.send(("failed", str(error)))


class _Teller:
    """Tells what is new, and interrupts the search where that is asked for."""

    def __init__(self, line: Connection) -> None:
        self.line = line
        self.found: tuple[int, ...] = ()
        self.pictures: dict[int, str] = {}  # by the number of the choice

    def tell(self, result: Proposals) -> None:
        if self.line.poll():
            self.line.recv()
            raise KeyboardInterrupt
        self.line.send(("said", result.said))
        found = tuple(one.trial.number for one in result.found)
        if found != self.found:
            self.found = found
            self.line.send(("found", self.shown(result)))

    def shown(self, result: Proposals) -> str:
        """All that is shown of a result, as JSON."""
        from net3d.page.picture import picture_url  # noqa: PLC0415 - loaded in this process alone
        from net3d.propose import words  # noqa: PLC0415

        nets: list[dict[str, str]] = []
        for one, told in zip(result.found, words.sentences(result), strict=True):
            number = one.trial.number
            if number not in self.pictures:
                self.pictures[number] = picture_url(one.design)
            own = {
                "title": f"{result.wanted.form.title} {told['name']}",
                "picture": self.pictures[number],
                "text": words.spec_text(one, result),
            }
            nets.append({**told, **own})
        return json.dumps({"nets": nets, "ruled": words.hindrances(result), "ended": words.ended(result)})


def _end_with_server() -> None:
    if server := multiprocessing.parent_process():
        server.join()
        os.kill(os.getpid(), signal.SIGTERM)
