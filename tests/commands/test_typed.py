"""Names of specs as they are typed, and the corrected copy."""

import json
import re
import shlex

import pytest

from net3d.handbook.table import read_table


@pytest.fixture
def mistyped(spec):
    text = spec.read_text("utf-8")
    spec.write_text(text.replace('twine = "#15"', "twine = #15").replace("[2.5, 3]", "2 1/2, 3"), "utf-8")
    return spec


def test_the_corrected_copy_stands_beside_the_original_and_reads(run, mistyped):
    before = mistyped.read_bytes()
    ended = run("check", mistyped, "--correct")
    assert ended.code == 0, ended.err
    assert 'write twine = "#15"' in ended.out
    assert mistyped.read_bytes() == before
    assert run("cuts", mistyped.with_name("small-corrected.toml")).code == 0


def test_a_copy_is_never_written_over_a_file(run, mistyped):
    copy = mistyped.with_name("small-corrected.toml")
    copy.write_text("mine", "utf-8")
    ended = run("check", mistyped, "--correct")
    assert ended.code == 2
    assert "there already" in ended.err
    assert copy.read_text("utf-8") == "mine"


def test_nothing_is_written_where_nothing_is_mistyped(run, spec):
    ended = run("check", spec, "--correct")
    assert ended.code == 0
    assert "nothing was written" in ended.out
    assert [path.name for path in spec.parent.iterdir()] == ["small.toml"]


def test_what_is_left_to_be_put_right_is_told_with_the_copy(run, mistyped):
    mistyped.write_text(mistyped.read_text("utf-8").replace("around = 24", "arund = 24 meshes"), "utf-8")
    ended = run("check", mistyped, "--correct")
    assert ended.code == 2
    assert "netting.arund" in ended.err


@pytest.mark.parametrize("command", ["cuts", "marks", "materials"])
def test_a_spec_is_found_without_its_ending(run, spec, command):
    assert run(command, spec.with_suffix("")).out == run(command, spec).out


def test_a_spec_without_ending_is_taken_before_one_with_it(run, spec):
    spec.with_suffix("").write_text("units = 3", "utf-8")
    assert run("cuts", spec.with_suffix("")).code == 2


def test_the_command_that_new_prints_can_be_typed(run, tmp_path):
    ended = run("new", "my net")
    arguments = shlex.split(ended.out.partition("then: net3d ")[2])
    assert arguments == ["check", "my net.toml"]
    assert (tmp_path / arguments[1]).is_file()


def test_twines_are_listed_in_inches_or_metric(run, monkeypatch):
    monkeypatch.setenv("COLUMNS", "200")  # wide enough for a line a twine
    # the table's 141 lbf, 1540 tex and 1.39 mm: 141 x 4.448 = 627 N, 1e6 / 1540 = 649 m/kg,
    # 649.35 x 0.45359 / 0.3048 = 966 ft/lb (units: NIST Handbook 44, appendix C, from memory)
    inches, metric = (
        next(line for line in run("twines", *options).out.splitlines() if line.split()[:1] == ["#15"])
        for options in ((), ("--metric",))
    )
    assert {"141", "966"} <= set(inches.split())
    assert {"1.39", "627", "649"} <= set(metric.split())


def test_every_twine_that_is_listed_can_be_named(run):
    listed = json.loads(run("twines", "--json").out)["rows"]
    assert [row["twine"] for row in listed] == [row["name"] for row in read_table("twine")]
    assert all(row["source"] for row in listed)


@pytest.fixture
def crowded(spec):
    """The small net with a note, and so few meshes around that they are pulled flat."""
    spec.write_text(spec.read_text("utf-8").replace("around = 24", "around = 13  # mine"), "utf-8")
    return spec


def test_a_remedy_is_typed_into_a_copy_and_notes_stay(run, crowded):
    before = crowded.read_bytes()
    told = run("check", crowded)
    lines = before.decode("utf-8").splitlines()
    (number,) = (number for number, line in enumerate(lines, start=1) if line.startswith("around"))
    assert re.search(rf"1\) netting\.around = [0-9]+ +\(line {number}\)", told.out)
    assert "net3d check small.toml --try 1" in run("check", "small.toml").out
    ended = run("check", crowded, "--try", "1")
    assert ended.code == 0, ended.err
    copy = crowded.with_name("small-try-1.toml")
    line = next(line for line in copy.read_text("utf-8").splitlines() if line.startswith("around"))
    assert line.endswith("# mine")
    assert crowded.read_bytes() == before
    assert run("check", copy).code == 0
    assert run("check", crowded, "--try", "1").code == 2  # the copy is never written over


def test_remedies_are_told_in_json_with_keys_and_values(run, crowded):
    findings = json.loads(run("check", crowded, "--json").out)["findings"]
    remedies = [remedy for finding in findings for remedy in finding["remedies"]]
    assert remedies[0]["number"] == 1
    assert list(remedies[0]["changes"]) == ["netting.around"]


def test_a_number_that_was_not_told_is_refused(run, spec):
    ended = run("check", spec, "--try", "7")
    assert ended.code == 2
    assert "no remedy 7" in ended.err


@pytest.mark.parametrize("command", ["marks", "cuts", "materials", "check"])
def test_what_is_hardly_meant_is_told_before_the_tables(run, small_net, tmp_path, command):
    path = tmp_path / "thick.toml"
    path.write_text(small_net.replace('rod = "1/2"', "rod = 3", 1), "utf-8")
    ended = run(command, path, "--json")
    assert "In doubt: Hoops 1 to 3: a rod of 3 in on a hoop of 30 9/16 in" in ended.err
    assert json.loads(ended.out)
