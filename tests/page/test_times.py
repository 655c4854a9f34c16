"""How long a reader waits for the page, on a machine with nothing else to do."""

import pytest

from tests.page.conftest import DESKTOP

pytestmark = pytest.mark.slow  # not that they take long: other work on the machine would fail them

OPENED_WITHIN = 2.0  # s


def test_the_page_opens_in_time(offline, page):
    assert offline.open(page.as_uri(), DESKTOP) < OPENED_WITHIN
