"""Numbers that findings advise: the most, the least or the end of what does, and not one beyond it."""

import re
from dataclasses import replace
from math import pi

import numpy as np
import pytest

from net3d.chain import design
from net3d.checks.bow import tensions_around
from tests.checks.test_advice_on_lines import SIZE, THIN, finding, spec_of
from tests.checks.test_throats import found, judged
from tests.nets import ROD, make
from tests.nets import hoop_diameter as hoop_of

pytestmark = pytest.mark.closed_form


def test_as_many_meshes_are_advised_as_hang_open_enough():
    # 16 meshes of 0.1 m at E1 0.17: N meshes hang at pi (D - 2 rod) / (N 0.1), 0.2 and more do.
    diameter = hoop_of(16, 0.1, 0.17)
    made = make(diameters=(diameter, diameter))
    said = next(f.message for f in design(made.spec).findings if f.code == "hanging-ratio-low")
    most = int(re.search(r"Use (\d+) meshes around or fewer", said)[1])
    girth = pi * (diameter - 2 * ROD)
    assert girth / (most * 0.1) >= 0.2 > girth / ((most + 1) * 0.1)


def test_no_line_thinner_than_six_millimetres_is_advised():
    # A hand hauls no thinner one: common practice, no source.
    assert SIZE.search(finding(spec_of(THIN, pull=100.0), "line-load", "anchor line").message)[1] == "6 mm"


def test_a_bar_at_the_top_counts_to_a_mesh_of_the_row():
    # A hair to the left of the top is a whole turn less a rounding error: still the last of 16 meshes.
    net = make(diameters=(0.32, 0.32), deep=(4,), tail=4)
    shape = net.settled()
    at_top = shape.knot_positions.copy()
    at_top[:, 1:] = [1e-20, 1.0]
    moved = replace(shape, knot_positions=at_top)
    around = tensions_around(net.plan, net.plan.sections[0], net.netting, moved)
    assert around.shape == (16,)
    assert np.flatnonzero(around).tolist() in ([0], [15])


def test_shorter_and_longer_strings_are_told_to_the_ends_of_the_window():
    # That the window is what it is called is checked by fitted strings in test_throats.py.
    message = found("strings-carry-pull", "plain").message
    told = re.search(r"long; ([\d.]+) m shorter .*, ([\d.]+) m longer", message)
    strings = judged("plain")[1].throats[0].strings
    ends = strings.to_tie - strings.tight, strings.loose - strings.to_tie
    assert [float(told[1]), float(told[2])] == pytest.approx(ends, abs=0.0005 + 1e-9)
