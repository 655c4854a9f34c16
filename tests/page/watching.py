"""net3d watch as a process of its own."""

import os
import re
import signal
import subprocess
import sys
from http.client import HTTPConnection

TALL = (800, 1000)  # the net stays in sight whatever stands above it
PATIENCE = 60  # s: far longer than it takes on a machine with much else to do


class Watch:
    """A server, and how to ask it and end it."""

    def __init__(self, path, *arguments):
        command = [sys.executable, "-m", "net3d", "watch", str(path), "--no-browser", *arguments]
        self.process = subprocess.Popen(
            command,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )
        self.said = []
        while not self.said or "http" not in self.said[-1]:
            line = self.process.stdout.readline()
            assert line, "".join(self.said)
            self.said.append(line)
        self.address = re.search(r"http://127\.0\.0\.1:(\d+)/", self.said[-1])
        self.port = int(self.address[1])

    def get(self, path, **headers):
        """The answer to a request, and its content."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        connection.request("GET", path, headers=headers)
        answer = connection.getresponse()
        return answer, answer.read()

    def end(self):
        """End it as Ctrl-C does: exit code and what it said last."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
        out, _ = self.process.communicate(timeout=PATIENCE)
        return self.process.returncode, out
