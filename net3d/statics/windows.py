"""Between which lengths of string a throat neither hangs loose nor carries the body's pull."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from net3d.netting.netting import NONE, Floats, Ints, Netting
from net3d.netting.throats import LEAST_STRING
from net3d.plan.plan import Plan
from net3d.statics.equilibrium import Equilibrium, find_equilibrium
from net3d.statics.shape import StringLengths
from net3d.statics.solver import SolverLimits

LOOSE_SHARE, TIGHT_SHARE = 0.01, 0.2  # of the pull, on a throat's strings together
ENOUGH = SolverLimits(gap=1e-9, feasibility=1e-8)  # a length to a sixteenth of an inch


def string_lengths(
    netting: Netting, plan: Plan, loads: Floats, found: Equilibrium
) -> tuple[StringLengths, ...]:
    """String lengths of every throat that take 20 %, what the spec asks and 1 % of the pull.

    All throats' strings are tight, right or loose together, under loads on the knots (n, 3) [N].
    """
    if not plan.throats:
        return ()
    count = len(plan.throats)
    shares = [[TIGHT_SHARE] * count, [LOOSE_SHARE] * count]
    if any(throat.strings.length is not None for throat in plan.throats):
        shares.append([throat.strings.share for throat in plan.throats])
    tight, loose, *asked = [_fitted(netting, plan, loads, some) for some in shares]
    to_tie = asked[0] if asked else _longest(netting, plan, found)
    return tuple(StringLengths(*lengths) for lengths in zip(tight, to_tie, loose, strict=True))


def _fitted(netting: Netting, plan: Plan, loads: Floats, shares: list[float]) -> list[float]:
    """The length of every throat's strings at its share of the pull [m]."""
    fits = np.full(len(netting.bars), NONE)
    for number, strings in enumerate(_strings(netting, plan)):
        fits[strings] = number
    fitted = replace(
        netting,
        bar_fits=fits,
        fit_tensions=np.array(shares) * netting.pull,
        fit_least=np.array([LEAST_STRING * throat.bar for throat in plan.throats]),
    )
    found = find_equilibrium(fitted, loads, ENOUGH)
    return _longest(netting, plan, found)


def _longest(netting: Netting, plan: Plan, found: Equilibrium) -> list[float]:
    return [float(found.rest_lengths[strings].max()) for strings in _strings(netting, plan)]


def _strings(netting: Netting, plan: Plan) -> list[Ints]:
    """The bars of every throat's strings, without those of a line through its tip."""
    parts = [netting.bars_of(throat.strings_part) for throat in plan.throats]
    return [bars[netting.bar_runs[bars] == NONE] for bars in parts]
