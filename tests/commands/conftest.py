"""A small net to run commands on, and a way to run them."""

from dataclasses import dataclass

import pytest

from net3d.cli import main

SMALL_NET = """
title = "Small net"
units = "in"

[netting]
around = 24
stretched = "8"
twine = "#15"

[[hoop]]
circumference = 96
rod = "1/2"
material = "fibreglass"
repeat = 3

[sections]
deep = [2.5, 3]

[tail]
deep = 4

[rigging]
pull = "15 lbf"
bridle = { legs = 3, length = 30 }
"""


@dataclass(frozen=True)
class Ended:
    """How a command ended."""

    code: int
    out: str
    err: str


@pytest.fixture
def small_net():
    return SMALL_NET


@pytest.fixture
def spec(tmp_path):
    path = tmp_path / "small.toml"
    path.write_text(SMALL_NET, encoding="utf-8")
    return path


@pytest.fixture
def run(capsys, tmp_path, monkeypatch):
    """Run a command line in an empty folder, as the program would."""
    monkeypatch.chdir(tmp_path)

    def run_command(*arguments):
        with pytest.raises(SystemExit) as ending:
            main([str(argument) for argument in arguments])
        captured = capsys.readouterr()
        return Ended(ending.value.code or 0, captured.out, captured.err)

    return run_command
