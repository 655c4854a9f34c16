"""Nets for the tests: short ways to write a spec, tie it and let it settle. Lengths in m, forces in N."""

from __future__ import annotations

import json
import os
import pickle
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import pi
from pathlib import Path

import numpy as np
import pytest

from net3d.chain import Design, design
from net3d.netting import tie
from net3d.netting.netting import Netting
from net3d.plan import lay_out
from net3d.plan.plan import Plan
from net3d.spec import parse_spec, read_spec, vary
from net3d.spec.spec import NetSpec
from net3d.statics import settle
from net3d.statics.shape import Shape

ROD = 0.01
STIFF = 1e5  # twine EA over the pull: stretch of a hundred-thousandth and less
SPECS = Path(__file__).parents[1] / "specs"
SAMPLES = sorted(path.stem for path in SPECS.glob("*.toml"))
# Between them these have all that samples have: two throats, bows, a taper, frames, walls, a pair.
TELLING = ("backwater-36", "double-eel-fyke-0.5", "heart-trap-4x6ft", "old-hoops-30", "tapering-0.75")
OTHERS = tuple(name for name in SAMPLES if name not in TELLING)
EACH_SAMPLE = (*TELLING, *(pytest.param(name, marks=pytest.mark.slow) for name in OTHERS))


def kept_by_run(process: int) -> Path:
    """Where the workers of a run keep samples for each other, by the process that started them."""
    return Path(tempfile.gettempdir()) / f"net3d-samples-{process}"


@cache
def sample(name: str) -> Design:
    """A sample worked out, once for all tests of a run that only read it, whichever worker asks first."""
    if "PYTEST_XDIST_WORKER" not in os.environ:
        return design(read_spec(SPECS / f"{name}.toml"))
    kept = kept_by_run(os.getppid()) / f"{name}.pickle"
    if kept.exists():
        return pickle.loads(kept.read_bytes())
    made = design(read_spec(SPECS / f"{name}.toml"))
    kept.parent.mkdir(exist_ok=True)
    draft = kept.with_suffix(f".{os.getpid()}")
    draft.write_bytes(pickle.dumps(made))
    draft.replace(kept)
    return made


@dataclass(frozen=True, eq=False)
class Net:
    """A net as far as the netting stage."""

    spec: NetSpec
    plan: Plan
    netting: Netting

    def settled(self) -> Shape:
        """Its equilibrium."""
        return settle(self.netting, self.plan)


def spec_text(
    *,
    around: int = 16,
    stretched: float = 0.1,
    diameters: Sequence[float] = (0.32, 0.32),
    deep: Sequence[float] = (4,),
    spacing: Sequence[float | None] = (),
    arounds: Sequence[int] = (),
    throats: Sequence[Mapping[str, object]] = (),
    tail: float | None = None,
    weight: bool = False,
    anchor: str = "tail",
    pull: float = 60.0,
    legs: int | None = None,
    leg: float = 0.5,
    twine: str = "#15",
    rod: float = ROD,
    units: str = "m",
    extra: str = "",
) -> str:
    """A spec as a maker types it; ``diameters`` are outside."""
    hoops = "".join(
        f'[[hoop]]\ndiameter = {diameter!r}\nrod = "{rod!r} m"\nmaterial = "fibreglass"\n'
        for diameter in diameters
    )
    spacings = ", ".join('"free"' if gap is None else repr(gap) for gap in spacing)
    lines = [
        'title = "Test net"',
        f'units = "{units}"',
        f'[netting]\naround = {around}\nstretched = {stretched!r}\ntwine = "{twine}"',
        hoops,
        f"[sections]\ndeep = {list(deep)!r}",
        f"spacing = [{spacings}]" if spacing else "",
        f"around = {list(arounds)!r}" if arounds else "",
        *(throat_text(throat) for throat in throats),
        f"[tail]\ndeep = {tail!r}" if tail else "",
        f'[rigging]\nanchor = "{anchor}"\npull = "{pull!r} N"\nbench_pull = "{pull!r} N"',
        f"bridle = {{ legs = {legs}, length = {leg!r} }}" if legs else "",
        f"[statics]\nweight = {str(weight).lower()}",
        extra,
    ]
    return "\n".join(lines)


def throat_text(keys: Mapping[str, object]) -> str:
    """A throat as a maker types it; ``strings`` is a table in it."""
    return "[[throat]]\n" + "\n".join(f"{key} = {_typed(value)}" for key, value in keys.items())


def _typed(value: object) -> str:
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {_typed(inner)}" for key, inner in value.items()) + " }"
    return json.dumps(value)  # numbers, words, yes and no and lists are typed alike in TOML


def make(**keys: object) -> Net:
    """The net of a spec with these keys."""
    spec = parse_spec(spec_text(**keys))  # type: ignore[arg-type]
    plan = lay_out(spec)
    return Net(spec, plan, tie(spec, plan))


def with_frames(spec: NetSpec, *frames: Mapping[str, object] | None) -> NetSpec:
    """The spec with its first hoops made frames of these keys, as typed; None leaves one round."""
    changes: dict[str, object] = {}
    for place, keys in enumerate(frames, start=1):
        if keys is not None:
            changes[f"hoop.{place}.diameter"] = None
            changes |= {f"hoop.{place}.{key}": value for key, value in keys.items()}
    return vary(spec, changes)


def framed(*frames: Mapping[str, object] | None, **keys: object) -> Net:
    """The net of a spec with these keys, its first hoops made frames; ``lines`` are rib lines."""
    lines = keys.pop("lines", None)
    spec = with_frames(parse_spec(spec_text(**keys)), *frames)  # type: ignore[arg-type]
    spec = spec if lines is None else vary(spec, {"line": lines})
    plan = lay_out(spec)
    return Net(spec, plan, tie(spec, plan))


def each_hoop(spec: NetSpec, **keys: object) -> NetSpec:
    """The spec with these keys, as typed, at every hoop."""
    places = range(1, len(spec.hoops) + 1)
    return vary(spec, {f"hoop.{place}.{key}": value for place in places for key, value in keys.items()})


def stiff(net: Net) -> Net:
    """The same net of twine that hardly stretches."""
    stiffnesses = np.full_like(net.netting.bar_stiffnesses, STIFF * net.netting.pull)
    return replace(net, netting=replace(straight(net).netting, bar_stiffnesses=stiffnesses))


def rigid(netting: Netting) -> Netting:
    """The same net on hoops that do not bend."""
    return replace(netting, carriers=tuple(replace(carrier, bends=None) for carrier in netting.carriers))


def straight(net: Net) -> Net:
    """The same net of twine whose EA does not rise with its pull: Hooke's law, for what is exact by it."""
    bars, runs = net.netting.bar_stiffening, net.netting.run_stiffening
    own = replace(net.netting, bar_stiffening=np.zeros_like(bars), run_stiffening=np.zeros_like(runs))
    return replace(net, netting=own)


def hoop_diameter(around: int, stretched: float, hanging_ratio: float) -> float:
    """Outside diameter of the hoop on which so many meshes hang at a ratio: ``E1 N m / pi + 2 rod``."""
    return hanging_ratio * around * stretched / pi + 2 * ROD
