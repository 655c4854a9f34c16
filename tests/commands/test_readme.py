"""The README's commands are what CI runs, and do what the README says."""

import re
import shlex
from pathlib import Path

from net3d.writers.build_files import BUILD_FILES

ROOT = Path(__file__).parent.parent.parent
README = (ROOT / "README.md").read_text("utf-8")


def blocks(language):
    return [block.strip() for block in re.findall(rf"```{language}\n(.*?)```", README, re.DOTALL)]


def test_ci_runs_the_readme_test_command_last():
    _, test_command = blocks("sh")
    assert (ROOT / ".ci" / "run").read_text("utf-8").strip().endswith(test_command)


def test_the_readme_test_command_runs_everything():
    _, test_command = blocks("sh")
    assert test_command.endswith("python tests/run.py")
    steps = (ROOT / "tests" / "run.py").read_text("utf-8")
    for tool in ("ruff", "format", "mypy", "importlinter", "pytest"):
        assert tool in steps


def test_the_readme_build_command_builds_what_it_lists(run, tmp_path):
    build_command, _ = blocks("sh")
    program, *arguments = shlex.split(build_command.rsplit("&&", 1)[1])
    assert Path(program).name == "net3d"
    arguments[-1] = str(ROOT / arguments[-1])
    ended = run(*arguments)
    assert ended.code == 0, ended.err
    listed = re.findall(r"^\| `([a-z.]+\.[a-z]+)` \|", README, re.MULTILINE)
    written = tmp_path / "outputs" / "backwater-36"
    assert sorted(listed) == sorted(path.name for path in written.iterdir())


def test_the_readme_says_of_every_file_of_a_build_what_the_command_says():
    rows = re.findall(r"^\| `([a-z.]+\.[a-z]+)` \| (.*) \|$", README, re.MULTILINE)
    assert rows == [(file.name, file.about) for file in BUILD_FILES]


def test_the_readme_lists_every_command_and_sample(run):
    commands = re.findall(r"^  ([a-z]+)  ", run("--help").out, re.MULTILINE)
    assert set(commands) == set(re.findall(r"^\| `net3d ([a-z]+)", README, re.MULTILINE))
    for path in (ROOT / "specs").glob("*.toml"):
        assert f"`{path.name}`" in README


def test_the_readme_python_runs(capsys, monkeypatch):
    monkeypatch.chdir(ROOT)
    (program,) = blocks("python")
    exec(compile(program, "README.md", "exec"), {})
    length = float(capsys.readouterr().out.split()[0])
    assert 1.0 < length < 2.5  # four sections of a net 36 in wide, each a little more than a foot long
