"""A kind of part that the viewer has never heard of: in its own paint, with its own switch."""

from datetime import date

import numpy as np
import pytest

from net3d.page import page_html
from tests.parts.aprons import aproned_design, known, listed, planned


@pytest.fixture(scope="module")
def aproned_page(tmp_path_factory):
    path = tmp_path_factory.mktemp("page") / "aproned.html"
    with known(), planned(), listed():
        path.write_text(page_html(aproned_design(), date(2024, 5, 1)), "utf-8")
    return path


def magenta(viewer):
    """Pixels of the apron's paint, hazed as far away as it may be."""
    red, green, blue = np.asarray(viewer.net(), int).transpose(2, 0, 1)
    return int((np.minimum(red, blue) - green > 60).sum())


def test_the_viewer_draws_and_hides_a_kind_of_its_own(offline, aproned_page):
    offline.open(aproned_page.as_uri())
    assert offline.complaints() == []
    assert magenta(offline) > 50
    offline.click("#parts input[value=apron-1]")
    assert magenta(offline) == 0
