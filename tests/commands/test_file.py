"""A single output file: the old one or the new one, whatever stands in the way."""

import os
import stat
import sys
from pathlib import Path

import pytest

from net3d.errors import OutputError
from net3d.writers.file import output_file

posix = pytest.mark.skipif(sys.platform == "win32", reason="modes, links and devices differ")


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def write(path, text, **options):
    with output_file(path, **options) as draft:
        draft.write_text(text)


def write_half(path, problem, **options):
    with output_file(path, **options) as draft:
        draft.write_text("half")
        raise problem


def test_a_new_file_replaces_the_old_one(tmp_path):
    write(tmp_path / "a.svg", "old")
    write(tmp_path / "a.svg", "new")
    assert names(tmp_path) == ["a.svg"]
    assert (tmp_path / "a.svg").read_text() == "new"


@pytest.mark.parametrize("problem", [RuntimeError, KeyboardInterrupt, SystemExit])
def test_a_file_that_fails_leaves_the_last_good_one(tmp_path, problem):
    write(tmp_path / "a.svg", "good")
    with pytest.raises(problem):
        write_half(tmp_path / "a.svg", problem)
    assert names(tmp_path) == ["a.svg"]
    assert (tmp_path / "a.svg").read_text() == "good"


def test_a_full_disk_is_said_and_leaves_nothing(tmp_path):
    with pytest.raises(OutputError, match=r"a\.svg: cannot be written: No space left"):
        write_half(tmp_path / "b" / "c" / "a.svg", OSError(28, "No space left on device"), make_folder=True)
    assert names(tmp_path) == []


def test_a_folder_is_made_where_it_is_asked_for(tmp_path):
    write(tmp_path / "b" / "c" / "a.svg", "new", make_folder=True)
    assert names(tmp_path / "b" / "c") == ["a.svg"]
    with pytest.raises(OutputError, match="cannot be written"):
        write(tmp_path / "d" / "a.svg", "new")
    assert names(tmp_path) == ["b"]


def test_a_folder_in_the_way_is_refused(tmp_path):
    (tmp_path / "a.svg").mkdir()
    with pytest.raises(OutputError, match="cannot be written"):
        write(tmp_path / "a.svg", "new")
    assert names(tmp_path) == ["a.svg"]


@posix
def test_a_link_stays_and_what_it_leads_to_is_replaced(tmp_path):
    (tmp_path / "b").mkdir()
    write(tmp_path / "b" / "a.svg", "old")
    (tmp_path / "link.svg").symlink_to("b/a.svg")
    write(tmp_path / "link.svg", "new")
    assert (tmp_path / "link.svg").is_symlink()
    assert (tmp_path / "b" / "a.svg").read_text() == "new"
    assert names(tmp_path / "b") == ["a.svg"]


@posix
def test_a_file_keeps_who_may_read_it(tmp_path):
    write(tmp_path / "a.svg", "old")
    (tmp_path / "a.svg").chmod(0o640)
    write(tmp_path / "a.svg", "new")
    assert stat.S_IMODE((tmp_path / "a.svg").stat().st_mode) == 0o640


@posix
def test_a_device_and_a_pipe_are_written_to_and_stay():
    device = Path("/dev/null")
    write(device, "new")
    assert device.is_char_device()
    reading, writing = os.pipe()
    write(Path(f"/dev/fd/{writing}"), "new")
    assert os.read(reading, 9) == b"new"
    os.close(reading)
    os.close(writing)
