"""What a maker at the page waits for, through the server: from a change to the shape that is told."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from resource import RUSAGE_SELF, getrusage
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from tests.tools.benchmarks.nets import net_text
from tests.tools.benchmarks.work import SAMPLE
from tests.workshop.served import served

CHANGES = 7  # of the mouth's hoop, forth and back
LONGEST = 120  # s
TICKS = 100  # a second, in which Linux counts what a process took


def changed(kind: str) -> dict[str, float]:
    """From a change of the mouth's hoop to the shape that comes of it, all else of the net worked out before.

    Gives the medians of ``seconds`` and of ``user`` time [s], of the server and of the process that solves;
    and of seconds where the rest of the net before is still at work, ``busy``.

    Parameters
    ----------
    kind : of net: "plain", without throats and of about as many bars, or the sample
    """
    with TemporaryDirectory() as folder:
        net = Path(folder, "net.toml")
        if kind == "plain":
            net.write_text(net_text("weight", "6"), encoding="utf-8")
        else:
            shutil.copy(SAMPLE, net)
        with _served(Path(folder)) as page:
            size = float(re.search(r"\[\[hoop]].*?diameter *= *([0-9.]+)", net.read_text("utf-8"), re.S)[1])
            page.until("whole", 1)
            runs = [page.change(size * (1.0 + number / 1000)) for number in range(1, 2 * CHANGES + 1)]
    settled, busy = runs[:CHANGES], runs[CHANGES:]
    seconds, user = (median(one) for one in zip(*settled, strict=True))
    return {"seconds": seconds, "user": user, "busy": median(wall for wall, _ in busy)}


class _Page:
    """The page of a net, and what its server has used."""

    def __init__(self, port: int, worker: Callable[[], int]) -> None:
        self.port, self.worker, self.changes = port, worker, 0
        html = self._get("/").read().decode()
        self.secret = re.search('name="secret" content="([^"]+)"', html)[1]
        self.news = self._get("/net/net/news")

    def change(self, size: float) -> tuple[float, float]:
        """Change the mouth's hoop: seconds and user time until its shape is told."""
        self.changes += 1
        start, used = perf_counter(), _user(self.worker())
        revision = self._post({"boxes": {"hoop.1.diameter": f"{size:.6g}"}})
        self.until("shape", revision)
        taken = perf_counter() - start, _user(self.worker()) - used
        if self.changes <= CHANGES:
            self.until("whole", revision)
        return taken

    def until(self, stage: str, revision: int) -> None:
        """Read news until a stage of a revision is told."""
        event = ""
        for line in self.news:
            event = line[7:].strip().decode() if line.startswith(b"event: ") else event
            if event in (stage, "failed") and line.startswith(b"data: "):
                told = json.loads(line[6:])
                if event == "failed":
                    raise RuntimeError(told)
                if told["revision"] == revision:
                    return

    def _get(self, address: str) -> HTTPResponse:
        connection = HTTPConnection("127.0.0.1", self.port, timeout=LONGEST)
        connection.request("GET", address)
        return connection.getresponse()

    def _post(self, what: object) -> int:
        connection = HTTPConnection("127.0.0.1", self.port, timeout=LONGEST)
        headers = {"X-Secret": self.secret, "Origin": f"http://127.0.0.1:{self.port}"}
        connection.request("POST", "/net/net/change", json.dumps(what), headers)
        answer = json.loads(connection.getresponse().read())
        return int(answer["revision"])


@contextmanager
def _served(folder: Path) -> Iterator[_Page]:
    with served(folder) as (app, port):
        solver = app.state.pages.shop._solver
        yield _Page(port, lambda: solver._process.pid)


def _user(worker: int) -> float:
    """User time of this process and of the one that solves [s]."""
    fields = Path(f"/proc/{worker}/stat").read_text("ascii").rpartition(")")[2].split()
    return getrusage(RUSAGE_SELF).ru_utime + int(fields[11]) / TICKS
