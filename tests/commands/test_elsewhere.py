"""Other systems and other terminals: names, encodings and line ends that hold everywhere.

Names: Microsoft, "Naming Files, Paths, and Namespaces". Encodings: what Python does with PYTHONIOENCODING,
PYTHONUTF8 and LC_ALL, and PEP 597's warning where a file is opened in whatever encoding the system has.
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import net3d
from net3d.errors import OutputError
from net3d.writers.names import checked_name

TITLE = "Über ½ Fluß \N{FISH} 漁網"
TERMINALS = {
    "western Windows": {"PYTHONIOENCODING": "cp1252"},
    "no locale": {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
}


@pytest.fixture
def titled(spec):
    spec.write_text(spec.read_text("utf-8").replace("Small net", TITLE), encoding="utf-8")
    return spec


def start(folder, environment, *arguments, options=()):
    """A command in a process of its own."""
    return subprocess.run(
        [sys.executable, *options, "-m", "net3d", *map(str, arguments)],
        cwd=folder,
        env={**os.environ, **environment},
        capture_output=True,
        check=False,
    )


@pytest.mark.parametrize("environment", TERMINALS.values(), ids=TERMINALS.keys())
def test_any_terminal_will_do(titled, environment):
    named = titled.rename(titled.with_name("Fluß \N{FISH}.toml"))
    for arguments in (("build", named), ("check", named, "--all"), ("marks", "nö.toml"), ("-h",)):
        ended = start(titled.parent, environment, *arguments)
        missing = "nö.toml" in arguments
        assert ended.returncode == (2 if missing else 0)
        assert bool(ended.stderr) == missing
        assert b"Traceback" not in ended.stderr
    report = json.loads((titled.parent / "outputs" / named.stem / "report.json").read_text("utf-8"))
    assert report["title"] == TITLE
    printed = start(titled.parent, environment, "check", named, "--json").stdout
    assert json.loads(printed.decode("ascii")) == report


def test_no_file_is_opened_in_whatever_encoding_the_system_has(titled):
    warn = ("-X", "warn_default_encoding", "-W", "always::EncodingWarning")
    own = os.fsencode(Path(net3d.__file__).parent)
    commands = (
        *(
            ("build", titled),
            ("check", titled, "--json"),
            ("loads", titled, "--plot", "drag.svg"),
            ("schema",),
        ),
        *(("cfd", titled), ("sheet", titled, "--strip", 1), ("usdz", titled), ("gauge",), ("new", "other")),
    )
    for arguments in commands:
        ended = start(titled.parent, {}, *arguments, options=warn)
        warned = [line for line in ended.stderr.splitlines() if b"EncodingWarning" in line and own in line]
        assert not warned
        assert ended.returncode == 0


def test_every_text_file_is_utf8_with_its_own_line_ends(titled):
    for arguments in (("build", titled), ("cfd", titled, "-o", "outputs"), ("new", "other")):
        assert start(titled.parent, {"PYTHONIOENCODING": "cp1252"}, *arguments).returncode == 0
    texts = [
        path
        for path in titled.parent.rglob("*")
        if path.suffix in (".csv", ".json", ".html", ".svg", ".txt", ".toml")
    ]
    assert len(texts) == 9
    for path in texts:
        content = path.read_bytes()
        content.decode("utf-8")
        ends = {b"\r\n"} if path.suffix == ".csv" else {b"\n"}  # RFC 4180; the rest as on every system
        found = {b"\r\n" if line.endswith(b"\r\n") else b"\n" for line in content.splitlines(keepends=True)}
        assert found == ends


@pytest.mark.parametrize(
    "name",
    [
        *(
            "con",
            "AUX",
            "nul.v2",
            "Com1",
            "lpt¹",
            "prn .x",
            "CONOUT$",
            "ends.",
            "ends ",
            " starts",
            ".hidden",
        ),
        *(
            "a:b",
            "a*b",
            "a?",
            "a<b",
            "a>b",
            "a|b",
            'a"b',
            "a\\b",
            "a/b",
            "..",
            "",
            "a\nb",
            "\x1b[31m",
            "\u202ea",
        ),
    ],
)
def test_names_that_some_system_does_not_take_are_refused(name):
    with pytest.raises(OutputError, match="no name") as caught:
        checked_name(name)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize(
    "name", ["river", "backwater-36", "console", "com10", "Fluß \N{FISH}", "auxiliary", "a.b"]
)
def test_names_that_every_system_takes(name):
    assert checked_name(name) == name


def test_a_build_without_file_locks(run, spec, monkeypatch):
    """As on Windows, which has none; twice, so that the second takes the first one's place."""
    monkeypatch.setattr("net3d.writers.drafts.sys.platform", "win32")
    for _ in range(2):
        assert run("build", spec).code == 0
    assert [path.name for path in (spec.parent / "outputs").iterdir()] == ["small"]
    assert run("cfd", spec, "-o", "outputs").code == 0
    assert (spec.parent / "outputs" / "small-cfd.stl").exists()


@pytest.mark.parametrize("name", ["aux", "NUL.toml", "com1.v2", "ends..toml"])
def test_no_spec_is_made_that_some_system_does_not_take(run, name, tmp_path):
    ended = run("new", name)
    assert ended.code == 2
    assert "no name" in ended.err
    assert not list(tmp_path.iterdir())


def test_a_build_goes_into_no_folder_that_some_system_does_not_take(run, spec):
    ended = run("build", spec.rename(spec.with_name("aux.toml")))
    assert ended.code == 2
    assert "Windows keeps it for a device" in ended.err


@pytest.mark.parametrize("letters", ["\x1b]0;x\x07", "\u202e", "\r", "\x9b31m"])
def test_a_file_name_steers_no_terminal(run, spec, letters):
    odd = spec.rename(spec.with_name(f"a{letters}b.toml"))
    for arguments in (
        ("check", odd),
        ("build", odd),
        ("picture", odd),
        ("new", f"a{letters}"),
        (f"x{letters}",),
    ):
        ended = run(*arguments)
        assert ended.code == 2
        assert letters not in ended.out + ended.err
        assert "rename" in ended.err
