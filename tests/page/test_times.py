"""How long a reader waits for the page, on a machine with nothing else to do."""

import time

import pytest

from tests.page.conftest import DESKTOP, one_throat
from tests.page.watching import TALL, Watch

pytestmark = pytest.mark.slow  # not that they take long: other work on the machine would fail them

OPENED_WITHIN = 2.0  # s
UPDATED_WITHIN = 1.5  # s from saving the spec of a net with one throat to the page that shows it


def test_the_page_opens_in_time(offline, page):
    assert offline.open(page.as_uri(), DESKTOP) < OPENED_WITHIN


def test_a_saved_spec_is_shown_in_time(viewer, tmp_path):
    spec = tmp_path / "one.toml"
    spec.write_text(one_throat(), encoding="utf-8")
    watch = Watch(spec, "--port", "0")
    try:
        viewer.open(watch.address[0], TALL)
        start = time.perf_counter()
        spec.write_text(one_throat("Renamed"), encoding="utf-8")
        viewer.wait(lambda: viewer.ask("return document.title === 'Renamed'"))
        assert time.perf_counter() - start < UPDATED_WITHIN
    finally:
        watch.end()
