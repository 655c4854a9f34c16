"""Nets whose hoops are bowed: what the makers measured, put into the specs of tests.nets. Lengths in m."""

import numpy as np

from net3d.netting import tie
from net3d.plan import lay_out
from net3d.spec import parse_spec, vary
from tests.nets import Net, spec_text

STATIONS = 12


def saddle(height, start=0.0, waves=2, stations=STATIONS):
    """Heights off the floor of a hoop bowed in some waves, its first crest at the angle ``start``."""
    angles = 2 * np.pi * np.arange(stations) / stations
    heights = height * np.cos(waves * (angles - start))
    return tuple(float(gap) for gap in heights - heights.min())


def bowed_spec(gaps, turns=None, **keys):
    """A spec with these heights at its hoops, turned by so many meshes."""
    spec = parse_spec(spec_text(**keys))
    heights = {f"hoop.{place}.gaps": heights for place, heights in enumerate(gaps, start=1)}
    return vary(
        spec, heights | {f"hoop.{place}.turn": turn for place, turn in enumerate(turns or (), start=1)}
    )


def bowed_net(gaps, turns=None, **keys):
    """The net of such a spec."""
    spec = bowed_spec(gaps, turns, **keys)
    plan = lay_out(spec)
    return Net(spec, plan, tie(spec, plan))
