"""A kind of part that the viewer has never heard of: in its own paint, with its own switch."""

from datetime import date

import numpy as np
import pytest

from net3d.page import page_html
from tests.parts.wings import known, listed, planned, winged_design


@pytest.fixture(scope="module")
def winged_page(tmp_path_factory):
    path = tmp_path_factory.mktemp("page") / "winged.html"
    with known(), planned(), listed():
        path.write_text(page_html(winged_design(), date(2024, 5, 1)), "utf-8")
    return path


def magenta(viewer):
    """Pixels of the wing's paint, hazed as far away as it may be."""
    red, green, blue = np.asarray(viewer.net(), int).transpose(2, 0, 1)
    return int((np.minimum(red, blue) - green > 60).sum())


def test_the_viewer_draws_and_hides_a_kind_of_its_own(offline, winged_page):
    offline.open(winged_page.as_uri())
    assert offline.complaints() == []
    assert magenta(offline) > 50
    offline.click("#parts input[value=wing-1]")
    assert magenta(offline) == 0
