"""Between which lengths of string a throat neither hangs loose nor carries the body's pull."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np

from net3d.netting.netting import NONE, Floats, Netting
from net3d.plan.plan import Plan
from net3d.statics.equilibrium import find_equilibrium
from net3d.statics.solver import SolverLimits

LOOSE_SHARE, TIGHT_SHARE = 0.01, 0.2  # of the pull, on a throat's strings together
ENOUGH = SolverLimits(gap=1e-9, feasibility=1e-8)  # a length to a sixteenth of an inch


def string_windows(netting: Netting, plan: Plan, loads: Floats) -> tuple[tuple[float, float], ...]:
    """Shortest and longest string of every throat [m]: those that take 20 % and 1 % of the pull.

    All throats' strings are loose, or tight, together.
    """
    if not plan.throats:
        return ()
    with ThreadPoolExecutor(2) as pool:
        found = pool.map(lambda share: _fitted(netting, plan, loads, share), (TIGHT_SHARE, LOOSE_SHARE))
    return tuple(zip(*found, strict=True))


def _fitted(netting: Netting, plan: Plan, loads: Floats, share: float) -> list[float]:
    """The length of every throat's strings at a share of the pull [m]."""
    fits = np.full(len(netting.bars), NONE)
    for number, throat in enumerate(plan.throats):
        bars = netting.bars_of(throat.strings_part)
        fits[bars[netting.bar_runs[bars] == NONE]] = number
    tensions = np.full(len(plan.throats), share * netting.pull)
    found = find_equilibrium(replace(netting, bar_fits=fits, fit_tensions=tensions), loads, ENOUGH)
    return [float(found.rest_lengths[fits == number].max()) for number in range(len(plan.throats))]
