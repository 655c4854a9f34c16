"""Drag over current as it is drawn: a square law, and so a curve that no straight line between points is."""

from types import SimpleNamespace
from xml.etree import ElementTree

import numpy as np
import pytest

from net3d.drawings.axes import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH
from net3d.drawings.drag_plot import drag_plot
from net3d.units import Tape

SVG = "{http://www.w3.org/2000/svg}"


def drawn(currents, factor):
    """The line of a plot through D = factor u^2, as currents and drags, and where its dots stand."""
    rows = [
        SimpleNamespace(
            current=u, drag_low=0.8 * factor * u**2, drag=factor * u**2, drag_high=1.2 * factor * u**2
        )
        for u in currents
    ]
    root = ElementTree.fromstring(drag_plot("A net", Tape("m"), tuple(rows)))
    texts = [text for text in root.findall(f"{SVG}text") if text.get("text-anchor") in ("end", "middle")]
    across = max(float(t.text) for t in texts if t.get("text-anchor") == "middle" and _is_number(t.text))
    up = max(float(t.text) for t in texts if t.get("text-anchor") == "end")
    line = root.find(f"{SVG}polyline").get("points").split()
    places = np.array([list(map(float, place.split(","))) for place in line])
    x = (places[:, 0] - LEFT) / (WIDTH - LEFT - RIGHT) * across
    y = (HEIGHT - BOTTOM - places[:, 1]) / (HEIGHT - TOP - BOTTOM) * up
    return x, y, up


def _is_number(text):
    try:
        float(text)
    except ValueError:
        return False
    return True


@pytest.mark.closed_form
@pytest.mark.parametrize("currents", [(0.3, 0.6, 1.2), (2.0,), (0.25, 2.0)])
def test_the_line_follows_the_square_of_the_current_everywhere(currents):
    x, y, up = drawn(currents, 100.0)
    assert len(x) > 40
    # half a tenth of a drawing unit is how finely places are written
    assert y == pytest.approx(100.0 * x**2, abs=0.002 * up + 0.5)


def test_straight_lines_would_be_off_by_more():
    x, y, _ = drawn((0.6, 1.2), 100.0)
    at = np.interp(0.9, x, y)
    assert at == pytest.approx(81.0, abs=1.0)
    assert (36 + 144) / 2 - at > 8
