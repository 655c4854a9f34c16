"""How far twine gives: EA rises with what it pulls, ``T / e = A + B T``, so ``T = A e / (1 - B e)``.

The program takes EA as one number a bar. Where the tension is about known that is the law's secant there, and
one solve is enough; where it comes out otherwise, and by what counts, it is solved again with the secant at
what came out. The energy is convex, as the law's is, ``-(A / B) (e + ln(1 - B e) / B)``. Beyond what breaks
the twine nothing is known, and it goes on straight. Source: rows of ``twine_stretch.csv``; energy derived.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from net3d.netting.netting import NONE, Floats, Netting

MOST_ROUNDS = 12  # rods that stretch netting to where it breaks take five, all else one or two
LEAST_SLOPE = 0.1  # a bar that is stretched to where it breaks has three times that


@dataclass(frozen=True, eq=False)
class Guess:
    """What bars pull (m,) [N], as it is taken for a solve, and what came out less what was taken before it.

    A bar under a load pulls that, however stiff it is taken; one that is stretched so far pulls more, the
    stiffer. What comes out against what was taken is a slope a bar, after which the next guess goes.
    """

    pulls: Floats
    last: tuple[Floats, Floats] | None = None  # pulls taken before, and by how much others came out

    def after(self, tensions: Floats) -> Guess:
        """The next one, when these tensions (m,) came out [N]: the secant method, bar by bar."""
        off, slopes = tensions - self.pulls, np.ones_like(tensions)
        if self.last is not None:
            moved, change = self.pulls - self.last[0], self.last[1] - off
            np.divide(change, moved, out=slopes, where=moved != 0.0)
        pulls = self.pulls + off / np.clip(slopes, LEAST_SLOPE, 1.0)
        return Guess(np.maximum(pulls, 0.0), (self.pulls, off))


def straight_at(netting: Netting, pulls: Floats) -> Netting:
    """The net with every bar's EA the secant at what it pulls (m,) [N]; a running line's at its mean."""
    spans = netting.bar_runs != NONE
    runs, count = netting.bar_runs[spans], len(netting.run_lengths)
    pulls = np.minimum(pulls, netting.bar_strengths)
    mean = np.bincount(runs, pulls[spans], count) / np.maximum(np.bincount(runs, minlength=count), 1)
    return replace(
        netting,
        bar_stiffnesses=netting.secants(pulls),
        bar_stiffening=np.zeros_like(pulls),
        run_stiffnesses=netting.run_stiffnesses + netting.run_stiffening * mean,
        run_stiffening=np.zeros_like(mean),
    )


def off_its_law(netting: Netting, straight: Netting, tensions: Floats) -> float:
    """By how much of its length any bar of one secant stretches otherwise than by its law [-].

    Parameters
    ----------
    netting, straight : a net, and as it was taken
    tensions : of its bars (m,) [N]
    """
    off = np.abs(netting.stretches(tensions) - straight.stretches(tensions))
    return float((off / netting.bar_lengths).max(initial=0.0))
