"""Between which lengths of string a throat neither hangs loose nor carries the body's pull."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.netting.netting import NONE, Floats, Ints, Netting
from net3d.netting.throats import LEAST_STRING
from net3d.plan.plan import Plan
from net3d.statics.equilibrium import Equilibrium, find_equilibrium
from net3d.statics.loads import total_loads
from net3d.statics.profile import body_knots
from net3d.statics.shape import StringLengths
from net3d.statics.solver import SolverLimits

LOOSE_SHARE, TIGHT_SHARE = 0.01, 0.2  # of the pull, on a throat's strings together
HARDLY = 1e-3  # of the pull: strings that pull less hang loose, and say nothing of what they would pull
ENOUGH = SolverLimits(gap=1e-6, feasibility=1e-6, misfit=1e-2, give=3e-4)  # what a string is tied to
NEAR_ENOUGH = replace(ENOUGH, gap=1e-5)  # what pulls much, and hoops, are as near with fewer steps


@dataclass(frozen=True, eq=False)
class Window:
    """Between which lengths strings fit, and how long the body hangs where they take next to nothing."""

    strings: tuple[StringLengths, ...]
    free: Floats  # (hoops,) from each hoop to the next, and from the last to the end [m]


def string_window(netting: Netting, plan: Plan, found: Equilibrium) -> Window:
    """String lengths of every throat that take 20 %, what the spec asks and 1 % of the pull on the bench.

    All throats' strings are tight, right or loose together.
    """
    if not plan.throats:
        return Window((), distances(netting, found))
    count, netting = len(plan.throats), replace(netting, bar_expected=found.tensions)
    bench = netting.pulled(plan.bench_pull)
    tied, loosely = found, [LOOSE_SHARE] * count
    if any(throat.strings.length is not None for throat in plan.throats):
        tied = _fitted(bench, plan, [throat.strings.share for throat in plan.throats], ENOUGH)
    tight = _fitted(bench, plan, [TIGHT_SHARE] * count, NEAR_ENOUGH)
    loose = _fitted(bench, plan, loosely, ENOUGH)
    ends = (_longest(netting, plan, one) for one in (tight, tied, loose))
    lengths = (StringLengths(*some) for some in zip(*ends, strict=True))
    free = loose if bench is netting else _fitted(netting, plan, loosely, NEAR_ENOUGH)
    return Window(tuple(lengths), distances(netting, free))


def no_window(netting: Netting, plan: Plan, found: Equilibrium) -> Window:
    """Strings as they are, where it was not looked for between which lengths they fit."""
    unknown = float("nan")
    lengths = (StringLengths(unknown, length, unknown) for length in _longest(netting, plan, found))
    return Window(tuple(lengths), distances(netting, found))


def distances(netting: Netting, found: Equilibrium) -> Floats:
    """From each hoop to the next, and from the last to the gathered end (hoops,) [m]."""
    return np.diff(found.hoop_positions, append=found.positions[body_knots(netting), 0].max())


def _fitted(netting: Netting, plan: Plan, shares: list[float], limits: SolverLimits) -> Equilibrium:
    """The net with every throat's strings as long as its share of the pull asks."""
    fits, expected = np.full(len(netting.bars), NONE), netting.bar_expected.copy()
    for number, (throat, strings) in enumerate(zip(plan.throats, _strings(netting, plan), strict=True)):
        fits[strings] = number
        asked, own = shares[number] * netting.pull, [*strings, *netting.bars_of(throat.part)]
        pulled = max(float(expected[strings].sum()), HARDLY * netting.pull)
        expected[own] = np.minimum(expected[own] * asked / pulled, asked)
    fitted = replace(
        netting,
        bar_fits=fits,
        bar_expected=expected,
        fit_tensions=np.array(shares) * netting.pull,
        fit_least=np.array([LEAST_STRING * throat.bar for throat in plan.throats]),
    )
    return find_equilibrium(fitted, total_loads(fitted), limits)


def _longest(netting: Netting, plan: Plan, found: Equilibrium) -> list[float]:
    return [float(found.rest_lengths[strings].max()) for strings in _strings(netting, plan)]


def _strings(netting: Netting, plan: Plan) -> list[Ints]:
    """The bars of every throat's strings, without those of a line through its tip."""
    parts = [netting.bars_of(throat.strings_part) for throat in plan.throats]
    return [bars[netting.bar_runs[bars] == NONE] for bars in parts]
