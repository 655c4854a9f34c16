"""Whether what is shipped works where nothing else is, with the oldest releases allowed and the newest.

    python tests/tools/installed/run.py [tests to run with the oldest releases]

Builds the source archive and from that the wheel, with the oldest hatchling allowed, and looks at what the
wheel holds. Installs it in two empty environments. With the newest release of everything, it goes through the
commands and builds samples in an empty folder. With the oldest that pyproject.toml allows and this Python has
wheels of, the tests that call what may have changed between releases are run against what was installed,
as far as they need no package but pytest and hypothesis: an example each, without the laws that try many.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
import zipfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[3]
TAKEN_ALONG = ("tests", "specs", ".ci", "README.md", "pyproject.toml")
NOT_SOURCE = shutil.ignore_patterns("__pycache__", "node_modules", ".*_cache")
# Left out: arithmetic of net3d's own on few functions of numpy, files and processes of the system, tools.
OLD_TESTS = [
    *(
        f"tests/{room}"
        for room in ("spec", "units", "outline", "statics", "checks", "water", "align", "solids")
    ),
    *(f"tests/{room}" for room in ("drawings", "paper", "writers")),
    *(f"tests/commands/test_{name}.py" for name in ("commands", "samples", "loads", "pictures")),
]
PLAIN_TESTS = ("pytest", "pytest-xdist", "hypothesis")
WORK = (
    ("--help",),
    ("new", "backwater"),
    ("check", "backwater.toml"),
    ("marks", "backwater.toml"),
    ("cuts", "backwater.toml", "--json"),
    ("materials", "backwater.toml"),
    ("sheet", "backwater.toml", "--strip", "1"),
    ("loads", "backwater.toml", "--plot", "drag.svg"),
    ("cfd", "backwater.toml", "--sides", "3"),
    ("picture", "backwater.toml", "--view", "cutaway"),
    ("print", "backwater.toml", "--scale", "1:20"),
    ("gauge",),
    ("schema",),
)


def main() -> int:
    """Run everything; the first thing that does not hold ends it."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        wheel = built(home)
        check_contents(wheel)
        newest = environment(home / "newest", [str(wheel)])
        work_with(newest, home / "with-newest")
        oldest = environment(home / "oldest", [str(wheel), *allowed(), "--resolution", "lowest-direct"])
        check_age(oldest)
        run_tests(oldest, home / "tests-alone", sys.argv[1:] or OLD_TESTS)
    return 0


def built(home: Path) -> Path:
    """The wheel, made from the source archive with the oldest release of what makes it."""
    (backend,) = project()["build-system"]["requires"]
    (home / "oldest-backend.txt").write_text(backend.replace(">=", "=="), "utf-8")
    say("source archive and wheel, with " + backend.replace(">=", " "))
    uv("build", "--quiet", "--out-dir", home, "--build-constraints", home / "oldest-backend.txt", ROOT)
    (wheel,) = home.glob("*.whl")
    return wheel


def check_contents(wheel: Path) -> None:
    """The wheel holds every file of the package, its licence and its metadata, and nothing else."""
    names = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}
    package = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "net3d").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    if names != package or not {"net3d/LICENSE", "net3d/py.typed"} <= names:
        raise SystemExit(f"The wheel differs from the package in {sorted(names ^ package)}")


def environment(home: Path, wanted: list[str]) -> Path:
    """The Python of a new environment that holds what is wanted, all of it in wheels."""
    uv("venv", "--quiet", "--python", sys.executable, home)
    python = home / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    uv("pip", "install", "--quiet", "--python", python, "--only-binary", ":all:", *wanted)
    say(f"{home.name}:")
    uv("pip", "freeze", "--python", python)
    uv("pip", "check", "--quiet", "--python", python)
    return python


def allowed() -> list[str]:
    """What is needed to work and for the plain tests; named one by one, since uv takes no others' oldest."""
    names = project()["project"]
    test = [wanted for wanted in names["optional-dependencies"]["test"] if wanted.startswith(PLAIN_TESTS)]
    return [*names["dependencies"], *names["optional-dependencies"]["usdz"], *test]


def check_age(python: Path) -> None:
    """Most of what is named is there in the oldest release allowed; a later Python has no wheels of some."""
    found = [re.match(r"([\w-]+)>=([\d.]+)", wanted) for wanted in allowed()]
    bounds = {match[1]: match[2] for match in found if match}
    code = "import importlib.metadata as m, sys; print(*map(m.version, sys.argv[1:]))"
    versions = subprocess.check_output([python, "-c", code, *bounds], text=True).split()
    later = [
        name
        for (name, bound), version in zip(bounds.items(), versions, strict=True)
        if not same(version, bound)
    ]
    say(f"oldest: {len(bounds) - len(later)} of {len(bounds)} as old as allowed; later: {later}")
    if 2 * len(later) > len(bounds):
        raise SystemExit("The oldest releases were not taken.")


def same(version: str, bound: str) -> bool:
    """Whether two releases are one, 8.1.0 and 8.1."""
    return re.sub(r"(\.0)+$", "", version) == re.sub(r"(\.0)+$", "", bound)


def work_with(python: Path, folder: Path) -> None:
    """Use every command and build samples from an empty folder; the environment stays as it was."""
    folder.mkdir()
    before = installed(python)
    for arguments in WORK[:2]:  # the others read what the second writes
        run(python, "-m", "net3d", *arguments, cwd=folder, stdout=subprocess.DEVNULL)
    specs = sorted((ROOT / "specs").glob("*.toml"))[::4]  # all of them are built by the tests
    asked = [(python, "-m", "net3d", *arguments) for arguments in WORK[2:]]
    asked += [(python.with_name("net3d"), "build", spec) for spec in specs]
    with ThreadPoolExecutor(os.cpu_count()) as at_once:
        list(at_once.map(lambda one: run(*one, cwd=folder, stdout=subprocess.DEVNULL), asked))
    for spec in specs:
        check_build(folder / "outputs" / spec.stem)
    if installed(python) != before:
        raise SystemExit(f"Working with net3d changed {sorted(installed(python) ^ before)}")


def check_build(folder: Path) -> None:
    """A build holds the files that the README lists, none of them empty."""
    listed = {line.split("`")[1] for line in readme_table()}
    written = {path.name for path in folder.iterdir() if path.stat().st_size}
    say(f"{folder.name}: {len(written)} files")
    if written != listed:
        raise SystemExit(f"{folder} lacks or has beyond the README: {sorted(written ^ listed)}")


def readme_table() -> list[str]:
    """The lines of the README's table of a build's files."""
    _, table = (ROOT / "README.md").read_text("utf-8").split("| File | What it is |")
    return [line for line in table.split("\n\n")[0].splitlines() if line.startswith("| `")]


def installed(python: Path) -> set[tuple[Path, int]]:
    """Every file of an environment and when it was written, without Python's own compiled files."""
    files = (path for path in python.parent.parent.rglob("*") if path.is_file() and path.suffix != ".pyc")
    return {(path, path.stat().st_mtime_ns) for path in files}


def run_tests(python: Path, folder: Path, tests: list[str]) -> None:
    """Run the tests that need nothing more, with no source of the package within reach."""
    for name in TAKEN_ALONG:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, folder / name, ignore=NOT_SOURCE)
        else:
            shutil.copy2(source, folder / name)
    run(
        python,
        "-m",
        "pytest",
        *("-p", "tests.tools.installed.needs", "-p", "no:cacheprovider"),
        *("-n", "auto", "--maxprocesses", "4"),
        *("-m", "not slow and not law and not hypothesis and not newest"),
        *tests,
        cwd=folder,
    )


def project() -> dict[str, Any]:
    """What pyproject.toml says."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))


def uv(*arguments: str | Path) -> None:
    """Run uv, which this Python has for its tests."""
    run(sys.executable, "-m", "uv", *arguments)


def run(*command: str | Path, **options: object) -> None:
    """Run a command; when it fails, so does this."""
    outside = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "VIRTUAL_ENV")}
    ended = subprocess.run(command, env=outside, check=False, **options)  # type: ignore[call-overload]
    if ended.returncode:
        raise SystemExit(f"{' '.join(map(str, command))}: ended with {ended.returncode}")


def say(text: str) -> None:
    """Print a line at once."""
    print(text, flush=True)


if __name__ == "__main__":
    sys.exit(main())
