"""For pytest, as a plugin: leaves out the tests that need a package which is not installed."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from hypothesis import settings

ROOT = Path(__file__).resolve().parents[3]
LEFT_OUT = "installed"  # this folder's own checks start environments of their own


def pytest_configure() -> None:
    """Give tests the time they take: old releases of hypothesis measure it on slow machines too."""
    settings.register_profile("installed", deadline=None)
    settings.load_profile("installed")


def pytest_ignore_collect(collection_path: Path) -> bool | None:
    """Leave out a file that cannot be imported here, and a folder whose conftest cannot."""
    if collection_path.name == LEFT_OUT:
        return True
    file = collection_path / "conftest.py" if collection_path.is_dir() else collection_path
    return (file.suffix == ".py" and file.exists() and not has_what_it_needs(file)) or None


@cache
def has_what_it_needs(path: Path) -> bool:
    """Whether every package that a file imports is installed, and what it imports of the tests works too."""
    return all(_is_here(module) for module in _imported(path))


def _imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _is_here(module: str) -> bool:
    top, *_ = module.split(".")
    if top != "tests":
        return find_spec(top) is not None
    path = ROOT.joinpath(*module.split(".")).with_suffix(".py")
    return not path.exists() or has_what_it_needs(path)
