"""A net's record: only added to, whole after any tear, with what the net took and what is due."""

import multiprocessing
import sys
from datetime import date
from math import pi

import pytest

from net3d.errors import SpecError
from net3d.spec import parse_spec, read_spec
from net3d.spec.log import KINDS, Entry, entry_text, parse_log, read_log
from net3d.tables.history import history_sheet
from net3d.writers.log import add_entry
from tests.nets import spec_text

NET = spec_text(around=16, diameters=(0.36, 0.36), deep=(6,), legs=3, extra='[[hole]]\nknots = ["5:7"]\n')
FIRST = Entry(date(2024, 3, 1), "brook", "built", "On the old hoops.", {"#15": 400.0, "#24": 38.5})
SECOND = Entry(date(2025, 6, 1), "brook", "mended", 'Hole "1": body, 7:12.', {"#15": 1.25})
THIRD = Entry(date(2025, 7, 1), "brook", "dipped", "", {}, 0.25)

FOURTH = Entry(date(2026, 8, 9), "brook", "set", "At the weir.")


def added(file, *entries):
    for entry in entries:
        add_entry(file, entry)
    return file


def test_what_is_added_is_read_again_and_what_stood_there_stands(tmp_path):
    file = added(tmp_path / "net-log.toml", FIRST)
    before = file.read_bytes()
    added(file, SECOND, THIRD)
    assert file.read_bytes().startswith(before)
    assert read_log(file).of("brook") == (FIRST, SECOND, THIRD)
    assert read_log(file).of("mill") == ()


ROUNDS = 40


def add_in_rounds(file, name, ready):
    """Add an entry a round, at the same moment as others do; from the second on the last one is torn."""
    for number in range(ROUNDS):
        if ready.wait(60) == 0 and number:
            with file.open("ab") as torn:
                torn.write(b"\n[[entry]]\ndate = 20")
        ready.wait(60)
        add_entry(file, Entry(date(2025, 1, 1), "brook", "note", f"{name} {number}"))


@pytest.mark.skipif(sys.platform == "win32", reason="no locks and no fork there")
@pytest.mark.law
def test_two_who_add_at_the_same_moment_lose_nothing(tmp_path):
    """Also where both find a torn entry before theirs, and where there is no record yet."""
    file, processes = tmp_path / "net-log.toml", multiprocessing.get_context("fork")
    ready = processes.Barrier(2)
    adding = [processes.Process(target=add_in_rounds, args=(file, name, ready)) for name in ("one", "other")]
    for process in adding:
        process.start()
    for process in adding:
        process.join(100)
        assert process.exitcode == 0
    kept = read_log(file)
    assert sorted(entry.note for entry in kept.entries) == sorted(
        f"{name} {number}" for name in ("one", "other") for number in range(ROUNDS)
    )
    assert (kept.torn, kept.whole.count("# What was done")) == ("", 1)
    assert [path.name for path in tmp_path.iterdir()] == [file.name]


@pytest.mark.law
def test_a_writing_cut_short_at_any_byte_loses_nothing_that_was_written(tmp_path):
    file = added(tmp_path / "net-log.toml", FIRST, SECOND)
    before, last = file.read_bytes(), entry_text(THIRD).encode()
    for end in range(len(last)):
        file.write_bytes(before + last[:end])
        kept = read_log(file)
        assert kept.entries in {(FIRST, SECOND), (FIRST, SECOND, THIRD)}
        whole = kept.entries
        added(file, FOURTH)
        assert read_log(file).entries == (*whole, FOURTH)
        assert not read_log(file).torn
        assert b"".join(file.read_bytes().split()).count(b"date=2025-06-01") == 1
        for line in last[:end].decode().split("\n"):  # what was torn off is still to be read
            assert line in file.read_text("utf-8")


def test_a_note_is_kept_letter_for_letter():
    odd = Entry(date(2025, 1, 2), "brook", "note", 'A "tab\\" é, # no comment [[entry]] = 1')
    assert parse_log(entry_text(odd)).entries == (odd,)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("this is\nno record\n" + "x\n" * 12, "is no record of a net"),
        ('[[entry]]\ndate = "1"\nnet = "a"\nkind = "set"\nnote = ""\n', "is no day"),
        ('[[entry]]\ndate = 2025-01-01\nnet = "a"\nkind = "sold"\nnote = ""\n', "'sold' is not known"),
        (
            '[[entry]]\ndate = 2025-01-01\nnet = "a"\nkind = "set"\ndip_kg = -1\nnote = ""\n',
            "dip_kg a number",
        ),
    ],
)
def test_what_is_no_record_is_told(text, words):
    with pytest.raises(SpecError, match=words):
        parse_log(text)


@pytest.mark.closed_form
def test_what_the_net_took_adds_up_and_the_bridle_is_due_after_a_year():
    """401.25 m, and 38.5 m; legs that were moved or built in less than a year are not due."""
    spec = parse_spec(NET)
    sheet = history_sheet(spec, (FIRST, SECOND, THIRD), date(2025, 8, 1))
    told = " ".join(sheet.remarks)
    assert "All it took so far: #15 401 m, #24 38.5 m, dip 0.25 kg." in told
    assert "the bridle's 3 legs stand where they stood on 2024-03-01" in told
    moved = Entry(date(2025, 2, 1), "brook", "bridle moved", "")
    assert "Due" not in " ".join(history_sheet(spec, (FIRST, moved), date(2025, 8, 1)).remarks)
    assert "Due" in " ".join(history_sheet(spec, (FIRST, moved), date(2026, 3, 1)).remarks)


def test_the_command_writes_what_was_done_with_what_it_took(run, tmp_path):
    spec = tmp_path / "brook.toml"
    spec.write_text(NET, "utf-8")
    assert run("log", spec, "--kind", "built", "--date", "2024-03-01").code == 0
    assert "Took the [[hole]] out" in run("log", spec, "--mended", "1").out
    assert run("log", spec, "At the mill.", "--kind", "set").code == 0
    built, mended, placed = read_log(tmp_path / "net-log.toml").of("brook")
    assert (built.kind, mended.kind, placed.note) == ("built", "mended", "At the mill.")
    assert mended.note == "Hole 1: body, 5:7."
    # 6 bars of 5 cm and 6 knots of 16 diameters, a twentieth for waste
    (diameter,) = {read_spec(spec).twine.diameter}
    assert mended.twine == pytest.approx({"#15": 1.05 * 6 * (0.05 + 16 * diameter)}, abs=0.01)
    assert sum(built.twine.values()) > 16 * 12 * 2 * 0.05 + 2 * 16 * 2 * pi * 0.01
    assert "bridle" not in run("log", spec, "--json").err
    for wrong in (["--kind", "sold"], ["--mended", "2"], ["--mended", "1", "--kind", "set"]):
        assert run("log", spec, *wrong).code == 2
    assert len(read_log(tmp_path / "net-log.toml").entries) == 3
    assert read_spec(spec).source.history == (built, mended, placed)
    assert set(KINDS) >= {"built", "measured", "set", "mended", "bridle moved", "hoops turned", "dipped"}


def test_a_hole_that_is_mended_is_taken_out_of_the_spec_and_nothing_else_is(run, tmp_path):
    spec = tmp_path / "brook.toml"
    holes = '[[hole]]\nknots = ["5:7"]\n\n[[hole]]  # by the otter\nknots = ["3:4"]\n'
    text = spec_text(around=16, diameters=(0.36, 0.36), deep=(6,), extra=holes)
    spec.write_text(text, "utf-8")
    assert "Took" not in run("log", spec, "--mended", "1", "--leave-hole").out
    assert spec.read_text("utf-8") == text
    assert "Took the [[hole]] out" in run("log", spec, "--mended", "1").out
    left = spec.read_text("utf-8").split("\n")
    assert [line for line in left if line] == [
        line for line in text.replace('[[hole]]\nknots = ["5:7"]\n', "").split("\n") if line
    ]
    assert [entry.note for entry in read_log(tmp_path / "net-log.toml").entries] == ["Hole 1: body, 5:7."] * 2
