"""Findings of bowed hoops: each with a net that gives cause for it, one that does not, and where."""

import numpy as np
import pytest

from net3d.checks.bow import slack_runs, tensions_around
from net3d.checks.checks import Level
from net3d.checks.every_check import check
from tests.align.bowed import bowed_net, saddle
from tests.nets import make

KEYS = {"around": 24, "diameters": (0.5, 0.5), "deep": (3,)}
BOWED = [saddle(0.012), saddle(0.012, np.pi / 2)]
SLIGHT = [saddle(0.00002), saddle(0.00002)]


def findings(net):
    shape = net.settled()
    found = check(net.spec, net.plan, net.netting, shape)
    return {finding.code: finding for finding in found if finding.code.startswith("bow-")}


def test_flat_hoops_give_no_such_finding():
    assert not findings(make(**KEYS))


@pytest.mark.parametrize("code", ["bow-slack", "bow-uneven"])
def test_each_is_given_cause_for_and_not(code):
    assert findings(bowed_net(BOWED, **KEYS))[code].level is not Level.OK
    assert findings(bowed_net(SLIGHT, **KEYS))[code].level is Level.OK


def test_gaps_that_no_wave_of_theirs_explains_are_to_be_measured_again():
    # Eight places show waves 2 and 3. Four waves, measured at crests and troughs, are all residual: 5 mm
    # either way, root mean square 5 mm.
    jagged = tuple(0.01 * (place % 2) for place in range(8))
    net = bowed_net([jagged, saddle(0.005, stations=8)], **KEYS)
    by_hoop = {
        finding.where: finding
        for finding in check(net.spec, net.plan, net.netting, net.settled())
        if finding.code == "bow-measured"
    }
    assert by_hoop["hoop 1"].level is Level.CAUTION
    assert by_hoop["hoop 1"].value == pytest.approx(0.005)
    assert "0.005 m" in by_hoop["hoop 1"].message
    assert by_hoop["hoop 2"].level is Level.OK


def test_uneven_pull_points_to_the_command():
    assert "net3d align" in findings(bowed_net(BOWED, **KEYS))["bow-uneven"].message


def test_slack_meshes_are_named_by_the_clock():
    net = bowed_net(BOWED, **KEYS)
    # Mouth side up, hoop 1's crests at 12 and 6 o'clock stand toward the mouth, hoop 2's at 3 and 9: the
    # hoops stand nearest each other at 3 and 9 o'clock, where the netting is slack.
    message = findings(net)["bow-slack"].message
    assert "around 3 o'clock" in message
    assert "around 9 o'clock" in message
    pulls = tensions_around(net.plan, net.plan.sections[0], net.netting, net.settled())
    assert pulls[[0, 11, 12, 23]].min() > 1 > pulls[[5, 6, 17, 18]].max()


@pytest.mark.parametrize("middle", range(12))
def test_a_run_lies_where_its_middle_is(middle):
    slack = [(mesh - 2 * middle + 2) % 24 < 4 for mesh in range(24)]  # meshes of half an hour
    assert slack_runs(slack) == [(4, pytest.approx(middle))]
