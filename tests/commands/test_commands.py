"""Every command: what it prints, and how it ends."""

import contextlib
import csv
import io
import itertools
import json
import os
import re
import subprocess
import sys

import pytest

import net3d

COMMANDS = [
    "align",
    "build",
    "cfd",
    "check",
    "cuts",
    "gauge",
    "loads",
    "log",
    "marks",
    "materials",
    "mend",
    "new",
    "open",
    "picture",
    "print",
    "propose",
    "reuse",
    "rework",
    "schema",
    "sheet",
    "show",
    "sweep",
    "twines",
    "usdz",
]
TABLES = {"marks.csv", "cuts.csv", "materials.csv"}
FILES = {"net.glb", "net.stl", *TABLES, "sheet.pdf", "picture.png", "side.svg", "page.html", "report.json"}
HEAVY = ["numpy", "clarabel", "pydantic", "pint", "rich", "jinja2", "PIL"]
UNUSED = ["scipy", "numpy.f2py", "numpy.ma", "numpy.polynomial", "numpy.random", "typst", "tomlkit"]
BAD_NET = """
title = "Bad"
units = "in"
[netting]
around = -4
stretched = "3/0"
twine = "#15"
[[hoop]]
diametr = 36
rod = "1/2"
material = "fibreglass"
[sections]
deep = []
[rigging]
pull = "15 lbf"
"""


def modules_after(*arguments):
    """The heavy modules that a command loads, seen from a process of its own."""
    program = (
        "import sys\nfrom net3d.cli import main\n"
        "try:\n    main(sys.argv[1:])\nexcept SystemExit as ending:\n    assert not ending.code\n"
        f"print('loaded:', *[name for name in {HEAVY + UNUSED!r} if name in sys.modules])"
    )
    ended = subprocess.run(
        [sys.executable, "-c", program, *map(str, arguments)], capture_output=True, text=True, check=True
    )
    return set(ended.stdout.splitlines()[-1].split()[1:])


def test_help_names_every_command(run):
    ended = run("--help")
    assert ended.code == 0
    assert sorted(re.findall(r"^  ([a-z]+)  ", ended.out, re.MULTILINE)) == COMMANDS


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_explains_itself(run, command):
    ended = run(command, "--help")
    assert ended.code == 0
    assert "Usage: net3d" in ended.out


def test_help_loads_nothing_heavy():
    assert modules_after("--help") == set()
    assert modules_after("build", "--help") == set()


@pytest.mark.parametrize("command", ["marks", "cuts", "materials"])
def test_bench_tables_need_no_solver(spec, command):
    assert not modules_after(command, spec) & {"scipy", "clarabel"}


@pytest.mark.newest  # older numpy loads more for the same
def test_a_check_loads_the_solver_and_nothing_that_it_does_not_use(spec):
    loaded = modules_after("check", spec)
    assert {"clarabel", "pydantic"} <= loaded
    assert not loaded & {*UNUSED, "pint", "jinja2", "PIL"}


def test_version(run):
    ended = run("--version")
    assert ended.code == 0
    assert net3d.__version__ in ended.out


@pytest.mark.parametrize(
    "arguments", [["bild"], ["build"], ["check", "a.toml", "b.toml"], ["marks", "--sides", "6", "small.toml"]]
)
def test_usage_errors_end_with_2(run, spec, arguments):
    ended = run(*arguments)
    assert ended.code == 2
    assert ended.out == ""
    assert "Usage" in ended.err or "Error" in ended.err


def test_build_writes_every_file(run, spec, tmp_path):
    ended = run("build", spec)
    assert ended.code == 0, ended.err
    assert {path.name for path in (tmp_path / "outputs" / "small").iterdir()} == FILES
    assert "outputs/small" in ended.out.replace("\\", "/")


def test_build_elsewhere(run, spec, tmp_path):
    assert run("build", spec, "-o", tmp_path / "a" / "b").code == 0
    assert {path.name for path in (tmp_path / "a" / "b" / "small").iterdir()} == FILES
    assert not (tmp_path / "outputs").exists()


def test_build_json_is_the_report(run, spec, tmp_path):
    ended = run("build", spec, "--json")
    assert json.loads(ended.out) == json.loads((tmp_path / "outputs/small/report.json").read_text("utf-8"))


def test_more_sides_make_a_larger_model(run, spec, tmp_path):
    run("build", spec, "-o", "six")
    run("build", spec, "-o", "nine", "--sides", "9")
    assert (tmp_path / "nine/small/net.stl").stat().st_size > (tmp_path / "six/small/net.stl").stat().st_size
    assert run("build", spec, "-o", "two", "--sides", "2").code == 2


def test_build_is_the_same_every_time(run, spec, tmp_path):
    run("build", spec, "-o", "one")
    run("build", spec, "-o", "two")
    for name in FILES:
        assert (tmp_path / "one/small" / name).read_bytes() == (tmp_path / "two/small" / name).read_bytes()


def test_check_passes_a_sound_net(run, spec, tmp_path):
    ended = run("check", spec)
    assert ended.code == 0, ended.out
    assert "1 to 2" in ended.out
    assert not (tmp_path / "outputs").exists()


def test_check_fails_a_net_against_the_local_rules_but_build_writes_it(run, small_net, tmp_path):
    path = tmp_path / "long.toml"
    path.write_text(small_net + "\n[limits]\nhoops_max = 2\n", encoding="utf-8")
    assert run("check", path).code == 1
    ended = run("check", path, "--json")
    assert ended.code == 1
    assert "fail" in [finding["level"] for finding in json.loads(ended.out)["findings"]]
    ended = run("build", path)
    assert ended.code == 0
    assert "fail" in ended.out
    assert (tmp_path / "outputs" / "long" / "report.json").exists()


@pytest.mark.parametrize("command", ["build", "check", "marks", "cuts", "materials"])
def test_bad_spec_names_every_problem_and_writes_nothing(run, tmp_path, command):
    path = tmp_path / "bad.toml"
    path.write_text(BAD_NET, encoding="utf-8")
    ended = run(command, path)
    assert ended.code == 2
    assert ended.out == ""
    for line, word in [(5, "around"), (6, "stretched"), (9, "diameter")]:
        assert any(f"line {line}" in text and word in text for text in ended.err.splitlines()), ended.err
    assert "Traceback" not in ended.err
    assert list(tmp_path.iterdir()) == [path]


def test_no_such_spec(run, tmp_path):
    ended = run("build", tmp_path / "none.toml")
    assert ended.code == 2
    assert "none.toml" in ended.err
    assert list(tmp_path.iterdir()) == []


def test_folder_for_a_spec(run, tmp_path):
    ended = run("check", tmp_path)
    assert ended.code == 2
    assert "Traceback" not in ended.err


def test_marks_of_a_96_in_hoop_with_24_meshes_stand_4_in_apart(run, spec, tmp_path):
    """96 in / 24 = 4 in; after 2 1/2 and 5 1/2 meshes the row is half a pitch, 2 in, off (arithmetic)."""
    run("build", spec)
    with (tmp_path / "outputs/small/marks.csv").open(encoding="utf-8", newline="") as file:
        hoops = list(csv.DictReader(file))
    readings = [[float(hoop[f"mark_{number}_in"]) for number in range(1, 25)] for hoop in hoops]
    assert readings[0] == [4.0 * step for step in range(24)]
    assert readings[1] == readings[2] == [4.0 * step + 2.0 for step in range(24)]
    assert [hoop["pitch_in"] for hoop in hoops] == ["4", "4", "4"]
    assert [float(hoop["stepping_error_in"]) for hoop in hoops] == [0, 0, 0]


def test_marks_are_printed_in_full_without_a_terminal(run, spec):
    ended = run("marks", spec)
    assert ended.code == 0
    assert "mark 24" in ended.out
    assert "…" not in ended.out
    assert "reference mark" in ended.out


@pytest.mark.parametrize("command", ["marks", "cuts", "materials"])
def test_tables_as_json(run, spec, command):
    sheet = json.loads(run(command, spec, "--json").out)
    assert sheet["name"] == command
    assert sheet["rows"]


def test_hand_tied_cuts_add_up(run, spec):
    """2 1/2 + 3 + 4 meshes make 9 1/2, 19 rows of 24 knots (arithmetic)."""
    cast_on, *rows = json.loads(run("cuts", spec, "--json").out)["rows"]
    assert cast_on["knots_in_row"] == 24
    assert [(row["from_row"], row["to_row"]) for row in rows] == [(1, 5), (6, 11), (12, 19)]
    assert sum(row["knots"] for row in rows) == 19 * 24


def test_sheet_cuts_name_the_seam_and_the_hot_knife(run, small_net, tmp_path):
    path = tmp_path / "sheet.toml"
    path.write_text(small_net.replace('twine = "#15"', 'twine = "#15"\nmade = "sheet"'), encoding="utf-8")
    out = run("cuts", path).out
    assert "seam" in out
    assert "melts" in out


def test_sheet_cuts_add_up(run, small_net, tmp_path):
    """9 1/2 meshes of 8 in deep and 24 across, stretched (arithmetic)."""
    path = tmp_path / "sheet.toml"
    path.write_text(small_net.replace('twine = "#15"', 'twine = "#15"\nmade = "sheet"'), encoding="utf-8")
    (row,) = json.loads(run("cuts", path, "--json").out)["rows"]
    assert row["stretched_width"] == pytest.approx(24 * 8 * 0.0254)
    assert row["stretched_length"] == pytest.approx(9.5 * 8 * 0.0254)
    assert (row["left_edge"], row["right_edge"]) == ("9 1/2N", "9 1/2N")


def test_materials_add_up(run, spec):
    """A rod bent to a circle is as long as the circle along its middle: 96 - pi/2 in. 2 x 24 x 9.5 knots."""
    rows = {row["item"]: row for row in json.loads(run("materials", spec, "--json").out)["rows"]}
    assert rows["netting twine"]["knots"] == 456
    assert rows["hoop rod"]["pieces"] == 3
    assert rows["hoop rod"]["length"] == pytest.approx((96 - 3.14159265 * 0.5) * 0.0254, rel=1e-8)
    assert rows["bridle legs"]["length"] == pytest.approx(30 * 0.0254)
    assert rows["bridle legs"]["total_length"] == pytest.approx(3 * rows["bridle legs"]["cut_length"])


def test_cautions_stand_with_the_materials(run, spec):
    out = run("materials", spec).out
    assert "local code" in out
    assert "flammable" in out
    assert "life jacket" in out


def test_new_writes_a_spec_that_checks(run, tmp_path):
    ended = run("new", "my net")
    assert ended.code == 0
    assert run("check", tmp_path / "my net.toml").code == 0


def test_new_never_overwrites(run, spec):
    before = spec.read_bytes()
    ended = run("new", "small")
    assert ended.code == 2
    assert "small.toml" in ended.err
    assert spec.read_bytes() == before


@pytest.mark.parametrize(
    "name", ["../up", "/tmp/abs", "a/b", "a\\b", "..", ".", ".hidden", "", 'quo"te', "new\nline", "c:x"]
)
def test_new_refuses_paths_and_odd_names(run, tmp_path, name):
    ended = run("new", "--", name)
    assert ended.code == 2
    assert list(tmp_path.iterdir()) == []


def test_schema_is_json_schema(run):
    schema = json.loads(run("schema").out)
    assert {"netting", "hoop", "sections", "tail", "rigging"} <= set(schema["properties"])


def test_python_dash_m(spec):
    ended = subprocess.run(
        [sys.executable, "-m", "net3d", "marks", str(spec), "--json"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.load(io.StringIO(ended.stdout))["name"] == "marks"


def test_a_terminal_that_lacks_letters_shows_something_else(small_net, tmp_path):
    path = tmp_path / "letters.toml"  # cp1251, Cyrillic, has neither letter
    path.write_text(small_net.replace("Small net", "Flügel ½"), encoding="utf-8")
    ended = subprocess.run(
        [sys.executable, "-m", "net3d", "marks", str(path)],
        capture_output=True,
        check=True,
        env={**os.environ, "PYTHONIOENCODING": "cp1251"},
    )
    assert ended.stdout.startswith(b"Fl?gel ?: marks")


def test_titles_are_printed_as_typed(run, small_net, tmp_path):
    """Square brackets would be styles to the terminal library."""
    path = tmp_path / "title.toml"
    path.write_text(small_net.replace("Small net", "[red]Small[/red] [net]"), encoding="utf-8")
    assert run("marks", path).out.startswith("[red]Small[/red] [net]: marks")


def all_from_terminal(handle):
    """Read while a program runs: a terminal that nobody reads holds 4 kB, then the program waits."""
    read = b""
    with contextlib.suppress(OSError):  # Linux says so when the program has closed the terminal
        while piece := os.read(handle, 4096):
            read += piece
    return read


def shown_on_terminal(command, folder):
    """What a program shows on the terminal of its errors, and what it prints."""
    ours, theirs = os.openpty()
    with subprocess.Popen(command, cwd=folder, stdout=subprocess.PIPE, stderr=theirs) as process:
        os.close(theirs)
        shown = all_from_terminal(ours).decode(errors="replace")
        out = process.stdout.read().decode()
    os.close(ours)
    return shown, out, process.returncode


def left_to_go(shown):
    return [int(count) for count in re.findall(r"(-?\d+) to go", shown)]


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminal there")
def test_progress_is_shown_on_a_terminal_only(spec):
    command = [sys.executable, "-m", "net3d", "build", str(spec)]
    shown, out, code = shown_on_terminal(command, spec.parent)
    assert code == 0
    assert "Working out the shape" in shown
    assert "Working out the shape" not in out
    left = left_to_go(shown)
    assert left == sorted(left, reverse=True)
    assert left[-1] == 1
    ended = subprocess.run(command, cwd=spec.parent, capture_output=True, text=True, check=True)
    assert ended.stderr == ""


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminal there")
def test_progress_counts_the_findings_that_are_left_to_be_set_right(spec):
    limits = "\n[limits]\nhoops_max = 1\nlength_max = 0.1\n"
    spec.write_text(spec.read_text(encoding="utf-8") + limits, encoding="utf-8")
    shown, _, code = shown_on_terminal([sys.executable, "-m", "net3d", "check", str(spec)], spec.parent)
    assert code == 1
    left = [count for count, _ in itertools.groupby(left_to_go(shown))]
    assert left[-2:] == [2, 1]
    assert min(left) == 1
