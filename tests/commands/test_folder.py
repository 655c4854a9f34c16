"""The output folder: all or none, whatever happens on the way."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from net3d.errors import OutputError
from net3d.writers.folder import output_folder

MOMENTS = Path(__file__).parent.parent / "tools" / "interrupts" / "moments.py"
SLOW_BUILD = """
import sys, time
import net3d.writers.stl
from net3d.cli import main
def wait(*arguments):
    print("waiting", flush=True)
    time.sleep(60)
net3d.writers.stl.write_stl = wait
main(["build", sys.argv[1]])
"""


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def write(parent, text, name="net"):
    with output_folder(parent, name) as folder:
        (folder / "report.json").write_text(text)


def test_a_new_build_replaces_the_old_one_whole(tmp_path):
    with output_folder(tmp_path, "net") as folder:
        (folder / "marks.csv").write_text("old")
    write(tmp_path, "new")
    assert names(tmp_path) == ["net"]
    assert names(tmp_path / "net") == ["report.json"]


def write_half(parent, problem):
    with output_folder(parent, "net") as folder:
        (folder / "report.json").write_text("half")
        raise problem


@pytest.mark.parametrize("problem", [RuntimeError, KeyboardInterrupt, SystemExit])
def test_a_failed_build_leaves_the_last_good_one(tmp_path, problem):
    write(tmp_path, "good")
    with pytest.raises(problem):
        write_half(tmp_path, problem)
    assert names(tmp_path) == ["net"]
    assert (tmp_path / "net" / "report.json").read_text() == "good"


def test_a_failed_first_build_leaves_nothing(tmp_path):
    with pytest.raises(OutputError, match="disk full"), output_folder(tmp_path / "a" / "b", "net"):
        raise OSError(28, "disk full")
    assert names(tmp_path) == []


def test_what_a_killed_build_left_is_cleared_or_put_back(tmp_path):
    dead = tmp_path / f".net.draft-{32 * '0'}"
    dead.mkdir()
    (dead / "net.glb").write_text("half")
    aside = tmp_path / f".net.before-{32 * '0'}"
    aside.mkdir()
    (aside / "report.json").write_text("good")
    with pytest.raises(RuntimeError), output_folder(tmp_path, "net"):
        raise RuntimeError
    assert names(tmp_path) == ["net"]
    assert (tmp_path / "net" / "report.json").read_text() == "good"


def test_a_running_build_is_left_alone(tmp_path):
    with output_folder(tmp_path, "net") as first:
        (first / "report.json").write_text("first")
        write(tmp_path, "second")
        assert (first / "report.json").read_text() == "first"
    assert names(tmp_path) == ["net"]
    assert (tmp_path / "net" / "report.json").read_text() == "first"


def test_nets_of_like_names_leave_each_other_alone(tmp_path):
    with output_folder(tmp_path, "n.t") as first:
        write(tmp_path, "other", "not")
        write(tmp_path, "star", "n[o]t")
        assert first.exists()
    assert names(tmp_path) == ["n.t", "n[o]t", "not"]


def test_a_file_in_the_way_is_refused(tmp_path):
    (tmp_path / "net").write_text("a letter")
    with pytest.raises(OutputError, match="not a folder"):
        write(tmp_path, "new")
    assert (tmp_path / "net").read_text() == "a letter"
    with pytest.raises(OutputError, match="cannot be written"):
        write(tmp_path / "net", "new")


def test_a_link_in_the_way_is_refused(tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "net").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(OutputError, match="link"):
        write(tmp_path, "new")
    assert names(tmp_path) == ["elsewhere", "net"]


def test_files_that_no_build_wrote_are_never_deleted(tmp_path):
    (tmp_path / "net").mkdir()
    (tmp_path / "net" / "photo.jpg").write_text("dear")
    with pytest.raises(OutputError, match=r"photo\.jpg"):
        write(tmp_path, "new")
    assert names(tmp_path / "net") == ["photo.jpg"]


def test_a_folder_named_like_a_builds_file_is_never_deleted(tmp_path):
    (tmp_path / "net" / "picture.png").mkdir(parents=True)
    with pytest.raises(OutputError, match=r"picture\.png"):
        write(tmp_path, "new")
    assert names(tmp_path / "net") == ["picture.png"]


def test_files_that_come_while_a_build_runs_are_never_deleted(tmp_path):
    write(tmp_path, "good")
    with pytest.raises(OutputError, match=r"photo\.jpg"), output_folder(tmp_path, "net"):
        (tmp_path / "net" / "photo.jpg").write_text("dear")
    assert names(tmp_path / "net") == ["photo.jpg", "report.json"]


@pytest.mark.parametrize("name", ["", ".", "..", ".hidden", "a/b"])
def test_names_that_are_no_folder_of_their_own_are_refused(tmp_path, name):
    with pytest.raises(OutputError, match="no name"):
        write(tmp_path, "new", name)
    assert names(tmp_path) == []


def test_output_errors_end_with_2(run, spec, tmp_path):
    (tmp_path / "outputs").write_text("a file")
    ended = run("build", spec)
    assert ended.code == 2
    assert "outputs" in ended.err
    assert "Traceback" not in ended.err


def test_an_interrupted_build_ends_with_130(run, spec, tmp_path, monkeypatch):
    run("build", spec)
    before = (tmp_path / "outputs/small/report.json").read_bytes()

    def interrupt(*arguments):
        raise KeyboardInterrupt

    monkeypatch.setattr("net3d.writers.report.report_text", interrupt)
    ended = run("build", spec)
    assert ended.code == 130
    assert "Traceback" not in ended.err
    assert names(tmp_path / "outputs") == ["small"]
    assert (tmp_path / "outputs/small/report.json").read_bytes() == before


def start_slow_build(spec):
    process = subprocess.Popen(
        [sys.executable, "-c", SLOW_BUILD, str(spec)],
        cwd=spec.parent,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout.readline() == "waiting\n"
    return process


@pytest.mark.skipif(sys.platform == "win32", reason="signals differ")
def test_ctrl_c_leaves_nothing_behind(spec):
    process = start_slow_build(spec)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=60)
    assert process.returncode == 130
    assert "Traceback" not in err
    assert not (spec.parent / "outputs").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="no file locks there")
def test_a_killed_build_is_cleared_by_the_next(run, spec):
    outputs = spec.parent / "outputs"
    process = start_slow_build(spec)
    process.kill()
    process.communicate(timeout=60)
    assert len(names(outputs)) == 1
    assert names(outputs)[0].startswith(".small.draft-")
    assert run("build", spec).code == 0
    assert names(outputs) == ["small"]


@pytest.mark.skipif(sys.platform == "win32", reason="no fork there")
def test_what_is_stopped_before_any_step_leaves_the_old_or_the_new():
    ended = subprocess.run([sys.executable, MOMENTS], capture_output=True, text=True, check=False)
    assert ended.returncode == 0, ended.stderr
    assert ended.stdout.count("stopped before each of") == 10


def test_without_locks_a_build_is_written_as_well(tmp_path, monkeypatch):
    """Some network drives refuse to lock a folder that is open for reading."""

    def refuse(handle, operation):
        raise OSError(9, "Bad file descriptor")

    monkeypatch.setattr("fcntl.flock", refuse)
    write(tmp_path, "old")
    write(tmp_path, "new")
    assert names(tmp_path) == ["net"]
    assert (tmp_path / "net" / "report.json").read_text() == "new"


def test_without_locks_a_draft_is_dead_when_it_rested_for_a_day(tmp_path, monkeypatch):
    monkeypatch.setattr("net3d.writers.drafts.claim", lambda draft: None)
    fresh, old = (tmp_path / f".net.draft-{32 * letter}" for letter in "ab")
    fresh.mkdir()
    old.mkdir()
    os.utime(old, (time.time() - 90_000, time.time() - 90_000))  # 25 h ago
    write(tmp_path, "new")
    assert names(tmp_path) == [fresh.name, "net"]


@pytest.mark.parametrize("name", [".net.draft-plan", ".net.before-2025", ".net.draft-" + 31 * "0"])
def test_hidden_folders_that_no_build_made_are_left_alone(tmp_path, name):
    (tmp_path / name).mkdir()
    write(tmp_path, "new")
    assert names(tmp_path) == sorted([name, "net"])


def full_disk():
    """Let no file grow beyond 20 kB: what a full disk says, in other words."""
    import resource  # noqa: PLC0415 - Windows has none

    resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))


@pytest.mark.skipif(sys.platform == "win32", reason="no such limits there")
@pytest.mark.parametrize("command", [("build",), ("usdz", "-o", "net.usdz"), ("picture", "-o", "net.png")])
def test_a_disk_that_runs_full_is_said_in_a_line_and_leaves_what_was(spec, command):
    (spec.parent / "net.usdz").write_text("old")
    (spec.parent / "net.png").write_text("old")
    write(spec.parent / "outputs", "old", "small")
    before = {path: path.read_bytes() for path in spec.parent.rglob("*") if path.is_file()}
    name, *options = command
    ended = subprocess.run(
        [sys.executable, "-m", "net3d", name, str(spec), *options],
        cwd=spec.parent,
        capture_output=True,
        text=True,
        preexec_fn=full_disk,
        check=False,
    )
    assert ended.returncode == 2
    assert "cannot be written" in ended.stderr
    assert ended.stderr.count("\n") == 1
    assert {path: path.read_bytes() for path in spec.parent.rglob("*") if path.is_file()} == before


def test_two_builds_at_once(spec):
    command = [sys.executable, "-m", "net3d", "build", str(spec)]
    builds = [subprocess.Popen(command, cwd=spec.parent, stdout=subprocess.DEVNULL) for _ in range(2)]
    deadline = time.monotonic() + 60
    assert [build.wait(timeout=max(1.0, deadline - time.monotonic())) for build in builds] == [0, 0]
    assert names(spec.parent / "outputs") == ["small"]
    assert json.loads((spec.parent / "outputs/small/report.json").read_text("utf-8"))["title"] == "Small net"
