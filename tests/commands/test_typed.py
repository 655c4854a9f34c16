"""Names of specs as they are typed, and the corrected copy."""

import json
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


def test_twines_are_listed_in_inches_or_metric(run):
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
