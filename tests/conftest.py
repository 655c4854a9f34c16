"""What tests of several rooms read; facts from outside, counted by source; one worker for the browser."""

from __future__ import annotations

import os
import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.nets import kept_by_run
from tests.solids.nets import net_of_tube, solids_for

BROWSER = Path(__file__).parent / "page"


@pytest.fixture(scope="session")
def small_net():
    return net_of_tube()


@pytest.fixture(scope="session")
def small_solids(small_net):
    return solids_for(small_net)


def pytest_sessionfinish() -> None:
    """What workers kept for each other goes when the process that started them ends."""
    shutil.rmtree(kept_by_run(os.getpid()), ignore_errors=True)


@pytest.hookimpl(tryfirst=True)  # else the one that reads the groups has been here before
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Write the sources of a test's facts on its reports, which come back from every worker."""
    for item in items:
        item.user_properties += [("published", source) for source in _sources(item)]
        if BROWSER in item.path.parents:
            item.add_marker(pytest.mark.xdist_group("browser"))


def _sources(item: pytest.Item) -> Iterator[str]:
    for mark in item.iter_markers("published"):
        source = mark.kwargs.get("source")
        if mark.args or not isinstance(source, str) or len(source) < 5:
            raise pytest.UsageError(f"{item.nodeid}: published(source=...) names where the fact was read")
        yield source


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """``pytest -m published`` tells how many facts from outside hold, by source; each case is one."""
    if "published" not in config.option.markexpr:
        return
    passed = [report for report in terminalreporter.getreports("passed") if report.when == "call"]
    counts = Counter(text for report in passed for key, text in report.user_properties if key == "published")
    terminalreporter.section(f"{counts.total()} facts from outside, of {len(counts)} sources")
    for source, count in sorted(counts.items(), key=lambda entry: (-entry[1], entry[0])):
        terminalreporter.write_line(f"{count:4}  {source}")
