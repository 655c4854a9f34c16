"""A hoop that is not round is drawn as it is bent, its marks at equal ways along it."""

import re
from dataclasses import replace

import numpy as np
import pytest

import net3d
from net3d.drawings.hoop import hoop_view
from net3d.outline.outline import Outline
from net3d.outline.polygon import rectangle
from net3d.spec import parse_spec, vary
from tests.drawings.test_drawings import root_of
from tests.nets import spec_text

pytestmark = pytest.mark.closed_form

AROUND = 16


@pytest.fixture(scope="module")
def design():
    spec = parse_spec(spec_text(around=AROUND))
    across = (0.32 + 0.016 * np.cos(2 * np.pi * np.arange(12) / 12)).tolist()
    return net3d.design(vary(spec, {"hoop.1.across": across}))


def drawn(design):
    """Points of the hoop and middles of its marks, from the hoop's middle, y left and z up [mm]."""
    root = root_of(hoop_view(design, 1))
    (ring,) = (one for one in root.findall(".//{*}polygon") if one.get("stroke-width") == "0.9")
    ring = np.array([pair.split(",") for pair in ring.get("points").split()], float)
    middle = (ring.min(axis=0) + ring.max(axis=0)) / 2
    marks = [
        np.array(re.findall(r"[ML]([-0-9.]+) ([-0-9.]+)", path.get("d")), float).mean(axis=0)
        for path in root.findall(".//{*}path")
        if path.get("stroke-width") == "0.35" and "A" not in path.get("d")
    ]
    marks = [mark for mark in marks if np.abs(mark - middle).max() < 25]  # the others stand in the key
    return (middle - ring), (middle - np.array(marks))


def nearest(points, ring):
    """How far points are from a closed line through many [mm]."""
    ends = np.roll(ring, -1, axis=0) - ring
    shares = np.sum((points[:, None] - ring) * ends, axis=2) / np.sum(ends**2, axis=1)
    feet = ring + np.clip(shares, 0, 1)[..., None] * ends
    return np.linalg.norm(points[:, None] - feet, axis=2).min(axis=1)


def test_an_oval_hoop_is_drawn_oval(design):
    ring, marks = drawn(design)
    # Diameters of 0.336 and 0.304 m: their ratio on the paper, the longer upright and 48 mm.
    assert np.ptp(ring[:, 1]) == pytest.approx(48.0, abs=0.02)
    assert np.ptp(ring[:, 1]) / np.ptp(ring[:, 0]) == pytest.approx(0.336 / 0.304, rel=2e-3)
    assert len(marks) == AROUND
    assert nearest(marks, ring).max() < 0.02


def test_a_frame_is_drawn_with_its_corners(design):
    """Marks of 16 at equal ways around a square of sharp corners: five on each side, corners among them."""
    hoop = replace(design.plan.hoops[0], outline=Outline(rectangle(0.3, 0.3, 0.0)))
    framed = replace(design, plan=replace(design.plan, hoops=(hoop, *design.plan.hoops[1:])))
    ring, marks = drawn(framed)
    half = 24.0 / np.sqrt(2)
    assert np.abs(ring).max(axis=1) == pytest.approx(half, abs=0.02)
    steps = half * np.linspace(-1, 1, 5)
    wanted = {(x, y) for x in steps for y in steps if half - 1e-9 < max(abs(x), abs(y))}
    apart = np.linalg.norm(np.array(sorted(wanted))[:, None] - marks, axis=2)
    assert len(wanted) == AROUND
    assert apart.min(axis=1).max() < 0.02
