"""What a maker waits for: the samples checked and built, a sketch while typing, the river at an angle.

All figures but those of memory are seconds of user time, which other work on the machine does not lengthen.
"""

from __future__ import annotations

from resource import RUSAGE_SELF, getrusage

import net3d
from net3d.chain import loads_of, sketch
from net3d.spec import parse_spec, vary
from net3d.statics import settle_quickly
from net3d.statics.equilibrium import find_equilibrium
from net3d.statics.loads import total_loads
from net3d.statics.solver import SolverLimits
from tests.nets import hoop_diameter, make
from tests.tools.benchmarks.nets import HANGING_RATIO, SIZES, STRETCHED, net_keys, net_text, whole

SAMPLE = "specs/backwater-36.toml"
CURRENTS = tuple(0.25 * step for step in range(1, 9))  # m/s: eight
ANGLE = 60.0  # degrees between river and net: nothing repeats around
ODD = 41  # meshes around, beside 40


def sketched(kind: str) -> float:
    """A change of the mouth's hoop until the net stands anew, once all is loaded.

    Parameters
    ----------
    kind : of net: "plain", without throats and of about as many bars, or the sample
    """
    plain = kind == "plain"
    spec = parse_spec(net_text("weight", "6")) if plain else net3d.read_spec(SAMPLE)
    wider = vary(spec, {"hoop.1.diameter": f"{1.01 * spec.hoops[0].diameter!r} m"})
    sketch(spec)
    start = _user()
    sketch(wider)
    return _user() - start


def at_an_angle() -> float:
    """The loads on the sample with two throats in eight currents at an angle, the net itself known."""
    spec = vary(net3d.read_spec(SAMPLE), {"water.angle": ANGLE})
    made = net3d.design(spec)
    start = _user()
    loads_of(made, CURRENTS)
    return _user() - start


def odd_over_even() -> float:
    """A net with throats of 41 meshes around and odd tips, over one of 40 and even tips."""
    return _settled(ODD) / _settled(ODD - 1)


def _settled(around: int) -> float:
    keys = net_keys("throats", "6")
    tips = [{**throat, "tip": throat["tip"] + around % 2} for throat in keys["throats"]]
    sizes = (hoop_diameter(around, STRETCHED, HANGING_RATIO),) * len(keys["diameters"])
    net = make(**{**keys, "around": around, "diameters": sizes, "throats": tips}, tail=SIZES["6"][3])
    settle_quickly(net.netting, net.plan)
    start = _user()
    settle_quickly(net.netting, net.plan)
    return _user() - start


def one_solve(size: str) -> dict[str, float]:
    """One solve of a net with two throats, and the most memory by then [bytes]."""
    netting = whole("throats", size).netting
    start = _user()
    find_equilibrium(netting, total_loads(netting), SolverLimits())
    return {"seconds": _user() - start, "peak": getrusage(RUSAGE_SELF).ru_maxrss * 1024}


def _user() -> float:
    return getrusage(RUSAGE_SELF).ru_utime
