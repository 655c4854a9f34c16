"""Commands as services and scripts start them: with streams closed, or with nothing to take what is printed.

That an unprinted answer is an error and an unprinted word about a written file is not is common practice of
command lines: what was asked for is done, or the exit code says that it was not.
"""

import os
import subprocess
import sys

import pytest

from tests.commands.test_commands import FILES

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="streams are closed in another way there")

ASKED = [("check",), ("check", "--json"), ("marks",), ("cuts", "--json"), ("materials",), ("loads",)]
WRITES = [("build",), ("picture", "-o", "net.png"), ("sheet",)]


def start(folder, arguments, closed=(), **streams):
    """A command with streams closed by number; what it printed on those that are open."""

    def close():
        for number in closed:
            os.close(number)

    streams = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE, **streams}
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
    return subprocess.run(
        [sys.executable, "-m", "net3d", *map(str, arguments)],
        cwd=folder,
        env=environment,
        preexec_fn=close,
        text=True,
        check=False,
        **streams,
    )


@pytest.mark.parametrize("command", ASKED, ids=" ".join)
def test_an_answer_that_finds_its_output_closed_is_refused_in_a_line(spec, command):
    name, *options = command
    ended = start(spec.parent, (name, spec, *options), closed=(0, 1))
    assert ended.returncode == 2
    assert ended.stderr == "What was asked for cannot be printed: the output is closed\n"


@pytest.mark.parametrize("command", [*ASKED, *WRITES], ids=" ".join)
def test_closed_errors_change_nothing(spec, command):
    name, *options = command
    arguments = (name, spec, *options)
    open_, closed = (start(spec.parent, arguments, numbers) for numbers in ((), (2,)))
    assert (open_.returncode, open_.stderr) == (0, "")
    assert (closed.returncode, closed.stdout) == (open_.returncode, open_.stdout)


@pytest.mark.parametrize("closed", [(1,), (1, 2), (0, 1, 2)], ids=str)
def test_a_build_is_written_whoever_listens(spec, closed):
    ended = start(spec.parent, ("build", spec), closed)
    assert ended.returncode == 0
    assert {path.name for path in (spec.parent / "outputs" / "small").iterdir()} == FILES
    if 2 not in closed:
        assert "Written to outputs/small" in ended.stderr
        assert "Traceback" not in ended.stderr


def test_a_refusal_that_nobody_hears_still_ends_with_2(tmp_path):
    assert start(tmp_path, ("check", "none.toml"), closed=(0, 1, 2)).returncode == 2
    assert start(tmp_path, ("check",), closed=(0, 1, 2)).returncode == 2


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no such device here")
@pytest.mark.parametrize("command", [("check",), ("check", "--json"), ("marks",), ("schema",)], ids=" ".join)
def test_output_that_finds_no_room_is_no_traceback(spec, command):
    name, *options = command
    with open("/dev/full", "w") as full:
        ended = start(spec.parent, (name, *([spec] if name != "schema" else []), *options), stdout=full)
    assert ended.returncode == 2
    assert ended.stderr == "What was asked for cannot be printed: No space left on device\n"


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no such device here")
def test_messages_that_find_no_room_are_no_traceback(spec):
    with open("/dev/full", "w") as full:
        assert start(spec.parent, ("check", "none.toml"), stderr=full).returncode == 2
        assert start(spec.parent, ("check", spec), stderr=full).returncode == 0
