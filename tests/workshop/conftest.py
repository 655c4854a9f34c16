"""A folder of nets to work on."""

import json
import re
from http.client import HTTPConnection

import pytest

from tests.page.conftest import driver, viewer  # noqa: F401 - the browser is the page's
from tests.workshop.served import served

NET = """# A net to work on.
title = "Weir net"
units = "in"

[netting]
around    = 24      # meshes
stretched = "8"
twine     = "#15"

[[hoop]]            # the mouth
circumference = 96
rod           = "1/2"
material      = "fibreglass"

[[hoop]]
circumference = "95 1/2"
rod           = "1/2"   # measured
material      = "fibreglass"

[sections]
deep = [2.5]

[tail]
deep = 4

[rigging]
pull   = "15 lbf"
bridle = { legs = 3, length = 30 }   # from the mouth
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "weir.toml").write_text(NET, encoding="utf-8", newline="\n")
    return tmp_path


class Answer:
    """What was answered."""

    def __init__(self, answer):
        self.status_code, self.headers, self.content = answer.status, answer.headers, answer.read()
        self.text = self.content.decode("utf-8", "replace")

    def json(self):
        """What the answer holds."""
        return json.loads(self.content)


class Asker:
    """A page of the workshop, or somebody who says to be one."""

    def __init__(self, port):
        self.port, self.origin = port, f"http://127.0.0.1:{port}"
        secret = re.search('name="secret" content="([^"]+)"', self.get("/").text)[1]
        self.headers = {"X-Secret": secret, "Origin": self.origin}

    def ask(self, method, address, content=None, headers=None):
        """The answer to a request."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=60)
        try:
            connection.request(method, address, content, headers or {})
            return Answer(connection.getresponse())
        finally:
            connection.close()

    def get(self, address, **headers):
        """The answer to a request for something."""
        return self.ask("GET", address, headers=headers)

    def post(self, address, what=None, **headers):
        """The answer to a page that wants something done."""
        return self.ask("POST", address, json.dumps(what or {}), {**self.headers, **headers})


@pytest.fixture
def asker(folder):
    """A server of the folder, on a port of its own."""
    with served(folder) as (_, port):
        yield Asker(port)
